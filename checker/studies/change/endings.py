"""Breaches that are still excused: the last day on which a car may be as it is.

What excuses a car may be a clause or bound that is yet to begin, one that ends, an older rule for older cars, a clause
that stands in another's place, an approval, a bulletin for a time, or a day in a formula or table. So nobody lists
them: the car is judged on each day on which the clause turns, and on the day before, by the text of each day.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date, timedelta

from checker.car.car import Car
from checker.car.declaration.another_day import on_later_day
from checker.car.declaration.loading import load_car
from checker.car.described.vocabulary import ENTRANT
from checker.kinds.judging.acts import Advice
from checker.kinds.judging.assessment import FAIL, NOT_SHOWN, TOO_CLOSE, Amount
from checker.kinds.judging.findings import Found
from checker.pack.model import STRICT, Pack
from checker.quantities.kind import DAYS, Unknown
from checker.reading.document import Document
from checker.reading.problems import InputError, Problem
from checker.reading.quick_dataclasses import KW_ONLY, dataclass, field, replace
from checker.studies.change.days_in_formulas import DayFinder
from checker.studies.change.relevance import same_vocabulary
from checker.studies.change.turning_days import of_approvals, of_clause
from checker.studies.planning.mending import Mending, mending
from checker.verdict.advice import advised
from checker.verdict.filtered import cleared
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
    unknown: Unknown = field(default_factory=Unknown)
    """What would settle it then, where it is in doubt."""
    _: KW_ONLY
    on_weights: bool = False
    mending: Mending | None = None
    """What ballast alone does from then on for a car that fails on weights, where that was asked for."""


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
        self._days: dict[tuple[str, bool], tuple[date, ...]] = {}
        self._same_words = frozenset(
            first for first, text in self._texts if text is pack or same_vocabulary(text, pack)
        )

    def through(self, document: Document, car: Car) -> CarThroughTime:
        """The car of a declaration, read for the day from which is looked, on all days to come."""
        return CarThroughTime(self, document, car)

    def of(self, number: str, cars: CarThroughTime, now: Amount | None = None) -> Excused:
        """What becomes by a turn of the rules of a clause that a car does not fail.

        Args:
            now: The margin by which it is met to begin with.
        """
        doubt: Ending | None = None
        for day in self._turning(number, approved=cars.cites):
            if self._is_clearly_met(number, cars, day):
                continue
            if self._breach_is_plain(day):
                plainly = self._judged(number, cars, day, exact=True)
                if _outcome(plainly) not in (FAIL, *IN_DOUBT) and not _moved(now, _margin(plainly)):
                    continue
            judged = self._judged(number, cars, day)
            then = _outcome(judged)
            if judged is None or then not in (FAIL, *IN_DOUBT):
                continue
            was = _outcome(self._judged(number, cars, day - _DAY))
            if then == FAIL and was != FAIL:
                return Excused(_ending(judged, number, day), doubt)
            if doubt is None and was not in (FAIL, *IN_DOUBT):
                doubt = _ending(judged, number, day)
        return Excused(doubt=doubt)

    def unread(self, cars: CarThroughTime) -> Unread | None:
        """From when a later text cannot read a car; None where all can."""
        for first, _ in self._texts[1:]:
            if first not in self._same_words and isinstance(found := cars.on(first), Unread):
                return found
        return None

    def _turning(self, number: str, *, approved: bool) -> tuple[date, ...]:
        key = number, approved
        if key not in self._days:
            self._days[key] = tuple(sorted({day for day in self._all(number, approved) if day > self._on}))
        return self._days[key]

    def _all(self, number: str, approved: bool) -> Iterator[date]:
        """The days on which a clause turns; those of approvals only for a car that cites one."""
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
            turns += [turn.day for turn in of_approvals(pack, number)] if approved else []
            yield first
            yield from (day for day in turns if first <= day <= last)

    def _breach_is_plain(self, day: date) -> bool:
        """Whether what is a breach is one as measured too, which takes far less time to tell: only a proven pass asks
        more than that."""
        return self._audience == ENTRANT or self._text(day)[1].decision.official != STRICT

    def _judged(
        self, number: str, cars: CarThroughTime, day: date, *, exact: bool = False
    ) -> Inspection | None:
        """What comes out on a day; None where the car is not read."""
        car, pack = cars.on(day), self._text(day)[1]
        if isinstance(car, Unread):
            return None
        return inspect_car(pack, car, day, self._audience, exact=exact, only=[number])

    def _is_clearly_met(self, number: str, cars: CarThroughTime, day: date) -> bool:
        """Whether floats tell that neither a breach nor a doubt comes then."""
        car, pack = cars.on(day), self._text(day)[1]
        if isinstance(car, Unread) or number not in pack.clauses:
            return False
        told = cleared(pack, car, day, self._audience, only=[number]).get(number)
        return told is not None and told not in (FAIL, *IN_DOUBT)

    def _text(self, day: date) -> tuple[date, Pack]:
        """The text of a day, with its first day."""
        return next(text for text in reversed(self._texts) if text[0] <= day or text[0] == self._on)

    def mending(self, document: Document, cars: CarThroughTime, day: date) -> Mending | None:
        """What ballast alone does for a car by the rules of a day.

        Raises:
            InputError: The solver is not installed.
        """
        car, pack = cars.on(day), self._text(day)[1]
        return None if isinstance(car, Unread) else mending(pack, dated(document, day), car, day)

    def read(self, document: Document, now: Car, day: date) -> Car | Unread:
        """The car of a declaration on a day, if its rules can read it; read anew where that may differ."""
        first, pack = self._text(day)
        if first in self._same_words and (later := on_later_day(now, document, day)) is not None:
            return later
        try:
            return load_car(dated(document, day), pack.vocabulary, audience=self._audience)
        except InputError as error:  # other rules know other facts
            return Unread(day, error.problems)


class CarThroughTime:
    """One car on the days for which anybody asks."""

    def __init__(self, endings: Endings, document: Document, now: Car) -> None:
        self._endings, self._document, self._now = endings, document, now
        self._found: dict[date, Car | Unread] = {}
        self._mended: dict[date, Mending | None] = {}

    @property
    def cites(self) -> bool:
        """Whether it cites an approval."""
        return bool(self._now.approvals)

    def mended(self, ending: Ending) -> Ending:
        """A breach that is still excused, with what ballast alone does from the day on which it counts."""
        day = ending.until + _DAY
        if day not in self._mended:
            self._mended[day] = self._endings.mending(self._document, self, day)
        return replace(ending, mending=self._mended[day])

    def on(self, day: date) -> Car | Unread:
        """The car on a day, if the rules of that day can read it."""
        if day not in self._found:
            self._found[day] = self._endings.read(self._document, self._now, day)
        return self._found[day]


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
    unknown = found.unknown if outcome.outcome in IN_DOUBT else Unknown()
    told = found.margin, found.finding, found.act, unknown
    return Ending(day - _DAY, outcome.outcome, *told, on_weights=outcome.on_weights)
