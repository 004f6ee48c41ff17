"""How the weights of a car follow the sources of error, part by part.

The weights in a state are a sum: the weighing, and what each difference from it adds. A part that does not rest on
what an error moves is the very same on the car that has it moved, so only the others are worked out anew, and once
for all states.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable
from fractions import Fraction
from functools import partial
from typing import Any

from checker.car.car import Car
from checker.car.described.asking import Worked
from checker.car.errors.every import sources_of
from checker.car.errors.slopes import Slopes, of_loads
from checker.car.errors.sources import ErrorSource, Perturbation, moved
from checker.car.errors.written_out import written_out
from checker.car.weights.differences import Kg, makers
from checker.car.weights.geometry import MaybeFraction
from checker.car.weights.weights import PAIRS, State, as_weighed, by_side
from checker.car.weights.what_if import altered
from checker.quantities.kind import Unknown

Part = tuple[Hashable, ...]
"""What makes a part of the weights, and what it makes it of."""

TOLD = (*PAIRS, "inside", "outside")
"""The weights whose gains can be told."""

STEP = Fraction(1, 10**12)
"""In base units: small against any measurement, large against the 30 digits that roots and angles are carried to."""
STEEP = 10**7
"""A slope so steep may be a jump: then half the step gives twice the slope."""


def gain(
    car: Car, state: State | None, which: int | None, name: str, source: ErrorSource, step: Fraction
) -> MaybeFraction:
    """What a weight which is known gains in kg, exactly, with what a source of error moves moved.

    Args:
        state: None: as weighed.
        which: Which repeat reading counts, from 0; None: the mean of all.
        name: One of `TOLD`.
        step: In base units of what it moves.
    """
    name = by_side(car.inside, name)
    gained = Fraction(0)
    for part in parts(car, state, which):
        if source.moves in _worked_out(car, part).names:
            by = gain_of(car, part, source.lever, step)[name]
            if isinstance(by, Unknown):
                return by
            gained = gained + by if gained else by
    return gained


def slopes(car: Car, state: State | None, which: int | None) -> dict[str, Slopes] | None:
    """By the key of each lever that these weights follow; None where floats do not tell them all."""

    def add_up() -> dict[str, Slopes] | None:
        found: dict[str, Slopes] = {}
        for part in parts(car, state, which):
            names = lambda part=part: _worked_out(car, part).names  # noqa: E731
            of_part = car.of_errors.once((slopes_of, part), names, partial(slopes_of, car, part))
            if of_part is None:
                return None
            for key, one in of_part.items():
                found[key] = found[key].and_with(one) if key in found else one
        return found

    return car.once((slopes, state, which), add_up, any_day=True)


def slopes_of(car: Car, part: Part) -> dict[str, Slopes] | None:
    """How one part follows each lever: as written out, else by moved copies."""
    levers = levers_of(car, part)
    written = written_out(car, part, levers)
    found: dict[str, Slopes] = {}
    for key, sources in levers.items():
        lever = sources[0].lever
        if part[0] is as_weighed and lever.loads is not None:
            told = of_loads(car, lever.loads, part[1])  # type: ignore[arg-type]
        else:
            told = written.get(key)
        if told is None:
            told = _by_copies(car, part, lever)
        if told is None:
            return None
        degrees = [one.degrees_of_freedom for one in sources if one.degrees_of_freedom is not None]
        variance = sum(float(one.variance) for one in sources)
        found[key] = told._replace(variance=variance, degrees=min(degrees, default=None))
    return found


def _by_copies(car: Car, part: Part, lever: Perturbation) -> Slopes | None:
    """Slopes ahead, and where nothing moves there the magnitude behind."""
    ahead = list(gain_of(car, part, lever, STEP).values())
    straight = part[0] is as_weighed  # which is a sum of loads
    behind: list[MaybeFraction] = [Fraction(0)] * len(PAIRS)
    if not straight and not all(ahead):
        behind = list(gain_of(car, part, lever, -STEP).values())
    known = [gain for gain in (*ahead, *behind) if not isinstance(gain, Unknown)]
    if len(known) < 2 * len(PAIRS):
        return None
    by_unit = [float(gain / STEP) for gain in known]
    if max(map(abs, by_unit)) > STEEP / 10 and not _is_straight(car, part, lever, ahead):
        return None
    moves, back = tuple(by_unit[: len(PAIRS)]), tuple(abs(one) for one in by_unit[len(PAIRS) :])
    return Slopes(moves, tuple(map(abs, moves)), back, straight)


def _is_straight(car: Car, part: Part, lever: Perturbation, gains: list[MaybeFraction]) -> bool:
    """Whether half the step gains half of it, so that this is no jump."""
    halves = gain_of(car, part, lever, STEP / 2).values()
    pairs = zip(halves, gains, strict=True)
    return all(isinstance(half, Fraction) and 2 * half == gain for half, gain in pairs)


def parts(car: Car, state: State | None, which: int | None) -> tuple[Part, ...]:
    """All that the weights in a state are the sum of."""
    differing = () if state is None or state.is_as_weighed else makers(car, state)
    return ((as_weighed, which), (altered,), *differing)


def levers_of(car: Car, part: Part) -> dict[str, list[ErrorSource]]:
    """The errors of anything that a part rests on, by the keys of the levers that they move."""

    def find() -> dict[str, list[ErrorSource]]:
        found: dict[str, list[ErrorSource]] = {}
        for source in sources_of(car, _worked_out(car, part).names):
            found.setdefault(source.lever.key, []).append(source)
        return found

    return car.of_errors.once((levers_of, part), lambda: _worked_out(car, part).names, find)


def gain_of(car: Car, part: Part, lever: Perturbation, step: Fraction) -> Kg:
    """What one part gains with a lever moved, by each of `PAIRS`."""

    def compare() -> Kg:
        was, now = _worked_out(car, part), _worked_out(moved(car, lever, step), part)
        before, after = _kg_of(part[0], was), _kg_of(part[0], now)
        return {name: _less(_sum(after, name), _sum(before, name)) for name in PAIRS}

    key = (gain_of, part, lever.key, step.numerator, step.denominator)
    return car.once(key, compare, any_day=True)


def added_by(car: Car, part: Part) -> tuple[MaybeFraction, ...]:
    """What one part adds to each of `PAIRS`, in kg."""
    every = _kg_of(part[0], _worked_out(car, part))
    return tuple(_sum(every, name) for name in PAIRS)


def _worked_out(car: Car, part: Part) -> Worked[Any]:
    make: Callable[..., Any] = part[0]  # type: ignore[assignment]
    return car.worked_out(make, *part[1:])


def _kg_of(make: object, worked: Worked[Any]) -> list[Kg]:
    if make is as_weighed:
        return [worked.result]
    if make is altered:
        return [kg for _, kg in worked.result]
    return [] if worked.result is None else [worked.result[1]]


def _sum(every: list[Kg], name: str) -> MaybeFraction:
    if len(every) == 1:
        return every[0][name]
    found = Fraction(0)
    for kg in every:
        by = kg[name]
        if isinstance(by, Unknown):
            return by
        found += by
    return found


def _less(after: MaybeFraction, before: MaybeFraction) -> MaybeFraction:
    """What is not known on the car itself is not asked for."""
    if isinstance(after, Unknown) or isinstance(before, Unknown):
        return after if isinstance(after, Unknown) else Fraction(0)
    return after - before
