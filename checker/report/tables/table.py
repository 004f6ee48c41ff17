"""Tables for spreadsheets and for programs that read them: rows of cells that know what they are."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from datetime import date
from fractions import Fraction
from typing import Any

from checker.quantities.rounding import round_to
from checker.reading.quick_dataclasses import dataclass
from checker.report.amounts import Data, shown

FINEST = Fraction(1, 10**6)
"""A margin that has no end in decimals is rounded against the car to this; the exact one stands beside it."""


@dataclass(frozen=True, slots=True)
class Clauses:
    """Numbers of clauses: 3.10 is not 3.1, whatever a spreadsheet thinks."""

    numbers: Sequence[str]


Cell = str | bool | int | Fraction | date | Clauses | None
"""What a cell holds: a text is text whatever it looks like, a number is a number, None is an empty cell."""


@dataclass(frozen=True, slots=True)
class Table:
    """A heading and rows of as many cells."""

    heading: Sequence[str]
    rows: Iterable[Sequence[Cell]]


Columns = Mapping[str, Callable[[Any], Cell]]
"""By heading: what stands under it of whatever a row is made from."""


def table_of(columns: Columns, rows: Iterable[object]) -> Table:
    """A row for each of these."""
    return Table(tuple(columns), ([cell(row) for cell in columns.values()] for row in rows))


def clause(number: str | None) -> Clauses | None:
    """The number of one clause; an empty cell where there is none."""
    return Clauses((number,)) if number else None


def margin_cells(margin: Data | None) -> tuple[Cell, Cell, Cell]:
    """A margin of a document as a number, its unit, and exact with its unit: "93/20 kg"."""
    if margin is None or margin["exact"] is None:
        return None, None, None
    exact = Fraction(margin["exact"])
    return decimal(exact), margin["unit"], f"{exact} {margin['unit'] or ''}".strip()


def value_cell(value: Data | None) -> Cell:
    """A value or bound of a document: a day and a number alone as such, all else as it is shown."""
    if value is None:
        return None
    if value["exact"] is not None:
        return shown(value) if value["unit"] else decimal(Fraction(value["exact"]))
    try:
        return date.fromisoformat(value["value"])
    except ValueError:
        return str(value["value"]) or None


def decimal(number: Fraction) -> Fraction:
    """The number itself where it ends in decimals, else the next lower with six of them, so that its sign stays."""
    denominator = number.denominator
    for factor in (2, 5):
        while denominator % factor == 0:
            denominator //= factor
    return number if denominator == 1 else round_to(number, FINEST, "down")
