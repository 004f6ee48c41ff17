"""Readings of a car that no longer count: which, by whom, and why, in plain words."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from checker.meeting.record.car_day import CarDay
from checker.meeting.record.contents import Merged, Struck
from checker.meeting.session.session import Meeting
from checker.quantities.folding import fold


def not_counting(meeting: Meeting, car: CarDay) -> Iterator[str]:
    """Readings that were corrected, struck, or followed by a new weighing: which, by whom, and why."""
    for record in meeting.day.records():
        by = meeting.day.gone_by(record.number)
        later = meeting.day.record(by) if by is not None else None
        if later is None or fold(getattr(record.content, "car", "")) != fold(car.number):
            continue
        which, reason = f"Entry {record.number}", getattr(later.content, "reason", "")
        verb = "struck" if isinstance(later.content, Struck) else "corrected"
        if isinstance(later.content, Merged):
            which += f" (entry {record.there} of {later.content.file})"
            verb, reason = "left out", meeting.day.branches.left[record.number]
        yield f"{which} was {verb} by {later.by} in entry {later.number}, at {later.at}: {reason}."
    for occasion in car.occasions():
        sets = car.sets(occasion)
        for earlier, anew in pairwise(sets):
            numbers = " and ".join(str(record.number) for record in earlier)
            first = anew[0]
            yield (
                f"Entry {numbers}: the car was weighed anew at {occasion} by {first.by} in entry {first.number}, "
                f"at {first.at}: {first.content.again}."
            )
