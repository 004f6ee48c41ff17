"""How many cars fail at each value that one number of a rule might have.

For each car the values at which its outcome changes are found exactly, not by trying many: a margin is the
distance to its limit, so it says at which value it would be nothing. That value is then judged, and so are its
neighbours to either side. Only where no margin leads to the change (or where gear is counted, whose guard
band is no rational number) is the change closed in on, to a resolution that is told.
"""

from __future__ import annotations

import math
from bisect import bisect_left
from collections import Counter
from collections.abc import Iterable, Iterator
from datetime import date
from fractions import Fraction

from checker.car.car import Car
from checker.car.declaration.loading import load_car
from checker.car.described.vocabulary import ENTRANT
from checker.kinds.judging.assessment import FAIL, Assessment, Verdict, every
from checker.pack.model import Pack
from checker.quantities.kind import DATE
from checker.reading.document import Document
from checker.reading.problems import InputError
from checker.reading.quick_dataclasses import dataclass
from checker.studies.fleet.swept_floats import SweptFloats
from checker.studies.fleet.swept_number import CannotVaryError, Number, Varied
from checker.verdict.inspection import inspect_car
from checker.verdict.run import dated

NEAR = Fraction(1, 10**9)
"""How far to either side of an exact value its neighbours are judged, in the unit of the number."""
RESOLUTION = Fraction(1, 10**6)
"""How near a change is closed in on where it is not exact, in the unit of the number."""


@dataclass(frozen=True, slots=True)
class OutcomeTurn:
    """A value at which the outcome of one car changes."""

    value: Fraction
    """In base units; a day as its ordinal."""
    exact: bool
    """False: the change lies within `RESOLUTION` of it."""
    below: str
    """The outcome for values just below; at the lowest value of the sweep, as at the value itself."""
    at: str
    above: str


@dataclass(frozen=True, slots=True)
class Swept:
    """One car through all values."""

    place: str
    number: str
    name: str
    first: str
    """Its outcome at the lowest value."""
    turns: tuple[OutcomeTurn, ...]
    """From low to high."""


class Sweeper:
    """Follows cars through the values of one number.

    Args:
        low, high: Between which values, both included, in base units; days as ordinals.
        audience: "entrant" or "official": count what the gear cannot resolve as for them. None: take every value
            as exact.

    Raises:
        CannotVaryError: The pack cannot be used with one of the two values.
    """

    def __init__(
        self,
        pack: Pack,
        number: Number,
        low: Fraction,
        high: Fraction,
        *,
        on: date,
        audience: str | None = None,
    ) -> None:
        self.number, self.low, self.high = number, low, high
        self._pack, self._varied = pack, Varied(pack, number)
        self._audience, self._on = audience, on
        for value in (low, high):
            try:
                self._varied.at(value)
            except InputError as error:
                told = "; ".join(problem.message for problem in error.problems)
                raise CannotVaryError(f"with {number.show(value)} the pack cannot be used: {told}") from None
        self.whole = number.kind == DATE
        self.near = Fraction(1) if self.whole else number.step * (NEAR if audience is None else RESOLUTION)
        self.resolution = Fraction(1) if self.whole else number.step * RESOLUTION
        self._floats = SweptFloats(number, self._varied.at(low), self._varied.at(high))

    def sweep(self, document: Document, place: str) -> Swept:
        """One car through all values.

        Raises:
            InputError: The declaration cannot be used.
        """
        car = load_car(dated(document, self._on), self._pack.vocabulary, audience=self._audience or ENTRANT)
        judged = _Judged(self, car)
        return Swept(
            place, car.number, car.name, judged.outcome(self.low), tuple(judged.turns(self.low, self.high))
        )

    def judge(self, car: Car, value: Fraction) -> Assessment:
        """What becomes of the clause when the number has a value."""
        pack, exact, only = self._varied.at(value), self._audience is None, [self.number.clause]
        judged = inspect_car(pack, car, self._on, self._audience or ENTRANT, exact=exact, only=only)
        return judged.outcomes[0].assessment

    def told_by_floats(self, car: Car, value: Fraction) -> Verdict | None:
        """What becomes of it by floats, where these tell it."""
        audience, exact = self._audience or ENTRANT, self._audience is None
        return self._floats.outcome(car, value, self._on, audience, exact=exact)

    @property
    def counts_gear(self) -> bool:
        return self._audience is not None


class _Judged:
    """One car; what was judged is kept."""

    def __init__(self, sweeper: Sweeper, car: Car) -> None:
        self._sweeper, self._car = sweeper, car
        self._found: dict[Fraction, Assessment] = {}
        self._outcomes: dict[Fraction, Verdict] = {}

    def at(self, value: Fraction) -> Assessment:
        if value not in self._found:
            self._found[value] = self._sweeper.judge(self._car, value)
        return self._found[value]

    def outcome(self, value: Fraction) -> Verdict:
        """By floats first; the exact engine confirms what lies near a limit."""
        if value not in self._outcomes:
            told = self._sweeper.told_by_floats(self._car, value)
            self._outcomes[value] = told or self.at(value).outcome
        return self._outcomes[value]

    def turns(self, low: Fraction, high: Fraction) -> Iterator[OutcomeTurn]:
        """Every change between two values, from low to high."""
        if low >= high or (self._sweeper.number.one_sided and self.outcome(low) == self.outcome(high)):
            return
        turn = self._by_margin(low, high)
        if turn is None and self.outcome(low) != self.outcome(high):
            turn = self._closed_in(low, high)
        if turn is None:
            return
        gap = self._sweeper.near if turn.exact else self._sweeper.resolution
        yield from self.turns(low, turn.value - gap)
        yield turn
        yield from self.turns(turn.value + gap, high)

    def _by_margin(self, low: Fraction, high: Fraction) -> OutcomeTurn | None:
        """A change at a value to which some margin leads."""
        for value in self._leads(low, high):
            near = self._sweeper.near
            at = self.outcome(value)
            below, above = self.outcome(max(value - near, low)), self.outcome(min(value + near, high))
            if not below == at == above:
                return OutcomeTurn(value, not self._sweeper.counts_gear, below, at, above)
        return None

    def _leads(self, low: Fraction, high: Fraction) -> Iterator[Fraction]:
        """Values at which a margin (less its guard band, where gear is counted) would be nothing; likely ones first."""
        seen: set[Fraction] = set()
        below, above = self.at(low).margin_value, self.at(high).margin_value
        if below is not None and above is not None and (below < 0) != (above < 0):
            value = low - below * (high - low) / (above - below)
            seen.add(value)
            yield value
        for end in (low, high):
            for assessment in every(self.at(end)):
                margin = assessment.margin_value
                if margin is None:
                    continue
                for band in self._bands(assessment):
                    for value in (end - margin + band, end + margin + band):
                        if low <= value <= high and value not in seen:
                            seen.add(value)
                            yield value

    def _bands(self, assessment: Assessment) -> tuple[Fraction, ...]:
        spread = assessment.spread
        if not self._sweeper.counts_gear or spread is None:
            return (Fraction(0),)
        band = Fraction(float(spread.factor) * math.sqrt(spread.variance))
        return (band, -band, Fraction(0))

    def _closed_in(self, low: Fraction, high: Fraction) -> OutcomeTurn:
        """The change between two values of different outcome, to the resolution."""
        below, above = self.outcome(low), self.outcome(high)
        while high - low > self._sweeper.resolution:
            middle = (low + high) / 2
            if self._sweeper.whole:
                middle = Fraction(math.floor(middle))
            if self.outcome(middle) == below:
                low = middle
            else:
                high, above = middle, self.outcome(middle)
        return OutcomeTurn(high, self._sweeper.whole, below, self.outcome(high), above)


@dataclass(frozen=True, slots=True)
class Point:
    """A value at which the number of cars of some outcome changes."""

    value: Fraction
    exact: bool
    below: Counter[str]
    """How many cars come to each outcome just below."""
    at: Counter[str]
    above: Counter[str]
    cars: tuple[tuple[Swept, OutcomeTurn], ...]
    """Those whose outcome changes here."""


@dataclass(frozen=True, slots=True)
class Curve:
    """How many cars come to which outcome, at every value."""

    first: Counter[str]
    """At the lowest value."""
    points: tuple[Point, ...]
    """From low to high."""

    def at(self, value: Fraction) -> Counter[str]:
        """The counts at a value of the sweep."""
        values = [point.value for point in self.points]
        place = bisect_left(values, value)
        if place < len(values) and values[place] == value:
            return self.points[place].at
        return self.points[place - 1].above if place else self.first

    def failing(self, value: Fraction) -> int:
        """How many cars fail at a value of the sweep."""
        return self.at(value)[FAIL]


def curve(cars: Iterable[Swept]) -> Curve:
    """What became of single cars, added up."""
    first: Counter[str] = Counter()
    here: dict[Fraction, list[tuple[Swept, OutcomeTurn]]] = {}
    for car in cars:
        first[car.first] += 1
        for turn in car.turns:
            here.setdefault(turn.value, []).append((car, turn))
    running = Counter(first)
    points: list[Point] = []
    for value in sorted(here):
        turns = here[value]
        at = _moved(running, [(t.below, t.at) for _, t in turns])
        above = _moved(at, [(t.at, t.above) for _, t in turns])
        points.append(Point(value, all(t.exact for _, t in turns), running, at, above, tuple(turns)))
        running = above
    return Curve(first, tuple(points))


def _moved(counts: Counter[str], changes: Iterable[tuple[str, str]]) -> Counter[str]:
    moved = Counter(counts)
    for before, after in changes:
        moved[before] -= 1
        moved[after] += 1
    return +moved
