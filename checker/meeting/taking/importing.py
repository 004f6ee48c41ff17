"""Imports a table of weighings: every row is checked before any is recorded, and all are recorded in one go.

What looks wrong but can be read (pads exchanged, loads unlike the car) holds the import up until an official says that
it is to be taken as it is.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime

from checker.meeting.record.contents import SCRUTINEERING, Content, Imported, Weighed
from checker.meeting.record.day import Day
from checker.meeting.record.refusal import refusal
from checker.meeting.record.rows import digest_of
from checker.meeting.session.session import Meeting
from checker.meeting.taking.mapping import LOADS, STATE, TableMapping, read_mapping
from checker.meeting.taking.table import TextRow, TextTable, read_moment, read_number, read_table
from checker.meeting.taking.times import kept
from checker.meeting.taking.weighing import ScaleReading, settle
from checker.quantities.folding import fold
from checker.reading.file_bytes import read_bytes
from checker.reading.problems import InputError, Problem, Problems, Span
from checker.reading.strict_yaml import parse_document

_LOOKS_WRONG = ("MT312", "MT313")


@dataclass(frozen=True, slots=True)
class ImportedRows:
    """What an import recorded."""

    readings: tuple[Weighed, ...]
    warnings: tuple[Problem, ...]


@dataclass(frozen=True, slots=True)
class _Line:
    """One row as a reading, with its place."""

    reading: ScaleReading
    span: Span


def import_weighings(
    meeting: Meeting, file: str, mapping_file: str, by: str, *, as_it_is: bool = False, again: str = ""
) -> ImportedRows:
    """Record the weighings of a table; on disk when this returns.

    Args:
        meeting: Open for work.
        file: The table.
        mapping_file: How to read it.
        by: Initials of the official.
        as_it_is: Record also what looks wrong.
        again: Why cars of the table that have been weighed already are weighed anew; "" where they are not.

    Raises:
        InputError: With every mistake of every row (MT210, MT251, MT3xx, RDxxx): then nothing was recorded.
    """
    data, mapping_data = read_bytes(file, "MT"), read_bytes(mapping_file, "MT")
    mapping = read_mapping(parse_document(mapping_data, mapping_file, "MT"))
    table = read_table(data, file, encoding=mapping.encoding, separator=mapping.separator)
    lines = _Lines(table, mapping, meeting.on).read()
    found: list[ImportedRows] = []

    def decide(day: Day) -> list[Content]:
        _refuse_again(day, data, file)
        contents, warnings = _settled(meeting, day, _anew(day, lines, again), as_it_is)
        found[:] = [ImportedRows(tuple(contents), tuple(warnings))]
        head = Imported(table.name, digest_of(data), digest_of(mapping_data), len(contents))
        return [head, *contents]

    meeting.record(by, decide, [data, mapping_data])
    return found[0]


def _anew(day: Day, lines: Sequence[_Line], again: str) -> list[_Line]:
    """The rows, with the reason on the first of every car that has been weighed on that occasion already."""
    found: list[_Line] = []
    begun: set[tuple[str, str]] = set()
    for line in lines:
        reading = line.reading
        car, key = day.car(reading.car), (fold(reading.car), reading.occasion)
        if again and key not in begun and car is not None and car.weighings(reading.occasion):
            line = replace(line, reading=replace(reading, again=reading.again or again))
        begun.add(key)
        found.append(line)
    return found


def _refuse_again(day: Day, data: bytes, file: str) -> None:
    for record in day.imports:
        if record.content.sha256 == digest_of(data):
            message = (
                f"'{file}' was imported before, as entry {record.number} ({record.content.rows} weighings)"
            )
            raise refusal("MT311", message, "import a file with new weighings only")


def _settled(
    meeting: Meeting, day: Day, lines: Sequence[_Line], as_it_is: bool
) -> tuple[list[Weighed], list[Problem]]:
    """Every row as it will be recorded, each on the state that the rows before it leave.

    Raises:
        InputError: With the mistakes of all rows.
    """
    problems = Problems()
    warnings: list[Problem] = []
    contents: list[Weighed] = []
    cars = dict(day.cars)
    for line in lines:
        trial = replace(day, cars=cars)
        try:
            settled = settle(meeting, trial, line.reading)
        except InputError as error:
            for one in error.problems:
                problems.add(one.code, one.message, line.span, hint=one.hint)
            continue
        for one in settled.warnings:
            warnings.append(replace(one, span=line.span))
        contents.append(settled.content)
        key = fold(settled.content.car)
        cars[key] = cars[key].trial(trial.number + 1, settled.content)
    doubtful = [one for one in warnings if one.code in _LOOKS_WRONG]
    if doubtful and not as_it_is:
        hint = "correct the table; or, if that is what was shown, import it as it is"
        for one in doubtful:
            problems.add(one.code, one.message, one.span, hint=f"{one.hint}; {hint}")
    problems.raise_if_any()
    return contents, warnings


class _Lines:
    """Reads the rows of a table as readings; mistakes are collected."""

    def __init__(self, table: TextTable, mapping: TableMapping, on: date) -> None:
        self._table = table
        self._mapping = mapping
        self._on = on
        self._problems = Problems()
        self._columns = table.columns(mapping.columns, needed=("car", *_needed_loads(mapping)))

    def read(self) -> list[_Line]:
        found: list[_Line] = []
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

    def _line(self, row: TextRow) -> _Line:
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
        state = {thing: self._mapping.meaning(thing, cells.get(thing, "")) for thing in STATE}
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
            gear=state["gear"],
            pads=state["pads"],
            fuel=state["fuel"],
            driver=state["driver"],
            tyres=state["tyres"],
            wear=state["wear"],
            again=cells.get("again", ""),
            source=f"{self._table.name}, line {row.line}"
            + (f", {time.isoformat(timespec='seconds')}" if time else ""),
            taken=kept(time, self._mapping.zone) if time else "",
        )
        return _Line(reading, span)

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
