"""A computer's clock that was set back: told, never corrected. The order of a day is that of the entries' numbers."""

from __future__ import annotations

from checker.meeting.record.day import Day
from checker.meeting.record.refusal import problem
from checker.reading.problems import Problem


def set_back(day: Day, first: int = 1) -> list[Problem]:
    """A warning (MT409) for every entry from `first` on that bears an earlier time than one before it."""
    found: list[Problem] = []
    for number, gap in day.set_back:
        if number >= first:
            behind = f"entry {number} bears a time {gap.total_seconds():.0f} s before the latest"
            hint = "the order is kept by number; set the clock right"
            found.append(problem("MT409", f"{behind}: the computer's clock was set back", hint, warning=True))
    return found
