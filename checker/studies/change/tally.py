"""What a change of the rules means for a fleet: counts, the spread of margins, and the cars that are hit hardest.

Nothing of a car is kept but by those few, so memory does not grow with the number of cars.
"""

from __future__ import annotations

from fractions import Fraction

from checker.kinds.judging.assessment import FAIL, Amount
from checker.pack.model import ADVISORY, Pack
from checker.reading.quick_dataclasses import KW_ONLY, dataclass, field, replace
from checker.studies.change.affected import Affected, ClauseEffect
from checker.studies.change.bands import Bands
from checker.studies.change.pairing import Pair

HARDEST = 20
"""How many of the cars that newly fail a clause are kept to be listed, those furthest over first."""
MARKS = 300
"""How many cars are kept under a clause with both margins, to be drawn."""
NAMED = 200
"""How many of the cars whose outcomes change are kept to be named."""


@dataclass(slots=True)
class Tally:
    """What one clause says of a fleet, before and after."""

    pair: Pair
    cars: int = 0
    failing: list[int] = field(default_factory=lambda: [0, 0])
    """By the older pack, by the newer."""
    newly_failing: int = 0
    _: KW_ONLY
    no_longer_failing: int = 0
    now_in_doubt: int = 0
    failing_later: int = 0
    in_doubt_later: int = 0
    changed: int = 0
    """Cars for which the outcome or the margin is another."""
    margins: dict[str, tuple[Bands, Bands]] = field(default_factory=dict)
    """By unit ("" for plain numbers): before and after, in that unit, percentages in points."""
    marks: dict[str, list[tuple[str, str, Amount | None, Amount | None]]] = field(default_factory=dict)
    """By unit: the first `MARKS` cars with their margins before and after, in that unit."""
    hardest: list[tuple[Affected, ClauseEffect]] = field(default_factory=list)
    """Cars that newly fail, now or later, those furthest over first; at most `HARDEST`."""

    def add(self, car: Affected, effect: ClauseEffect) -> None:
        """Count what the clause says of one car."""
        self.cars += 1
        self.failing[0] += effect.before == FAIL
        self.failing[1] += effect.after == FAIL
        self.newly_failing += effect.newly_fails
        self.no_longer_failing += effect.no_longer_fails
        self.now_in_doubt += effect.now_in_doubt
        self.failing_later += effect.fails_later
        self.in_doubt_later += effect.in_doubt_later
        self.changed += effect.is_change
        for side, margin in enumerate((effect.margin_before, effect.margin_after)):
            if margin is not None:
                unit = margin.unit.name if margin.unit else ""
                self.margins.setdefault(unit, (Bands(), Bands()))[side].add(in_its_unit(margin))
        self._mark(car, effect)
        if effect.newly_fails or effect.fails_later:
            self.hardest.append((car, effect))
            if len(self.hardest) > 2 * HARDEST:
                self._keep_hardest()

    def _mark(self, car: Affected, effect: ClauseEffect) -> None:
        sides = (effect.margin_before, effect.margin_after)
        units = {one.unit.name if one.unit else "" for one in sides if one is not None}
        if len(units) == 1:
            marks = self.marks.setdefault(units.pop(), [])
            if len(marks) < MARKS:
                marks.append((car.number, car.name, *sides))

    def _keep_hardest(self) -> None:
        self.hardest.sort(key=lambda one: _hardness(*one))
        del self.hardest[HARDEST:]

    def settled(self) -> Tally:
        """The same once every car has been counted."""
        self._keep_hardest()
        return self


def _hardness(car: Affected, effect: ClauseEffect) -> tuple[bool, Fraction, str, str]:
    margin = effect.margin_after if effect.newly_fails else effect.later and effect.later.margin
    return (effect.fails_later, Fraction(margin.value) if margin else Fraction(0), car.number, car.place)


def in_its_unit(margin: Amount) -> Fraction:
    """A margin as a number in the unit it is shown in."""
    return Fraction(margin.value) / (margin.unit.factor if margin.unit else 1)


class Fleet:
    """What a change means for all cars so far."""

    def __init__(self, pairs: tuple[Pair, ...]) -> None:
        self.tallies = {pair: Tally(pair) for pair in pairs}
        self.cars = 0
        self.newly_failing = 0
        """Cars that newly fail a clause that counts."""
        self.no_longer_failing = 0
        self.failing_later = 0
        self.in_doubt_later = 0
        self.in_doubt = 0
        """Cars of which a clause that counts was met, and is now too close to call or not shown."""
        self.unread_later = 0
        """Cars that a text which comes later cannot judge."""
        self.changing = 0
        """Cars for which what becomes of some clause is another thing than before, or will be."""
        self.named: list[Affected] = []
        """The first `NAMED` of these, in the order in which they came."""

    def add(self, car: Affected, counting: frozenset[Pair]) -> None:
        """Count one car.

        Args:
            counting: Clauses that count: advice never makes a car fail.
        """
        self.cars += 1
        real = [effect for effect in car.effects if effect.pair in counting]
        self.newly_failing += any(effect.newly_fails for effect in real)
        self.no_longer_failing += any(effect.no_longer_fails for effect in real)
        self.failing_later += any(effect.fails_later for effect in real)
        self.in_doubt_later += any(effect.in_doubt_later for effect in real)
        self.in_doubt += any(effect.now_in_doubt for effect in real)
        changing = tuple(effect for effect in car.effects if effect.is_named)
        self.unread_later += car.unread is not None
        self.changing += bool(changing)
        if (changing or car.unread) and len(self.named) < NAMED:
            self.named.append(replace(car, effects=changing))
        for effect in car.effects:
            self.tallies[effect.pair].add(car, effect)


def counting(old: Pack, new: Pack, pairs: tuple[Pair, ...]) -> frozenset[Pair]:
    """The clauses that bear on the verdict."""
    clauses = {
        pair: new.clauses[pair.new] if pair.new is not None else old.clauses[str(pair.old)] for pair in pairs
    }
    return frozenset(pair for pair, clause in clauses.items() if clause.severity != ADVISORY)
