"""Breaches that are still excused: the last day on which a car may be as it is.

What excuses a car may be a clause or bound that is yet to begin, one that ends, an older rule for older cars, a clause
that stands in another's place, an approval, or a day in a formula or table. So nobody lists them: the car is judged on
each day on which the clause turns, and on the day before.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta

from checker.car.car import Car
from checker.car.declaration.loading import load_car
from checker.car.described.vocabulary import ENTRANT
from checker.kinds.judging.acts import Advice
from checker.kinds.judging.assessment import FAIL, Amount
from checker.kinds.judging.findings import Found
from checker.pack.model import STRICT, Pack
from checker.reading.document import Document
from checker.reading.quick_dataclasses import dataclass
from checker.studies.change.days_in_formulas import DayFinder
from checker.studies.change.turning_days import of_approvals, of_clause
from checker.verdict.advice import advised
from checker.verdict.inspection import Inspection, inspect_car
from checker.verdict.run import dated

_DAY = timedelta(days=1)


@dataclass(frozen=True, slots=True)
class Ending:
    """A breach that is still excused, and until when."""

    until: date
    """The last day on which the car may be as it is."""
    margin: Amount | None
    finding: Found | None
    act: Advice | None


class Endings:
    """Finds what a pack excuses for the time being.

    Args:
        pack: The rules.
        on: The day from which is looked.
        audience: "entrant" or "official".
    """

    def __init__(self, pack: Pack, on: date, audience: str) -> None:
        self._pack, self._on, self._audience = pack, on, audience
        self._days: dict[str, tuple[date, ...]] = {}
        self._cars: tuple[Document | None, dict[date, Car]] = (None, {})

    def of(self, number: str, document: Document) -> Ending | None:
        """When a clause that the car of a declaration does not fail fails by a turn of the rules; None: never."""
        for day in self._turning(number):
            if self._breach_is_plain and not _fails(self._judged(number, document, day, exact=True)):
                continue
            judged = self._judged(number, document, day)
            if not _fails(judged) or _fails(self._judged(number, document, day - _DAY)):
                continue
            (outcome,) = advised(judged, [number]).outcomes
            found = outcome.assessment
            return Ending(day - _DAY, found.margin, found.finding, found.act)
        return None

    def _turning(self, number: str) -> tuple[date, ...]:
        if number not in self._days:
            self._days[number] = tuple(sorted({day for day in self._all(number) if day > self._on}))
        return self._days[number]

    def _all(self, number: str) -> Iterator[date]:
        finder = DayFinder(self._pack, self._on, self._pack.last_day or date.max)
        for clause in self._pack.clauses.values():
            if clause.number == number or number in clause.instead_of:
                yield from (turn.day for turn in of_clause(clause, finder))
        yield from (turn.day for turn in of_approvals(self._pack, number))

    @property
    def _breach_is_plain(self) -> bool:
        """Whether what is a breach is one as measured too, which takes far less time to tell: only a proven pass asks
        more than that."""
        return self._audience == ENTRANT or self._pack.decision.official != STRICT

    def _judged(self, number: str, document: Document, day: date, *, exact: bool = False) -> Inspection:
        return inspect_car(
            self._pack, self._car(document, day), day, self._audience, exact=exact, only=[number]
        )

    def _car(self, document: Document, day: date) -> Car:
        """The car of a declaration on a day; the last car is kept for its other clauses."""
        if self._cars[0] is not document:
            self._cars = (document, {})
        cars = self._cars[1]
        if day not in cars:
            cars[day] = load_car(dated(document, day), self._pack.vocabulary, audience=self._audience)
        return cars[day]


def _fails(inspection: Inspection) -> bool:
    return any(outcome.outcome == FAIL for outcome in inspection.outcomes)
