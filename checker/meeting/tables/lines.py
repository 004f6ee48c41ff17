"""The rows of a table of weighings as readings of the scales; the same table and mapping always give the same."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, datetime
from typing import Any

from checker.meeting.record.car_contents import SCRUTINEERING
from checker.meeting.record.refusal import refusal
from checker.meeting.tables.mapping import LOADS, STATE, TableMapping, read_mapping
from checker.meeting.tables.scale_reading import ScaleReading
from checker.meeting.tables.table import TextRow, TextTable, read_moment, read_number, read_table
from checker.meeting.tables.times import kept
from checker.reading.problems import InputError, Problems, Span
from checker.reading.quick_dataclasses import dataclass
from checker.reading.strict_yaml import parse_document


@dataclass(frozen=True, slots=True)
class TableLine:
    """One row as a reading, with its place."""

    reading: ScaleReading
    span: Span


def read_lines(data: bytes, name: str, mapping_data: bytes, mapping_name: str, on: date) -> list[TableLine]:
    """Every row of a table as a reading.

    Args:
        data: The table.
        name: Of its file.
        mapping_data: How to read it.
        mapping_name: Of that file.
        on: The day of the meeting, which rows that tell a day must be of.

    Raises:
        InputError: With every mistake found (MT1xx, MT251, MT3xx).
    """
    mapping = read_mapping(parse_document(mapping_data, mapping_name, "MT"))
    table = read_table(data, name, encoding=mapping.encoding, separator=mapping.separator)
    return _Lines(table, mapping, on).read()


class _Lines:
    """Reads the rows of a table as readings; mistakes are collected."""

    def __init__(self, table: TextTable, mapping: TableMapping, on: date) -> None:
        self._table = table
        self._mapping = mapping
        self._on = on
        self._problems = Problems()
        self._columns = table.columns(mapping.columns, needed=("car", *_needed_loads(mapping)))

    def read(self) -> list[TableLine]:
        found: list[TableLine] = []
        seen: dict[tuple[str, ...], int] = {}
        for row in self._table.rows:
            if row.cells in seen:
                message = f"the row is the same as that of line {seen[row.cells]}"
                hint = "take it out if it is the same weighing; two weighings are never alike in everything"
                self._problems.add("MT310", message, self._table.span(row), hint=hint)
                continue
            seen[row.cells] = row.line
            try:
                found.append(self._line(row))
            except InputError as error:
                self._problems.found += error.problems
        self._problems.raise_if_any()
        return found

    def _line(self, row: TextRow) -> TableLine:
        cells = {thing: row.cells[at].strip() for thing, at in self._columns.items()}
        span = self._table.span(row)
        if not cells["car"]:
            raise refusal("MT306", "the row names no car", "write its racing number", span)
        loads = {
            thing: self._amount(
                cells[thing], self._mapping.load_unit, self._table.span(row, self._columns[thing])
            )
            for thing in LOADS
            if cells.get(thing)
        }
        state: dict[str, Any] = {thing: self._mapping.meaning(thing, cells.get(thing, "")) for thing in STATE}
        if state["fuel"]:
            place = self._table.span(row, self._columns["fuel"])
            state["fuel"] = self._amount(state["fuel"], self._mapping.fuel_unit, place)
        for thing, text in self._mapping.fixed.items():
            if thing in STATE:
                state[thing] = text
        occasion = cells.get("occasion") or self._mapping.fixed.get("occasion", SCRUTINEERING)
        time = self._time(row, cells)
        reading = ScaleReading(
            car=cells["car"],
            loads=loads,
            occasion=occasion,
            **state,
            again=cells.get("again", ""),
            source=f"{self._table.name}, line {row.line}"
            + (f", {time.isoformat(timespec='seconds')}" if time else ""),
            taken=kept(time, self._mapping.zone) if time else "",
        )
        return TableLine(reading, span)

    def _amount(self, cell: str, unit: str, span: Span) -> str:
        """An amount with its unit: that in the cell, else that of the mapping."""
        number, _, own = cell.replace("\u00a0", " ").rpartition(" ")
        if number and own and not own[0].isdigit():
            return f"{read_number(number, span, self._mapping.decimal)} {own}"
        return f"{read_number(cell, span, self._mapping.decimal)} {unit}"

    def _time(self, row: TextRow, cells: Mapping[str, str]) -> datetime | None:
        """When the row says it was weighed, which is of this meeting's day."""
        if not cells.get("time"):
            return None
        span = self._table.span(row, self._columns["time"])
        moment = read_moment(cells["time"], span, self._mapping.time)
        if moment.date() != self._on:
            message = f"the row is of {moment.date().isoformat()}, the meeting of {self._on.isoformat()}"
            raise refusal("MT307", message, "import this meeting's rows only", span)
        return moment


def _needed_loads(mapping: TableMapping) -> tuple[str, ...]:
    return tuple(thing for thing in mapping.columns if thing in LOADS)
