"""What of a car runs out in the days after the one that it is judged for, as its rules will then be in force.

The car is judged as it was asked for, with readings, gear and what-ifs, on the days on which something may turn: one
past each margin in days, those on which the rules turn, and the last. Where something fails on one of them that was
met before, the last day on which it was met is found by halving the days in between.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import date, timedelta

from checker.car.described.stated import DAY_JUDGED
from checker.kinds.contract.check import uses
from checker.kinds.judging.assessment import FAIL
from checker.pack.model import Clause
from checker.quantities.days import LAST_YEAR
from checker.quantities.kind import DAYS
from checker.reading.problems import InputError
from checker.reading.quick_dataclasses import dataclass, replace
from checker.studies.change.turning_days import turning_days
from checker.studies.one_car.lapses import MET, days_in_hand, failing_items, part_of
from checker.verdict.inspection import Inspection, Outcome, inspect_car
from checker.verdict.run import Request, car_of_request, folder_of_request

_DAY = timedelta(days=1)
_LAST = date(LAST_YEAR, 12, 31)
"""No day after it is read."""


@dataclass(frozen=True, slots=True)
class LastDay:
    """Something that is met on the day judged for and is not for good, or has run out by then."""

    clause: Clause
    item: str
    """The entry it is about, e.g. "belts"; "" where it is about the car."""
    days: int
    """How many days after the day judged for it is still met; below 0: it ran out so many days before."""
    day: date
    """The last day on which it is met."""


@dataclass(frozen=True, slots=True)
class RunningOut:
    """What runs out, and how far was looked."""

    last_days: tuple[LastDay, ...]
    """In the order of these days."""
    until: date
    """The last day looked at: an earlier one than asked for where no rules are known for the next, or none that the
    car's file can be read by."""
    is_short: bool
    """Whether it is earlier."""


def running_out(request: Request, inspection: Inspection, days: int) -> RunningOut:
    """What runs out within so many days after the day of the inspection of a request.

    Raises:
        InputError: A text of the rules in force within these days cannot be read.
    """
    return _Ahead(request, inspection).found(days)


class _Ahead:
    def __init__(self, request: Request, inspection: Inspection) -> None:
        self._request = replace(request, declaration=request.declared())
        self._first = inspection
        self._seen: dict[date, Inspection | None] = {inspection.on: inspection}

    def found(self, days: int) -> RunningOut:
        on = self._first.on
        until = min(on + days * _DAY, _LAST)
        found, before = list(self._run_out()), self._first
        known = {pair for outcome in self._first.outcomes for pair in _failing(outcome)}
        is_short = False
        for day in self._turns(until):
            judged = self._on(day)
            if judged is None:
                known_until = self._last(before.on, day, lambda one: self._on(one) is not None)
                until, is_short = known_until, known_until < until
                break
            met = {outcome.clause.number for outcome in before.outcomes if outcome.outcome in (*MET, FAIL)}
            for outcome in judged.outcomes:
                new = [pair for pair in _failing(outcome) if pair not in known]
                known.update(new)
                for pair in new if outcome.clause.number in met else ():
                    last = self._last(before.on, day, lambda one, pair=pair: self._is_met(pair, one))  # type: ignore[misc]
                    found.append(LastDay(outcome.clause, pair[1], (last - on).days, last))
            before = judged
        return RunningOut(tuple(sorted(found, key=lambda one: one.days)), until, is_short)

    def _run_out(self) -> Iterator[LastDay]:
        """What has run out by the first day, of what the clause holds against that day."""
        for outcome in self._first.outcomes:
            for pair in _failing(outcome) if _looks_at_the_day(outcome) else ():
                margin = part_of(outcome.assessment, pair[1]).margin
                if margin is not None and margin.kind == DAYS:
                    last = self._first.on + int(margin.value) * _DAY
                    if last < self._first.on and self._is_met(pair, last):  # else it is rather too early
                        yield LastDay(outcome.clause, pair[1], int(margin.value), last)

    def _turns(self, until: date) -> list[date]:
        """The days on which something may fail that was met before, up to the day after the last."""
        on, end = self._first.on, until + _DAY
        found = {turn.day for turn in turning_days(folder_of_request(self._request), on, end)}
        for outcome in self._first.outcomes:
            if _looks_at_the_day(outcome):
                found |= {
                    on + (days + 1) * _DAY
                    for days in days_in_hand(outcome.assessment)
                    if 0 <= days <= (until - on).days
                }
        return sorted(day for day in found | {end} if on < day <= _LAST)

    def _on(self, day: date) -> Inspection | None:
        """The car on a day; None where no rules are in force then, or none that its file can be read by."""
        if day not in self._seen:
            try:
                pack, car, _ = car_of_request(replace(self._request, on=day.isoformat()))
                self._seen[day] = inspect_car(pack, car, day, self._first.audience)
            except InputError:
                self._seen[day] = None
        return self._seen[day]

    def _is_met(self, pair: tuple[str, str], day: date) -> bool:
        judged = self._on(day)
        return judged is None or all(pair not in _failing(outcome) for outcome in judged.outcomes)

    @staticmethod
    def _last(holds: date, fails: date, is_so: Callable[[date], bool]) -> date:
        """The last day on which something is so, between one on which it is and one on which it is not."""
        if is_so(fails - _DAY):
            return fails - _DAY
        while (fails - holds).days > 1:
            middle = holds + (fails - holds) // 2
            holds, fails = (middle, fails) if is_so(middle) else (holds, middle)
        return holds


def _failing(outcome: Outcome) -> list[tuple[str, str]]:
    """The clause with each entry that fails it."""
    items = failing_items(outcome.assessment) if outcome.outcome == FAIL else ()
    return [(outcome.clause.number, item) for item in items]


def _looks_at_the_day(outcome: Outcome) -> bool:
    return outcome.check is not None and DAY_JUDGED in uses(outcome.check)
