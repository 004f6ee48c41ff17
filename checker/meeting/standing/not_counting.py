"""Readings of a car that no longer count: which, by whom, and why, in plain words."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from checker.meeting.record.car_day import CarDay
from checker.meeting.record.content_form import read_content
from checker.meeting.record.contents import Struck
from checker.meeting.session.session import Meeting
from checker.quantities.folding import fold


def not_counting(meeting: Meeting, car: CarDay) -> Iterator[str]:
    """Readings that were corrected, struck, or followed by a new weighing: which, by whom, and why."""
    entries = {entry.number: entry for entry in meeting.store.entries()}
    for entry in entries.values():
        by = meeting.day.gone_by(entry.number)
        if by is not None and fold(getattr(read_content(entry), "car", "")) == fold(car.number):
            later = entries[by]
            verb = "struck" if later.kind == Struck.KIND else "corrected"
            reason = getattr(read_content(later), "reason", "")
            yield f"Entry {entry.number} was {verb} by {later.by} in entry {later.number}, at {later.at}: {reason}."
    for occasion in car.occasions():
        sets = car.sets(occasion)
        for earlier, anew in pairwise(sets):
            numbers = " and ".join(str(record.number) for record in earlier)
            first = anew[0]
            yield (
                f"Entry {numbers}: the car was weighed anew at {occasion} by {first.by} in entry {first.number}, "
                f"at {first.at}: {first.content.again}."
            )
