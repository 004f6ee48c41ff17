"""Which errors of a car move what, and by how much: the variances of what is stated, by what they move."""

from __future__ import annotations

from functools import partial

from checker.car.car import Car
from checker.car.described.stated import Stated
from checker.car.errors.sources import variances
from checker.car.weights.places import rests_on
from checker.kinds.clearing.scatter_arithmetic import UP
from checker.kinds.judging.spread import is_weight
from checker.quantities.formula.expression import Expression

ByPlace = dict[int | None, float]
"""Variance of one value by which of several values it is that moves; None: all of them, or the only one."""


def is_untouched(expression: Expression, car: Car) -> bool:
    """Whether no error can move it."""
    return expression.constant or expression.counts_all or not may_move(car, expression.uses)


def may_move(car: Car, uses: frozenset[str]) -> bool:
    """Whether any error may move anything of these names."""

    names = partial(rests_on, car, uses)
    return car.of_errors.once(
        (may_move, uses), names, lambda: any(is_weight(name) or _is_moved(car, name) for name in names())
    )


def _is_moved(car: Car, name: str) -> bool:
    """Whether a fact, a part of the structure, or the field of any entry is out by something."""

    def find() -> bool:
        list_name, _, field = name.partition(".")
        every = (entry.stated(field) for entry in car.every_entry(list_name))
        return any(
            stated is not None and any(True for _ in variances(car, stated))
            for stated in (car.stated(name), *every)
        )

    return car.of_errors.once((_is_moved, name), lambda: {name}, find)


def variances_by_place(car: Car, stated: Stated) -> ByPlace:
    """What is stated of one thing is out by so much."""
    found: ByPlace = {}
    for place, variance in variances(car, stated):
        found[place] = found.get(place, 0.0) + float(variance) * UP
    return found


def rests_on_more(car: Car, name: str) -> bool:
    """Whether a name rests on more than itself, as a place from the other axle does."""
    return rests_on(car, (name,)) != {name}
