"""The record as tables and as JSON, for spreadsheets and other programs.

A cell that a spreadsheet would run as a formula is made text by an apostrophe before it; numbers stay numbers.
"""

from __future__ import annotations

import csv
import io
import json
import re
from collections.abc import Iterable, Sequence
from typing import Any

from checker.meeting.record.chain import Entry
from checker.meeting.record.contents import Content, Judged, Measured, Weighed, read_content
from checker.meeting.record.day import Day
from checker.meeting.session.session import Meeting
from checker.meeting.standing.standing import standings

TABLES = ("entries", "weighings", "measurements", "outcomes", "standings")

_RUNS = ("=", "+", "-", "@", "\t", "\r", "\n", "\uff1d", "\uff0b", "\uff0d", "\uff20")
"""How a cell begins that some spreadsheet runs; the last four are the same signs in full width."""
_NUMBER = re.compile(r"[+-]?[0-9]+(?:\.[0-9]+)?(?:/[0-9]+)?(?: [A-Za-z%][A-Za-z0-9%/]*)?")

_LOADS = ("front_left", "front_right", "rear_left", "rear_right", "front", "rear", "left", "right", "total")


def cell(value: object) -> str:
    """A value as a cell that no spreadsheet runs."""
    text = "yes" if value is True else "no" if value is False else str(value)
    if text.lstrip(" \u00a0").startswith(_RUNS) and not _NUMBER.fullmatch(text):
        return f"'{text}"
    return text


def as_csv(heading: Sequence[str], rows: Iterable[Sequence[object]]) -> str:
    """A table as CSV (RFC 4180: CRLF, quotes where needed), every cell made harmless."""
    written = io.StringIO()
    writer = csv.writer(written, lineterminator="\r\n")
    writer.writerow([cell(name) for name in heading])
    for row in rows:
        writer.writerow([cell(value) for value in row])
    return written.getvalue()


def table(meeting: Meeting, name: str) -> str:
    """One of `TABLES` as CSV."""
    heading, rows = {
        "entries": _entries,
        "weighings": _weighings,
        "measurements": _measurements,
        "outcomes": _outcomes,
        "standings": _standings,
    }[name](meeting)
    return as_csv(heading, rows)


def as_json(meeting: Meeting) -> str:
    """The whole record as one JSON document: every entry with its hash, and where each car stands."""
    document = {
        "format": "checker meeting record",
        "version": 1,
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
    return json.dumps(document, ensure_ascii=False, indent=2) + "\n"


def _entry_as_data(entry: Entry) -> dict[str, Any]:
    return {
        "number": entry.number,
        "kind": entry.kind,
        "at": entry.at,
        "by": entry.by,
        "content": json.loads(entry.content),
        "previous": entry.previous,
        "hash": entry.hash,
    }


Rows = tuple[Sequence[str], list[Sequence[object]]]


def _entries(meeting: Meeting) -> Rows:
    heading = ("number", "time", "by", "kind", "car", "content", "no longer counts since", "hash")
    rows: list[Sequence[object]] = []
    for entry in meeting.store.entries():
        car = getattr(read_content(entry), "car", "")
        gone = meeting.day.gone_by(entry.number) or ""
        rows.append((entry.number, entry.at, entry.by, entry.kind, car, entry.content, gone, entry.hash))
    return heading, rows


def _counting(day: Day, number: int) -> bool:
    return day.gone_by(number) is None


def _contents(meeting: Meeting, kind: type[Content]) -> Iterable[tuple[Entry, Any]]:
    for entry in meeting.store.entries():
        content = read_content(entry)
        if isinstance(content, kind):
            yield entry, content


def _weighings(meeting: Meeting) -> Rows:
    heading = (
        "entry",
        "time",
        "by",
        "car",
        "occasion",
        *_LOADS,
        "pads",
        "gear",
        "fuel",
        "driver",
        "tyres",
        "wear",
        "again",
        "corrects",
        "reason",
        "counts",
        "source",
    )
    rows: list[Sequence[object]] = []
    for entry, content in _contents(meeting, Weighed):
        loads = [content.loads.get(name, "") for name in _LOADS]
        rows.append(
            (
                entry.number,
                entry.at,
                entry.by,
                content.car,
                content.occasion,
                *loads,
                content.pads,
                content.gear,
                content.fuel,
                content.driver,
                content.tyres,
                content.wear,
                content.again,
                content.corrects or "",
                content.reason,
                _counting(meeting.day, entry.number),
                content.source,
            )
        )
    return heading, rows


def _measurements(meeting: Meeting) -> Rows:
    heading = (
        "entry",
        "time",
        "by",
        "car",
        "occasion",
        "fact",
        "value",
        "gauge",
        "gear",
        "corrects",
        "reason",
        "counts",
    )
    rows: list[Sequence[object]] = [
        (
            entry.number,
            entry.at,
            entry.by,
            content.car,
            content.occasion,
            content.fact,
            content.value,
            content.gauge,
            content.gear,
            content.corrects or "",
            content.reason,
            _counting(meeting.day, entry.number),
        )
        for entry, content in _contents(meeting, Measured)
    ]
    return heading, rows


def _outcomes(meeting: Meeting) -> Rows:
    """The newest computed outcome of every clause, with what officials ruled."""
    rows: list[Sequence[object]] = []
    for car in meeting.day.cars.values():
        judged: Judged | None = car.judged[-1].content if car.judged else None
        rulings = car.rulings()
        for clause, outcome in (judged.outcomes if judged else {}).items():
            ruled = rulings[clause].content if clause in rulings else None
            margin = judged.margins.get(clause, "") if judged else ""
            decision, reason = (ruled.decision, ruled.reason) if ruled else ("", "")
            rows.append(
                (car.number, car.name, clause, outcome, margin, decision, reason, car.judged[-1].number)
            )
    return ("car", "name", "clause", "computed", "exact margin", "ruling", "reason", "entry"), rows


def _standings(meeting: Meeting) -> Rows:
    heading = (
        "car",
        "name",
        "status",
        "computed",
        "fails",
        "unsettled",
        "weighings",
        "due",
        "late",
        "next step",
    )
    rows: list[Sequence[object]] = [
        (
            one.car,
            one.name,
            one.status,
            one.computed,
            " ".join(one.failing),
            " ".join(one.unsettled),
            one.weighings,
            one.due,
            one.late,
            one.next_step,
        )
        for one in standings(meeting)
    ]
    return heading, rows
