"""Corrections: a new entry that points to the old one with a reason. Nothing is ever overwritten."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from checker.meeting.record.contents import CORRECTABLE, Content, Struck
from checker.meeting.record.day import CarDay, Day, Record
from checker.meeting.record.refusal import refusal
from checker.meeting.session.session import Meeting
from checker.reading.problems import InputError


def strike(meeting: Meeting, number: int, reason: str, by: str) -> None:
    """An entry no longer counts, and nothing stands in its place.

    Raises:
        InputError: MT206 no reason, MT207 it cannot be struck.
    """

    def decide(day: Day) -> list[Content]:
        correctable(day, number, reason)
        return [Struck(number, reason.strip())]

    meeting.record(by, decide)


def correctable(day: Day, number: int, reason: str) -> Record[Content]:
    """An entry that may be corrected or struck.

    Raises:
        InputError: MT206 no reason, MT207 there is no such entry, or it counts no longer, or is of a kind that stays.
    """
    record = day.record(number)
    if record is None:
        raise refusal("MT207", f"there is no entry {number}", f"the last is {day.number}")
    gone = day.gone_by(number)
    if gone is not None:
        raise refusal(
            "MT207", f"entry {number} no longer counts since entry {gone}", f"correct entry {gone} instead"
        )
    if not isinstance(record.content, CORRECTABLE):
        message = f"entry {number} ({record.content.KIND}) cannot be corrected"
        raise refusal("MT207", message, "record what is so now; the order of the record tells which is newer")
    if not reason.strip():
        raise refusal("MT206", f"why entry {number} is corrected is not said", "give a reason")
    return record


def trial_of(day: Day, car: CarDay, content: Any) -> CarDay:
    """The car as it would be with one more record, to see whether the car's file and the pack take it."""
    record: Record[Content] = Record(day.number + 1, "", "", content, day.number + 1)
    records = [r for r in car.records if r.number != content.corrects]
    if len(records) < len(car.records):
        at = next(i for i, r in enumerate(car.records) if r.number == content.corrects)
        records.insert(at, record)
    else:
        records.append(record)
    return replace(car, records=records)


def placeless(error: InputError) -> InputError:
    """The same mistakes without places in a readings file that nobody wrote by hand."""
    return InputError(replace(p, span=None) if p.code.startswith("RD") else p for p in error.problems)
