"""Imports a table of weighings: every row is checked before any is recorded, and all are recorded in one go.

What looks wrong but can be read (pads exchanged, loads unlike the car) holds the import up until an official says that
it is to be taken as it is.
"""

from __future__ import annotations

from collections.abc import Sequence

from checker.meeting.record.car_contents import Weighed
from checker.meeting.record.contents import Content, Imported
from checker.meeting.record.day import Day
from checker.meeting.record.refusal import refusal
from checker.meeting.record.rows import digest_of
from checker.meeting.session.session import Meeting
from checker.meeting.tables.given import GivenFile
from checker.meeting.tables.lines import TableLine, read_lines
from checker.meeting.taking.weighing import settle
from checker.quantities.folding import fold
from checker.reading.problems import InputError, Problem, Problems
from checker.reading.quick_dataclasses import dataclass, replace

_LOOKS_WRONG = ("MT312", "MT313")


@dataclass(frozen=True, slots=True)
class ImportedRows:
    """What an import recorded."""

    readings: tuple[Weighed, ...]
    warnings: tuple[Problem, ...]


def import_weighings(
    meeting: Meeting,
    given: GivenFile,
    mapping: GivenFile,
    by: str,
    *,
    as_it_is: bool = False,
    again: str = "",
) -> ImportedRows:
    """Record the weighings of a table; on disk when this returns.

    Args:
        meeting: Open for work.
        given: The table, as text or as a workbook.
        mapping: How to read it.
        by: Initials of the official.
        as_it_is: Record also what looks wrong.
        again: Why cars of the table that have been weighed already are weighed anew; "" where they are not.

    Raises:
        InputError: With every mistake of every row (MT210, MT251, MT3xx, RDxxx): then nothing was recorded.
    """
    table = given.as_text()
    lines = read_lines(table.data, table.name, mapping.data, mapping.name, meeting.on)
    found: list[ImportedRows] = []

    def decide(day: Day) -> list[Content]:
        _refuse_again(day, table)
        contents, warnings = _settled(meeting, day, _anew(day, lines, again), as_it_is)
        found[:] = [ImportedRows(tuple(contents), tuple(warnings))]
        head = Imported(table.name, digest_of(table.data), digest_of(mapping.data), len(contents))
        return [head, *contents]

    meeting.record(by, decide, [table.data, mapping.data])
    return found[0]


def _anew(day: Day, lines: Sequence[TableLine], again: str) -> list[TableLine]:
    """The rows, with the reason on the first of every car that has been weighed on that occasion already."""
    found: list[TableLine] = []
    begun: set[tuple[str, str]] = set()
    for line in lines:
        reading = line.reading
        car, key = day.car(reading.car), (fold(reading.car), reading.occasion)
        if again and key not in begun and car is not None and car.weighings(reading.occasion):
            line = replace(line, reading=replace(reading, again=reading.again or again))
        begun.add(key)
        found.append(line)
    return found


def _refuse_again(day: Day, table: GivenFile) -> None:
    for record in day.imports:
        if record.content.sha256 == digest_of(table.data):
            message = f"'{table.name}' was imported before, as entry {record.number} ({record.content.rows} weighings)"
            raise refusal("MT311", message, "import a file with new weighings only")


def _settled(
    meeting: Meeting, day: Day, lines: Sequence[TableLine], as_it_is: bool
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
