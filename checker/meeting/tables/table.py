"""Reads a table that a spreadsheet or a pad's display exported as text: whatever separator, columns in any order.

Nothing is guessed that could be read in two ways. A cell that a spreadsheet would run is never a value, and what a
number means is settled by the file or by the mapping, not by the computer's language.
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Mapping, Sequence
from contextlib import suppress
from datetime import datetime, timedelta
from fractions import Fraction

from checker.meeting.record.refusal import refusal
from checker.quantities.folding import fold
from checker.reading.file_bytes import MOST_BYTES
from checker.reading.nearest import did_you_mean
from checker.reading.patterns import pattern
from checker.reading.plain_text import printable, shortened
from checker.reading.problems import InputError, Problems, Span
from checker.reading.quick_dataclasses import dataclass

SEPARATORS = (";", ",", "\t")
MOST_ROWS = 10_000
POINT, COMMA = "point", "comma"

WORKBOOK = (b"PK\x03\x04", b"\xd0\xcf\x11\xe0")
_ONE_MARK = pattern(r"([+-]?)([0-9]+)(?:([.,])([0-9]+))?")
_TWO_MARKS = pattern(r"([+-]?)([0-9]{1,3}(?:([.,])[0-9]{3})+)([.,])([0-9]+)")
_SERIAL = pattern(r"[0-9]{1,6}(?:[.,][0-9]+)?")
_EPOCHS = {"1900": datetime(1899, 12, 30), "1904": datetime(1904, 1, 1)}
"""Day 0 of a spreadsheet's day numbers; the 1900 system counts a 29 February 1900 that never was, hence the 30th."""
_FIRST_SURE_SERIAL = 61


@dataclass(frozen=True, slots=True)
class TextRow:
    """One row: its line in the file, from 1, and its cells."""

    line: int
    cells: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class TextTable:
    """A table as text."""

    name: str
    heading: tuple[str, ...]
    rows: tuple[TextRow, ...]
    lines: tuple[str, ...]

    def span(self, row: TextRow, column: int | None = None) -> Span:
        """The place of a row, or of a cell in it, as far as it can be found in the line."""
        line = self.lines[row.line - 1] if row.line <= len(self.lines) else ""
        start, end = 0, len(line)
        if column is not None:
            at = 0
            for cell in row.cells[: column + 1]:
                found = line.find(cell, at)
                start, at = (found, found + len(cell)) if found >= 0 else (start, at)
            end = max(at, start + 1)
        return Span(self.name, row.line, start + 1, row.line, end + 1, line)

    def columns(
        self, wanted: Mapping[str, str], *, needed: Sequence[str] = (), closed: bool = False
    ) -> dict[str, int]:
        """Where each thing stands: by what it is, the number of its column from 0.

        Args:
            wanted: The heading of each thing.
            needed: Things that must be there.
            closed: Refuse columns that nobody asked for.

        Raises:
            InputError: MT303, with every mistake found.
        """
        problems = Problems()
        here = Span(self.name, 1, 1, 1, len(self.lines[0]) + 1, self.lines[0])
        folded = [fold(heading) for heading in self.heading]
        found: dict[str, int] = {}
        for what, heading in wanted.items():
            number = folded.count(fold(heading))
            if number == 1:
                found[what] = folded.index(fold(heading))
            elif number > 1:
                problems.add("MT303", f"two columns are headed '{heading}'", here, hint="head them apart")
            elif what in needed:
                hint = did_you_mean(heading, self.heading) or f"headings: {', '.join(self.heading)}"
                problems.add("MT303", f"there is no column '{heading}' for {what}", here, hint=hint)
        if closed:
            for heading in self.heading:
                if fold(heading) not in {fold(one) for one in wanted.values()}:
                    hint = did_you_mean(heading, wanted.values()) or f"known: {', '.join(wanted.values())}"
                    problems.add("MT303", f"the column '{heading}' is not known", here, hint=hint)
        problems.raise_if_any()
        return found


def read_table(data: bytes, name: str, *, encoding: str = "", separator: str = "") -> TextTable:
    """A table with one heading line.

    Args:
        data: The file's bytes.
        name: The file's name, for messages.
        encoding: As the mapping states it; "" for UTF-8.
        separator: As the mapping states it; "" to tell it from the heading.

    Raises:
        InputError: MT301 to MT306, with every mistake found.
    """
    if len(data) > MOST_BYTES:
        raise refusal("MT302", f"'{name}' is larger than {MOST_BYTES // 1024**2} MiB")
    text = _decoded(data, name, encoding)
    lines = tuple(text.splitlines())
    start = 0
    if lines and re.fullmatch(r"sep=.", lines[0]):
        separator, start = separator or lines[0][4], 1
    if len(lines) <= start or not lines[start].strip():
        raise refusal("MT302", f"'{name}' has no heading line", "the first line names the columns")
    separator = separator or _separator(lines[start])
    rows = _rows(text, name, separator, lines)[start:]
    heading = tuple(cell.strip() for cell in rows[0].cells)
    body = [row for row in rows[1:] if any(cell.strip() for cell in row.cells)]
    if not body:
        raise refusal("MT302", f"'{name}' has a heading but no rows")
    if len(body) > MOST_ROWS:
        raise refusal("MT302", f"'{name}' has {len(body)} rows; at most {MOST_ROWS} are read")
    return _squared(TextTable(name, heading, tuple(body), lines))


def _decoded(data: bytes, name: str, encoding: str) -> str:
    if data.startswith(WORKBOOK):
        raise refusal(
            "MT301", f"'{name}' is a workbook, not a table as text", "save it as CSV UTF-8 and import that"
        )
    if data.startswith((b"\xff\xfe", b"\xfe\xff")) or b"\0" in data:
        raise refusal("MT301", f"'{name}' is not text in UTF-8", "save it as CSV UTF-8 and import that")
    try:
        return data.removeprefix(b"\xef\xbb\xbf").decode(encoding or "utf-8")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        hint = (
            "save it as CSV UTF-8, or state its encoding in the mapping, for instance encoding: windows-1252"
        )
        span = Span(name, line, 1, line, 1)
        raise refusal("MT301", f"the byte 0x{data[error.start]:02X} is not UTF-8 text", hint, span) from None


def known_encoding(text: str) -> str:
    """The name of an encoding of text, in which plain letters and signs are as in ASCII.

    Raises:
        ValueError: It is none; for there are codecs that are no encodings of text.
    """
    plain = bytes(range(0x20, 0x7F)).replace(b"\\", b"") + rb"\u0041"
    try:
        known = plain.decode(text) == plain.decode("ascii")
        with suppress(UnicodeDecodeError):
            bytes(range(0x80, 0x100)).decode(text)
    except (LookupError, ValueError):
        known = False
    if not known:
        raise ValueError(f"the encoding '{shortened(printable(text))}' is not known")
    return text


def _separator(heading: str) -> str:
    counts = {separator: heading.count(separator) for separator in SEPARATORS}
    best = max(SEPARATORS, key=lambda separator: counts[separator])
    return best if counts[best] else ","


def _rows(text: str, name: str, separator: str, lines: tuple[str, ...]) -> list[TextRow]:
    reader = csv.reader(io.StringIO(text), delimiter=separator, strict=True)
    rows: list[TextRow] = []
    before = 0
    try:
        for cells in reader:
            rows.append(TextRow(before + 1, tuple(cells)))
            before = reader.line_num
    except csv.Error as error:
        line = min(before + 1, len(lines))
        span = Span(name, line, 1, line, len(lines[line - 1]) + 1, lines[line - 1])
        raise refusal(
            "MT306", f"the row cannot be cut into cells: {error}", "look for a stray quotation mark", span
        ) from None
    return rows


def _squared(table: TextTable) -> TextTable:
    """Every row as long as the heading; cells that a spreadsheet would run, and cells too many, are refused."""
    problems = Problems()
    rows: list[TextRow] = []
    width = len(table.heading)
    for row in table.rows:
        if any(cell.strip() for cell in row.cells[width:]):
            message = f"the row has {len(row.cells)} cells, the heading {width}"
            hint = "look for a separator inside a cell, such as a decimal comma, and put that cell in quotation marks"
            problems.add("MT306", message, table.span(row), hint=hint)
        for at, cell in enumerate(row.cells):
            if cell.lstrip().startswith(("=", "@")):
                hint = "export the values, not the formulas, and make sure who wrote this cell"
                message = f"the cell holds a formula, {shortened(printable(cell), 40)!r}, and is not a value"
                problems.add("MT304", message, table.span(row, at), hint=hint)
        rows.append(TextRow(row.line, (row.cells + ("",) * width)[:width]))
    problems.raise_if_any()
    return TextTable(table.name, table.heading, tuple(rows), table.lines)


# -- cells ---------------------------------------------------------------------------------------------------


def read_number(cell: str, span: Span, decimal: str = "") -> str:
    """A number as a plain decimal with a point.

    Args:
        cell: Its text.
        span: Its place.
        decimal: `POINT` or `COMMA` as the mapping states; "" where it does not.

    Raises:
        InputError: MT305 it can be read in two ways; MT306 it is no number.
    """
    text = cell.strip().replace("\u00a0", "").replace("\u202f", "").replace("\u2212", "-")
    both = _TWO_MARKS.fullmatch(text)
    if both is not None and both[3] != both[4]:
        if decimal and both[4] != _mark(decimal):
            raise _two_ways(cell, span, f"the mapping says decimal: {decimal}")
        return f"{both[1]}{both[2].replace(both[3], '')}.{both[5]}".lstrip("+")
    one = _ONE_MARK.fullmatch(text)
    if one is None:
        hint = "a number and nothing else, or a number with its unit"
        raise refusal("MT306", f"'{shortened(printable(cell), 40)}' is no number", hint, span)
    sign, whole, mark, part = one.groups()
    if mark is None:
        return f"{sign}{whole}".lstrip("+")
    if decimal:
        if mark != _mark(decimal):
            raise _two_ways(cell, span, f"the mapping says decimal: {decimal}")
    elif len(part) == 3 and len(whole) <= 3 and whole.lstrip("0"):
        raise _two_ways(cell, span, f"it is {whole}{part} or {whole}.{part}")
    return f"{sign}{whole}.{part}".lstrip("+")


def _mark(decimal: str) -> str:
    return "," if decimal == COMMA else "."


def _two_ways(cell: str, span: Span, why: str) -> InputError:
    hint = f"state decimal: {POINT} or decimal: {COMMA} in the mapping"
    return refusal("MT305", f"'{cell.strip()}' can be read in two ways: {why}", hint, span)


def read_moment(cell: str, span: Span, form: str = "") -> datetime:
    """A day with or without a time.

    Args:
        cell: Its text.
        span: Its place.
        form: As the mapping states it: a pattern such as "%d.%m.%Y %H:%M", "serial 1900" or "serial 1904" for a
            spreadsheet's day number; "" for ISO 8601, or a day number of the 1900 system.

    Raises:
        InputError: MT307.
    """
    text = cell.strip()
    if form.startswith("serial") or (not form and _SERIAL.fullmatch(text)):
        return _from_serial(text, span, form.removeprefix("serial").strip() or "1900")
    try:
        return datetime.strptime(text, form) if form else datetime.fromisoformat(text)
    except ValueError:
        hint = 'state how days are written in the mapping, for instance time: "%d.%m.%Y %H:%M"'
        wanted = f"written as {form}" if form else "of the form 2026-05-03 09:15"
        raise refusal("MT307", f"'{shortened(printable(cell), 40)}' is no day {wanted}", hint, span) from None


def _from_serial(text: str, span: Span, system: str) -> datetime:
    if not _SERIAL.fullmatch(text) or system not in _EPOCHS:
        hint = "time: serial 1900, or serial 1904"
        raise refusal(
            "MT307", f"'{shortened(printable(text), 40)}' is no day number of a spreadsheet", hint, span
        )
    days = Fraction(text.replace(",", "."))
    if system == "1900" and days < _FIRST_SURE_SERIAL:
        raise refusal("MT307", f"'{text}' is a day in 1900", "is it a time without its day?", span)
    seconds = round(days * 86400)
    return _EPOCHS[system] + timedelta(seconds=seconds)
