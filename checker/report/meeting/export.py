"""The record as tables and as JSON, for spreadsheets and other programs."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable, Iterator, Mapping
from fractions import Fraction
from typing import Any

from checker.car.described.standard import WHEELS
from checker.meeting.record.car_contents import Judged, Measured, Ruled, Weighed
from checker.meeting.record.car_day import CarDay, Record
from checker.meeting.record.chain import RecordEntry
from checker.meeting.record.contents import Content
from checker.meeting.session.session import Meeting
from checker.meeting.standing.standing import standings
from checker.quantities.literal import parse_literal
from checker.quantities.misread import LiteralError
from checker.quantities.units import parse_unit
from checker.reading.quick_dataclasses import dataclass
from checker.report.amounts import begun, told_of
from checker.report.json_text import json_text
from checker.report.tables.table import Cell, Clauses, Columns, Table, clause, decimal, table_of


def meeting_tables(meeting: Meeting) -> Mapping[str, Table]:
    """Every table of the record by its name."""
    return {name: table_of(columns, rows(meeting)) for name, (columns, rows) in TABLES.items()}


def as_json(meeting: Meeting) -> str:
    """The whole record as one JSON document: every entry with its hash, and where each car stands."""
    document = {
        **begun("record"),
        "format": "checker meeting record",
        "last_entry": meeting.day.number,
        "last_hash": meeting.day.hash,
        "entries": [_entry_as_data(entry) for entry in meeting.store.entries()],
        "standings": [
            {
                "car": one.car,
                "name": one.name,
                "status": one.status,
                "computed": one.computed,
                "fails": list(one.failing),
                "unsettled": list(one.unsettled),
                "rulings": {ruled.clause: ruled.decision for ruled in one.rulings},
            }
            for one in standings(meeting)
        ],
    }
    return json_text(document, indent=2)


def _entry_as_data(entry: RecordEntry) -> dict[str, object]:
    said = told_of(entry, "number", "kind", "at", "by")
    return {**said, "content": json.loads(entry.content), **told_of(entry, "previous", "hash")}


# -- the tables: each column is its heading with what stands under it ----------------------------------------


@dataclass(frozen=True, slots=True)
class _Recorded:
    """An entry with what it says; one that was brought from a merged record says what it says there."""

    entry: RecordEntry
    record: Record[Any]
    gone: int | None
    """The entry since which it no longer counts."""


@dataclass(frozen=True, slots=True)
class _Computed:
    """The newest computed outcome of one clause on one car, with what officials ruled."""

    car: CarDay
    clause: str
    judged: Judged
    number: int
    ruled: Ruled | None


def _said(*names: str) -> Columns:
    """Columns headed as what an entry says is named; 0 stands for nothing."""
    return {name: lambda row, name=name: getattr(row.record.content, name) or None for name in names}  # type: ignore[misc]


_ENTRY: Columns = {
    "entry": lambda row: row.record.number,
    "time": lambda row: row.record.at,
    "by": lambda row: row.record.by,
}
_COUNTS: Columns = {"counts": lambda row: row.gone is None}


def _load(name: str) -> Callable[[Any], Cell]:
    return lambda row: _amount(row.record.content.loads.get(name, ""), "kg")


def _amount(text: str, unit: str) -> Cell:
    """What somebody wrote, as a number of that unit; as it was written where it is none."""
    try:
        value = parse_literal(text, None).value
    except LiteralError:
        return text or None
    its = parse_unit(unit, None)
    return decimal((value - its.zero) / its.factor) if isinstance(value, Fraction) else value


def _margin(row: _Computed) -> tuple[Fraction | None, str | None]:
    """A recorded margin, "93/20 kg", as a number and its unit."""
    number, _, unit = row.judged.margins.get(row.clause, "").partition(" ")
    return (decimal(Fraction(number)), unit or None) if number else (None, None)


def _recorded(*kinds: type[Content]) -> Callable[[Meeting], Iterator[_Recorded]]:
    """The entries of these kinds in order; of every kind where none is named."""

    def rows(meeting: Meeting) -> Iterator[_Recorded]:
        for entry, record in zip(meeting.store.entries(), meeting.day.records(), strict=False):
            if not kinds or isinstance(record.content, kinds):
                yield _Recorded(entry, record, meeting.day.gone_by(entry.number))

    return rows


def _computed(meeting: Meeting) -> Iterator[_Computed]:
    for car in meeting.day.cars.values():
        rulings = car.rulings()
        for judged in car.judged[-1:]:
            for number in judged.content.outcomes:
                ruled = rulings[number].content if number in rulings else None
                yield _Computed(car, number, judged.content, judged.number, ruled)


TABLES: Mapping[str, tuple[Columns, Callable[[Meeting], Iterable[object]]]] = {
    "entries": (
        {
            "number": lambda row: row.entry.number,
            "time": lambda row: row.entry.at,
            "by": lambda row: row.entry.by,
            "kind": lambda row: row.entry.kind,
            "car": lambda row: getattr(row.record.content, "car", None),
            "content": lambda row: row.entry.content,
            "no longer counts since": lambda row: row.gone,
            "hash": lambda row: row.entry.hash,
        },
        _recorded(),
    ),
    "weighings": (
        {
            **_ENTRY,
            **_said("car", "occasion"),
            **{f"{name}_kg": _load(name) for name in (*WHEELS, "front", "rear", "left", "right", "total")},
            **_said("pads", "gear"),
            "fuel_l": lambda row: _amount(row.record.content.fuel, "L"),
            **_said("driver", "tyres", "wear", "again", "corrects", "reason"),
            **_COUNTS,
            **_said("source"),
        },
        _recorded(Weighed),
    ),
    "measurements": (
        {
            **_ENTRY,
            **_said("car", "occasion", "fact", "value", "gauge", "gear", "corrects", "reason"),
            **_COUNTS,
        },
        _recorded(Measured),
    ),
    "outcomes": (
        {
            "car": lambda row: row.car.number,
            "name": lambda row: row.car.name,
            "clause": lambda row: clause(row.clause),
            "computed": lambda row: row.judged.outcomes[row.clause],
            "margin": lambda row: _margin(row)[0],
            "unit": lambda row: _margin(row)[1],
            "exact margin": lambda row: row.judged.margins.get(row.clause),
            "ruling": lambda row: row.ruled.decision if row.ruled else None,
            "reason": lambda row: row.ruled.reason if row.ruled else None,
            "entry": lambda row: row.number,
        },
        _computed,
    ),
    "standings": (
        {
            "car": lambda one: one.car,
            "name": lambda one: one.name,
            "status": lambda one: one.status,
            "computed": lambda one: one.computed,
            "fails": lambda one: Clauses(one.failing),
            "unsettled": lambda one: Clauses(one.unsettled),
            "weighings": lambda one: one.weighings,
            "due": lambda one: one.due,
            "late": lambda one: one.late,
            "next step": lambda one: one.next_step,
        },
        standings,
    ),
}
"""By name: the columns of a table, and its rows."""
