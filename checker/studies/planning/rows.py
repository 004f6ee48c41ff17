"""Clauses as linear rows: what each asks of the loads of the car, in every state that it speaks of.

The exact engine is asked, and nothing is derived a second time: each check is judged on copies of the car with a load
moved by a kilogram. A distance to a limit that is linear in the loads, or is so after multiplying by one of them (as a
share of the total is), becomes a row; the copies prove it exactly. Any other clause declines, and is judged afterwards.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction

from checker.car.car import Car
from checker.car.scene import Scene
from checker.car.weights.weights import State
from checker.kinds.contract.check import Check, Combining, uses
from checker.kinds.frame.framed import Framed
from checker.kinds.judging.assessment import NOT_APPLICABLE, NOT_SHOWN, Assessment, DecisionRule
from checker.kinds.judging.exact_rule import EXACTLY
from checker.kinds.judging.spread import guard_band, is_weight
from checker.quantities.kind import Unknown
from checker.quantities.sense import Sense
from checker.reading.quick_dataclasses import KW_ONLY, dataclass
from checker.studies.planning.reasons import NotPlanned

DIVISORS = ("", "total", "front", "rear", "left", "right")
"""What a distance may have to be multiplied by to be linear: nothing, or one of the loads."""


@dataclass(frozen=True, slots=True)
class Linear:
    """Something linear in what the loads of the car gain: total, rear and left, in kg."""

    now: Fraction
    total: Fraction = Fraction(0)
    rear: Fraction = Fraction(0)
    left: Fraction = Fraction(0)

    def gains(self, total: Fraction, rear: Fraction, left: Fraction) -> Fraction:
        return self.total * total + self.rear * rear + self.left * left


@dataclass(frozen=True, slots=True)
class Row:
    """`value` divided by `divisor` is a distance to a limit, which is to be at least the guard."""

    clause: str
    state: State | None
    """None: as weighed."""
    place: int
    """Which of the clause's distances it is."""
    value: Linear
    divisor: Linear
    guard: Fraction
    """In the unit of the distance."""
    _: KW_ONLY
    inclusive: bool = True

    @property
    def needed(self) -> Linear:
        """What must not be below zero."""
        v, d, g = self.value, self.divisor, self.guard
        return Linear(v.now - g * d.now, v.total - g * d.total, v.rear - g * d.rear, v.left - g * d.left)


@dataclass(frozen=True, slots=True)
class Declined:
    """A clause on weights that no plan can reckon with."""

    clause: str
    why: Unknown
    not_shown: bool = False
    """Because of what is not stated: whatever is done, the clause is not shown to be met."""


@dataclass(frozen=True, slots=True)
class Part:
    """A part of a clause that must hold, with the states it must hold in (None: as weighed)."""

    check: Check
    states: tuple[State | None, ...]

    def assess(self, scene: Scene, state: State | None, rule: DecisionRule) -> Assessment:
        if isinstance(self.check, Framed) and self.check.conditions:
            return self.check.in_one_state(scene.in_state(state), rule)
        return self.check.assess(scene, rule)


def parts(check: Check, car: Car) -> Iterator[Part]:
    """What of a check must hold on its own account."""
    if isinstance(check, Framed) and check.conditions:
        states = (state for condition in check.conditions for state in car.states(condition))
        yield Part(check, tuple(dict.fromkeys(states)))
    elif isinstance(check, Framed) and check.many is None:
        yield from parts(check.check, car)
    elif not isinstance(check, Framed) and check.combines is Combining.ALL:
        for branch in check.branches():
            yield from parts(branch, car)
    else:
        yield Part(check, (None,))


def on_weights(check: Check) -> bool:
    return any(map(is_weight, uses(check)))


_STRICT = (Sense.ABOVE, Sense.BELOW, Sense.OTHER_THAN)


def shares_of(found: Assessment) -> Iterator[tuple[Fraction, Fraction, bool]]:
    """Each distance of every limit in it, with its guard band and whether standing on the limit passes."""
    if found.branches:
        for branch in found.branches:
            yield from shares_of(branch)
    else:
        guard = guard_band(found.spread) if found.spread else Fraction(0)
        inclusive = not any(bound.sense in _STRICT for bound in found.bounds)
        for distance in _to_either_side(found):
            yield distance, guard, inclusive


def _to_either_side(found: Assessment) -> tuple[Fraction, ...]:
    """The distances of a limit; of `exactly`, whose one distance turns at the bound, to both ends of its tolerance."""
    if len(found.distances) != 1 or found.bounds[0].sense is not Sense.EXACTLY:
        return found.distances
    value, bound = found.value, found.bounds[0].amount
    assert value is not None
    assert bound is not None
    off = Fraction(value.value) - Fraction(bound.value)
    half = found.distances[0] + abs(off)
    return half + off, half - off


class Probing:
    """A car and copies of it with its loads moved, to see how distances follow."""

    def __init__(self, car: Car) -> None:
        self.car = car
        self.names = tuple(car.loads(None))
        steps = [{name: Fraction(1)} for name in self.names]
        uneven = {name: Fraction(prime) for name, prime in zip(self.names, (2, 5, 3, 7), strict=False)}
        self.cars = [self._moved(step) for step in (*steps, uneven)]
        self._uneven = tuple(uneven.values())

    def _moved(self, step: dict[str, Fraction]) -> Car:
        return self.car.with_weighing(self.car.weighing.shifted([step] * self.car.weighings))

    def rows(self, clause: str, check: Check, rule: DecisionRule) -> tuple[list[Row], Declined | None]:
        """The rows of a clause; or why it has none."""
        if not self.names:
            return [], Declined(clause, Unknown(absent=("weighing.readings",)), not_shown=True)
        found: list[Row] = []
        for part in parts(check, self.car):
            if not on_weights(part.check):
                continue
            if self._of_single_wheels(part):
                return [], Declined(clause, Unknown.because(NotPlanned.SINGLE_WHEELS))
            for state in part.states:
                rows = self._in_state(clause, part, state, rule, len(found))
                if isinstance(rows, Declined):
                    return [], rows
                found += rows
        return found, None

    def _of_single_wheels(self, part: Part) -> bool:
        names = {name.partition(".")[2] for name in uses(part.check) if is_weight(name)}
        return bool({"cross"} & names) or any("_" in name for name in names)

    def _in_state(
        self, clause: str, part: Part, state: State | None, rule: DecisionRule, first: int
    ) -> list[Row] | Declined:
        here = part.assess(Scene(self.car), state, rule)
        if here.outcome == NOT_APPLICABLE:
            return []
        if here.outcome == NOT_SHOWN:
            return Declined(clause, here.unknown, not_shown=True)
        now = list(shares_of(here))
        moved = [[d for d, _, _ in shares_of(part.assess(Scene(car), state, EXACTLY))] for car in self.cars]
        if not now or any(len(one) != len(now) for one in moved):
            return Declined(clause, Unknown.because(NotPlanned.NO_DISTANCE))
        found: list[Row] = []
        for place, (distance, guard, inclusive) in enumerate(now):
            fitted = self._fitted(state, distance, [one[place] for one in moved])
            if fitted is None:
                return Declined(clause, Unknown.because(NotPlanned.NOT_LINEAR))
            found.append(Row(clause, state, first + place, *fitted, guard, inclusive=inclusive))
        return found

    def _fitted(
        self, state: State | None, now: Fraction, moved: Sequence[Fraction]
    ) -> tuple[Linear, Linear] | None:
        for per in DIVISORS:
            divisors = [_load(car, state, per) for car in (self.car, *self.cars)]
            if any(one is None or one <= 0 for one in divisors):
                continue
            known = [one for one in divisors if one is not None]
            value = self._linear([d * by for d, by in zip((now, *moved), known, strict=True)])
            divisor = self._linear(known)
            if value is not None and divisor is not None:
                return value, divisor
        return None

    def _linear(self, values: Sequence[Fraction]) -> Linear | None:
        """The linear function with these values at the car and its copies; None where there is none."""
        now, *moved, uneven = values
        slopes = {name: value - now for name, value in zip(self.names, moved, strict=True)}
        by_slopes = sum((s * by for s, by in zip(slopes.values(), self._uneven, strict=True)), Fraction(0))
        return by_sides(now, slopes) if now + by_slopes == uneven else None


def by_sides(now: Fraction, slopes: dict[str, Fraction]) -> Linear | None:
    """What follows single loads, as following total, rear and left; None where it follows how an axle splits."""
    names = tuple(slopes)
    if names == ("total",):
        return Linear(now, slopes["total"])
    if names == ("front", "rear"):
        return Linear(now, slopes["front"], slopes["rear"] - slopes["front"])
    if names == ("left", "right"):
        return Linear(now, slopes["right"], left=slopes["left"] - slopes["right"])
    fl, fr, rl, rr = (slopes[name] for name in ("front_left", "front_right", "rear_left", "rear_right"))
    if fl + rr != fr + rl:
        return None
    return Linear(now, fr, rr - fr, fl - fr)


def _load(car: Car, state: State | None, name: str) -> Fraction | None:
    if not name:
        return Fraction(1)
    weight = car.weights(state).weight(name)
    return None if isinstance(weight, Unknown) else weight
