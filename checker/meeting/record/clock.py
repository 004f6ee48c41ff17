"""Times that do not fit each other: told, never corrected. The order of a day is that of the entries' numbers."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta

from checker.meeting.record.car_contents import Measured, Weighed
from checker.meeting.record.car_day import moment_of
from checker.meeting.record.contents import GearChecked
from checker.meeting.record.day import Day
from checker.meeting.record.refusal import problem
from checker.reading.problems import Problem

_ANYWHERE = timedelta(hours=14)
"""No zone is further from UTC."""


def oddities(day: Day, first: int = 1) -> list[Problem]:
    """A warning (MT409) for every time from entry `first` on that does not fit the others, or the meeting's day.

    That entries are of another day is told once, of the first of them.
    """
    return [problem("MT409", words, hint, warning=True) for words, hint in _odd(day, first)]


def _odd(day: Day, first: int) -> Iterator[tuple[str, str]]:
    for number, gap in day.set_back:
        if number >= first:
            behind = f"entry {number} bears a time {gap.total_seconds():.0f} s before the latest"
            yield (
                f"{behind}: the computer's clock was set back",
                "the order is kept by number; set the clock right",
            )
    others: list[int] = []
    on = date.fromisoformat(day.opened.content.on)
    for record in day.records(0):
        if not isinstance(record.content, Weighed | Measured | GearChecked):
            continue
        at = moment_of(record.at)
        if not (at - _ANYWHERE).date() <= on <= (at + _ANYWHERE).date():
            others.append(record.number)
        if record.number < first:
            continue
        if record.read_at > at:
            gap = record.read_at - at
            words = f"entry {record.number} was read {gap.total_seconds():.0f} s after it was recorded, says its table"
            yield (
                words,
                "one of the two clocks is wrong, or the table is of another zone: zone in its mapping",
            )
    if others and others[0] >= first:  # else it was told of the first of them
        which = (
            f"entry {others[0]} was"
            if len(others) == 1
            else f"{len(others)} entries from {others[0]} on were"
        )
        at_first = day.record(others[0])
        assert at_first is not None
        yield (
            f"{which} recorded on {at_first.at[:10]} by the computer's clock, and the meeting is of {on.isoformat()}",
            "set the clock right, or see that this is the right meeting",
        )
