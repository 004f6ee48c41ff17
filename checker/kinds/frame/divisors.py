"""Divisors that turn their sign within a range of conditions.

One linear expression over another is worst at a corner of the range only while its divisor stays on one side of
zero. Divisors are linear in the weights, so it is enough to look at the corners.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from checker.car.described.vocabulary import Condition
from checker.car.scene import Scene
from checker.kinds.contract.check import Check
from checker.kinds.frame.entries import members
from checker.kinds.frame.frame import Frame
from checker.kinds.judging.reasons import NotJudged
from checker.quantities.formula.expression import Expression
from checker.quantities.formula.typed import Run
from checker.quantities.kind import Unknown


def turned_divisor(framed: Frame, scene: Scene) -> Unknown | None:
    """Why the check cannot be told in its conditions, where a divisor turns its sign in one; else None."""
    if not any(expression.denominators for expression in open_expressions(framed)):
        return None
    for condition in framed.conditions:
        if not is_range(condition):
            continue
        signs: dict[int, set[bool]] = {}
        for state in scene.car.states(condition):
            for place, (divisor, where) in enumerate(_divisors(framed, scene.in_state(state))):
                value = divisor(where)
                if isinstance(value, Fraction):
                    signs.setdefault(place, set()).update({value > 0} if value else {True, False})
        if any(len(found) > 1 for found in signs.values()):
            return Unknown.because(NotJudged.DIVISOR_TURNS, condition.name)
    return None


def is_range(condition: Condition) -> bool:
    """Whether it holds more states than its corners: some range of fuel, or all wear from new to worn."""
    fuel = condition.fuel is not None and condition.fuel[0] != condition.fuel[1]
    return fuel or (condition.wear is not None and len(condition.wear) > 1)


def open_expressions(check: Check) -> Iterator[Expression]:
    """The formulas of a check, and of everything inside that has no conditions of its own."""
    yield from (expression for _, expression in check.expressions())
    for branch in check.branches():
        if not branch.conditions:
            yield from open_expressions(branch)


def _divisors(check: Check, scene: Scene) -> Iterator[tuple[Run, Scene]]:
    """Every divisor that changes with the condition, with the scene that it is evaluated in."""
    many = getattr(check, "many", None)
    scenes = [scene]
    if many is not None:
        found = members(many, scene)
        scenes = [] if isinstance(found, Unknown) else [member.scene for member in found]
    for where in scenes:
        for role, expression in check.expressions():
            if many is None or role not in ("when", "unless"):
                yield from ((divisor, where) for divisor in expression.denominators)
        for branch in check.branches():
            if not branch.conditions:
                yield from _divisors(branch, where)
