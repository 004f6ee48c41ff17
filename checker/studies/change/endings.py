"""Breaches that are still excused: the last day on which a car may be as it is.

What excuses a car may be a clause or bound that is yet to begin, one that ends, an older rule for older cars, a clause
that stands in another's place, an approval, a bulletin for a time, or a day in a formula or table. So nobody lists
them: the car is judged on each day on which the clause turns, and on the day before, by the text of each day.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date, timedelta

from checker.car.car import Car
from checker.car.declaration.loading import load_car
from checker.car.described.vocabulary import ENTRANT
from checker.kinds.judging.acts import Advice
from checker.kinds.judging.assessment import FAIL, NOT_SHOWN, TOO_CLOSE, Amount
from checker.kinds.judging.findings import Found
from checker.pack.model import STRICT, Pack
from checker.quantities.kind import DAYS
from checker.reading.document import Document
from checker.reading.problems import InputError, Problem
from checker.reading.quick_dataclasses import dataclass
from checker.studies.change.days_in_formulas import DayFinder
from checker.studies.change.relevance import same_vocabulary
from checker.studies.change.turning_days import of_approvals, of_clause
from checker.verdict.advice import advised
from checker.verdict.inspection import Inspection, inspect_car
from checker.verdict.run import dated

_DAY = timedelta(days=1)


IN_DOUBT = (TOO_CLOSE, NOT_SHOWN)


@dataclass(frozen=True, slots=True)
class Ending:
    """A breach, or a doubt, that is still excused, and until when."""

    until: date
    """The last day on which the car may be as it is."""
    outcome: str
    """What comes then: a fail, or that it is too close to call or not shown."""
    margin: Amount | None
    finding: Found | None
    act: Advice | None
    not_shown: tuple[str, ...] = ()
    """What would settle it then, where it is in doubt."""


@dataclass(frozen=True, slots=True)
class Excused:
    """What becomes of a clause that the car does not fail."""

    fails: Ending | None = None
    doubt: Ending | None = None
    """Where it comes to be in doubt before it fails, if it ever does."""


@dataclass(frozen=True, slots=True)
class Unread:
    """A day from which rules are in force that cannot read the car, so that nobody knows what they make of it."""

    since: date
    problems: tuple[Problem, ...]
    """What is wrong with the declaration by these rules."""


class Endings:
    """Finds what a pack excuses for the time being.

    Args:
        pack: The rules.
        on: The day from which is looked.
        audience: "entrant" or "official".
        after: The texts that are in force later, each with its first day; without them the pack counts on every day.
    """

    def __init__(self, pack: Pack, on: date, audience: str, after: Sequence[tuple[date, Pack]] = ()) -> None:
        self._texts = ((on, pack), *after)
        self._on, self._audience = on, audience
        self._days: dict[str, tuple[date, ...]] = {}
        self._cars: tuple[Document | None, dict[date, Car | Unread]] = (None, {})

    def of(self, number: str, document: Document, now: Amount | None = None) -> Excused:
        """What becomes by a turn of the rules of a clause that the car of a declaration does not fail.

        Args:
            now: The margin by which it is met to begin with.
        """
        doubt: Ending | None = None
        for day in self._turning(number):
            if self._breach_is_plain(day):
                plainly = self._judged(number, document, day, exact=True)
                if _outcome(plainly) not in (FAIL, *IN_DOUBT) and not _moved(now, _margin(plainly)):
                    continue
            judged = self._judged(number, document, day)
            then = _outcome(judged)
            if judged is None or then not in (FAIL, *IN_DOUBT):
                continue
            was = _outcome(self._judged(number, document, day - _DAY))
            if then == FAIL and was != FAIL:
                return Excused(_ending(judged, number, day), doubt)
            if doubt is None and was not in (FAIL, *IN_DOUBT):
                doubt = _ending(judged, number, day)
        return Excused(doubt=doubt)

    def unread(self, document: Document) -> Unread | None:
        """From when a later text cannot read the car of a declaration; None where all can."""
        pack = self._texts[0][1]
        for first, text in self._texts[1:]:
            if not same_vocabulary(text, pack) and isinstance(found := self._car(document, first), Unread):
                return found
        return None

    def _turning(self, number: str) -> tuple[date, ...]:
        if number not in self._days:
            self._days[number] = tuple(sorted({day for day in self._all(number) if day > self._on}))
        return self._days[number]

    def _all(self, number: str) -> Iterator[date]:
        for place, (first, pack) in enumerate(self._texts):
            later = [after for after, _ in self._texts[place + 1 :]]
            last = later[0] - _DAY if later else pack.last_day or date.max
            finder = DayFinder(pack, first, last)
            turns = [
                turn.day
                for clause in pack.clauses.values()
                if clause.number == number or number in clause.instead_of
                for turn in of_clause(clause, finder)
            ]
            turns += [turn.day for turn in of_approvals(pack, number)]
            yield first
            yield from (day for day in turns if first <= day <= last)

    def _breach_is_plain(self, day: date) -> bool:
        """Whether what is a breach is one as measured too, which takes far less time to tell: only a proven pass asks
        more than that."""
        return self._audience == ENTRANT or self._text(day).decision.official != STRICT

    def _judged(
        self, number: str, document: Document, day: date, *, exact: bool = False
    ) -> Inspection | None:
        """What comes out on a day; None where the car is not read."""
        car, pack = self._car(document, day), self._text(day)
        if isinstance(car, Unread):
            return None
        return inspect_car(pack, car, day, self._audience, exact=exact, only=[number])

    def _text(self, day: date) -> Pack:
        return next(pack for first, pack in reversed(self._texts) if first <= day or first == self._on)

    def _car(self, document: Document, day: date) -> Car | Unread:
        """The car of a declaration on a day, if its rules can read it; the last car is kept for its other clauses."""
        if self._cars[0] is not document:
            self._cars = (document, {})
        cars = self._cars[1]
        if day not in cars:
            try:
                vocabulary = self._text(day).vocabulary
                cars[day] = load_car(dated(document, day), vocabulary, audience=self._audience)
            except InputError as error:  # other rules know other facts
                cars[day] = Unread(day, error.problems)
        return cars[day]


def _outcome(judged: Inspection | None) -> str | None:
    """The outcome of the one clause; None where it is not in the rules."""
    return next((one.outcome for one in judged.outcomes), None) if judged is not None else None


def _moved(now: Amount | None, then: Amount | None) -> bool:
    """Whether what is met as measured is met by another margin, and so perhaps too closely; nobody measures days."""
    return now != then and then is not None and then.kind != DAYS


def _margin(judged: Inspection | None) -> Amount | None:
    return next((one.assessment.margin for one in judged.outcomes), None) if judged is not None else None


def _ending(judged: Inspection, number: str, day: date) -> Ending:
    (outcome,) = advised(judged, [number]).outcomes
    found = outcome.assessment
    unknown = found.unknown.says if outcome.outcome in IN_DOUBT else ()
    return Ending(day - _DAY, outcome.outcome, found.margin, found.finding, found.act, unknown)
