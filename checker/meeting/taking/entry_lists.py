"""Reads who is entered from a table: the car's file where there is one, else what the table itself states of the car.

Headings are `car`, `name`, `declaration`, `late` and the names of facts, or whatever a mapping says they are. A car
without a file is entered with what its row states; its declaration is handed in later.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

from checker.meeting.record.refusal import refusal
from checker.meeting.session.session import Meeting
from checker.meeting.session.stating import plain_value
from checker.meeting.tables.given import GivenFile
from checker.meeting.tables.mapping import TableMapping
from checker.meeting.tables.table import TextRow, TextTable, read_number, read_table
from checker.quantities.folding import fold
from checker.reading.printer import to_yaml
from checker.reading.problems import Span
from checker.reading.quick_dataclasses import dataclass, replace

COLUMNS = ("car", "name", "declaration", "late")
_YES = ("yes", "true", "late", "x", "1")


@dataclass(frozen=True, slots=True)
class Handed:
    """A declaration that was handed in, or what a list states of a car."""

    file: str
    late: bool = False
    car: str = ""
    """The number that a list says it is of; "" where only the file says."""
    span: Span | None = None
    """Where the list says so."""
    data: bytes | None = None
    """What stands for the file, or came without one; None where the file is to be read."""
    listed: bool = False
    """It is what a list states of a car."""


def things(meeting: Meeting) -> tuple[str, ...]:
    """What a column of an entry list may hold."""
    return (
        *COLUMNS,
        *(name for name in meeting.pack.vocabulary.facts if name not in ("car.number", "car.name")),
    )


Find = Callable[[str, Span], Handed]
"""What the list's word for a declaration stands for, and where the list says it."""


def read_entry_list(
    meeting: Meeting, given: GivenFile, late: bool, mapping: TableMapping | None, find: Find
) -> Iterator[Handed]:
    """Every row of the list.

    Args:
        mapping: What its headings mean; None where they are the names of what they hold.
        find: Finds a declaration that a row names; it may refuse.

    Raises:
        InputError: MT301 to MT306, the table cannot be read.
    """
    how = mapping or TableMapping(columns={})
    given = given.as_text()
    table = read_table(given.data, given.name, encoding=how.encoding, separator=how.separator)
    wanted = dict(how.columns) or {name: name for name in things(meeting)}
    columns = table.columns(wanted, closed=mapping is None)
    if not {"car", "declaration"} & set(columns):
        hint = "head a column `car`, with the racing numbers, or `declaration`, with the cars' files"
        raise refusal(
            "MT303", f"no column of '{given.name}' tells a car", hint, table.span(TextRow(1, table.heading))
        )
    for row in table.rows:
        cells = {name: row.cells[at].strip() for name, at in columns.items()}
        is_late = late or fold(cells.get("late", "")) in _YES
        number = cells.get("car", "")
        if cells.get("declaration"):
            span = table.span(row, columns["declaration"])
            yield replace(find(cells["declaration"], span), late=is_late, car=number, span=span)
        elif not number:
            hint = "write the path of the car's file, or its number"
            raise refusal("MT306", "the row names no declaration and no car", hint, table.span(row))
        else:
            where = f"{Path(given.name).name}, line {row.line}"
            stated = _stated(meeting, cells, table, row, columns, how)
            yield Handed(where, is_late, number, table.span(row), stated, listed=True)


def _stated(
    meeting: Meeting,
    cells: dict[str, str],
    table: TextTable,
    row: TextRow,
    columns: dict[str, int],
    how: TableMapping,
) -> bytes:
    """A declaration of what the row states."""
    car = {"number": cells["car"], **({"name": cells["name"]} if cells.get("name") else {})}
    found: dict[str, Any] = {"formula": meeting.pack.name, "car": car}
    for name, text in cells.items():
        if name in COLUMNS or not text:
            continue
        fact = meeting.pack.vocabulary.facts[name]
        if fact.unit is not None and text[-1].isdigit():
            text = f"{read_number(text, table.span(row, columns[name]), how.decimal)} {fact.unit.name}"
        section, _, key = name.partition(".")
        found.setdefault(section, {})[key] = plain_value(fact, text)
    return to_yaml(found, quoted=[("car", "number")]).encode("utf-8")
