"""A table as CSV, in which every reader finds what was put in: no text is run, or taken for a number or a day.

A text that a spreadsheet or a program would take for something else gets an apostrophe before it, the sign that
spreadsheets know for "what follows is text". Clauses are called so, "clause 3.10", for a lone 3.10 is 3.1 to them all.
"""

from __future__ import annotations

import csv
import io
import re
import unicodedata
from collections.abc import Iterator, Mapping
from datetime import date
from fractions import Fraction

from checker.reading.patterns import pattern
from checker.reading.plain_text import printable
from checker.reading.quick_dataclasses import dataclass
from checker.report.tables.table import Cell, Clauses, Table


@dataclass(frozen=True, slots=True)
class Dialect:
    """How a table is written for one kind of reader."""

    delimiter: str = ","
    point: str = "."
    mark: str = ""
    """What the file begins with; Excel reads UTF-8 only behind a byte order mark."""


DIALECTS: Mapping[str, Dialect] = {
    "programs": Dialect(),
    "excel": Dialect(mark="\ufeff"),
    "excel-comma": Dialect(";", ",", "\ufeff"),
}
"""By for whom; the last is for machines set to decimal commas, whose Excel parts cells by semicolons."""

_RUNS = ("=", "+", "-", "@", "\t", "\r", "\n", "\uff1d", "\uff0b", "\uff0d", "\uff20")
"""How a cell begins that some spreadsheet runs; the last four are the same signs in full width."""
_PLAIN_NUMBER = pattern(r"0|[1-9][0-9]{0,14}")
"""What stays as it is where it is taken for a number: a racing number."""
_MONTH = (
    "(?:jan(?:uary)?|feb(?:ruary)?|mar(?:ch)?|apr(?:il)?|may|june?|july?|aug(?:ust)?|sept?(?:ember)?|oct(?:ober)?"
    "|nov(?:ember)?|dec(?:ember)?)"
)
_READ_OTHERWISE = pattern(
    rf"(?=.*\d)(?:[\d\s.,:;/'%$£€¥()+\-–_#]|[ex])+(?:[ap]m)?|\d*\W*{_MONTH}\W*\d+\W*\d*|\d+\W*{_MONTH}\W*\d*"
    r"|0x[0-9a-f]+|true|false|[-+]?nan|null|none|n/?a|[-+]?inf(?:inity)?|<na>|#.*|.*\s|'.*",
    re.IGNORECASE | re.DOTALL,
)
"""Numbers, sums, times, days; truths; what stands for nothing; and what loses a blank or an apostrophe at its end."""


def as_csv(table: Table, dialect: Dialect = DIALECTS["programs"]) -> str:
    """A table as CSV (RFC 4180: CRLF, quotes where needed)."""
    return "".join(csv_lines(table, dialect))


def csv_lines(table: Table, dialect: Dialect = DIALECTS["programs"]) -> Iterator[str]:
    """The same line by line, for a table that is larger than memory."""
    written = io.StringIO(dialect.mark)
    written.seek(0, io.SEEK_END)
    writer = csv.writer(written, delimiter=dialect.delimiter, lineterminator="\r\n")
    writer.writerow([as_text(name) for name in table.heading])
    for row in table.rows:
        yield written.getvalue()
        written.seek(0)
        written.truncate()
        writer.writerow([_written(cell, dialect.point) for cell in row])
    yield written.getvalue()


def _written(cell: Cell, point: str) -> str:
    match cell:
        case None:
            return ""
        case bool():
            return "yes" if cell else "no"
        case int():
            return str(cell)
        case Fraction():
            return _decimals(cell).replace(".", point)
        case date():
            return cell.isoformat()
        case Clauses():
            numbers = ", ".join(cell.numbers)
            return f"clause{'s' if len(cell.numbers) > 1 else ''} {numbers}" if numbers else ""
        case _:
            return as_text(cell)


def seen(text: str) -> str:
    """The text with what cannot be seen as escapes; blanks of every kind and line ends stay."""
    if text.isprintable():
        return text
    return "".join(c if c in "\t\r\n" or unicodedata.category(c) == "Zs" else printable(c) for c in text)


def as_text(text: str) -> str:
    """A text as a cell that nobody takes for anything but this text."""
    if _PLAIN_NUMBER.fullmatch(text):
        return text
    shown = seen(text)
    runs = any(one.lstrip(" \u00a0").startswith(_RUNS) for one in (text, shown))
    return f"'{shown}" if runs or _READ_OTHERWISE.fullmatch(shown) else shown


def _decimals(number: Fraction) -> str:
    """A number that ends in decimals, in full."""
    places = 0
    while (number * 10**places).denominator != 1:
        places += 1
    digits = str(abs(int(number * 10**places))).rjust(places + 1, "0")
    whole, part = (digits[:-places], digits[-places:]) if places else (digits, "")
    return f"{'-' if number < 0 else ''}{whole}{'.' if part else ''}{part}"
