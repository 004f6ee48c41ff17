"""The weights of a state in floats, and how far these are out at the most: the sum of what the weighing and each
difference from it adds, each put into a float once for a car."""

from __future__ import annotations

from fractions import Fraction
from functools import partial

from checker.car.car import Car
from checker.car.errors.followed import TOLD, Part, added_by, parts
from checker.car.scene import Scene
from checker.car.weights.weights import PAIRS, State, by_side
from checker.kinds.clearing.floats import ROUNDING, TINY, in_float
from checker.kinds.clearing.scatter_arithmetic import UP

InFloat = tuple[float, float]
"""A number and what it is out by at the most."""


def weight_in_floats(name: str, scene: Scene) -> InFloat | None:
    """A weight or a percentage, the latter as a ratio.

    Args:
        name: Its full name, as "percentage.rear".
        scene: The car, its state and which weighing counts.

    Returns:
        None where it is not known, or is not of two wheels on an axle or a side, or of all.
    """
    what, _, which = name.partition(".")
    if which not in TOLD:
        return None
    car, state, reading = scene.car, scene.state, scene.weighing
    sums = car.of_errors.once((_sums, state, reading), tuple, partial(_sums, car, state, reading))
    kg = sums[PAIRS.index(by_side(car.inside, which))]
    if kg is None or what == "weight":
        return kg
    return None if sums[0] is None else _share(*kg, *sums[0])


def _share(part: float, part_out: float, total: float, total_out: float) -> InFloat | None:
    least = (total - total_out) / UP
    if least <= 0:
        return None
    share = part / total
    out = (part_out + abs(share) * UP * total_out) / least
    return share, out * UP + abs(share) * 2 * ROUNDING + TINY


def _sums(car: Car, state: State | None, which: int | None) -> tuple[InFloat | None, ...]:
    """kg by each of `PAIRS`; None of what is not known."""
    every = [
        car.of_errors.once((_added, part), tuple, partial(_added, car, part))
        for part in parts(car, state, which)
    ]
    return tuple(map(_sum, zip(*every, strict=True)))


def _added(car: Car, part: Part) -> tuple[InFloat | None, ...]:
    return tuple(in_float(kg) if isinstance(kg, Fraction) else None for kg in added_by(car, part))


def _sum(added: tuple[InFloat | None, ...]) -> InFloat | None:
    """A sum of so many floats is rounded by so many roundings of all of them at the most."""
    known = [one for one in added if one is not None]
    if len(known) < len(added):
        return None
    counted = [one for one in known if one[0] or one[1]]
    if len(counted) < 2:
        return counted[0] if counted else (0.0, 0.0)
    size = sum(abs(kg) for kg, _ in counted)
    out = sum(out for _, out in counted)
    return sum(kg for kg, _ in counted), (out + len(counted) * size * ROUNDING) * UP + TINY
