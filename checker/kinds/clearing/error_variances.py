"""Which errors of a car move what, and by how much: the variances of what is stated, by what they move."""

from __future__ import annotations

from checker.car.car import Car
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

    def work_out() -> bool:
        by_name = car.once(names_moved, lambda: names_moved(car), any_day=True)
        return any(is_weight(name) or name in by_name for name in rests_on(car, uses))

    return car.once((may_move, uses), work_out, any_day=True)


def names_moved(car: Car) -> frozenset[str]:
    """Facts, parts of the structure and fields of lists that are out by something."""
    return frozenset(name for (name, _), by_place in error_variances(car).items() if by_place)


def error_variances(car: Car) -> dict[tuple[str, str], ByPlace]:
    """By what is moved, and the path of the entry that it is of ("" for a fact)."""

    def find() -> dict[tuple[str, str], ByPlace]:
        of_facts = (
            ((name, ""), stated) for every in (car.facts, car.structure) for name, stated in every.items()
        )
        of_fields = (
            ((f"{list_name}.{field}", entry.path), stated)
            for list_name in car.vocabulary.lists
            for entry in car.every_entry(list_name)
            for field, stated in entry.fields.items()
        )
        found: dict[tuple[str, str], ByPlace] = {}
        for key, stated in (*of_facts, *of_fields):
            for place, variance in variances(car, stated):
                by_place = found.setdefault(key, {})
                by_place[place] = by_place.get(place, 0.0) + float(variance) * UP
        return found

    return car.once(error_variances, find, any_day=True)


def rests_on_more(car: Car, name: str) -> bool:
    """Whether a name rests on more than itself, as a place from the other axle does."""
    return rests_on(car, (name,)) != {name}
