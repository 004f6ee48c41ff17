"""The fuel with which a car is legal by more than its gear resolves: the levels that a guarded margin leaves.

How well a margin is known follows the fuel by a root, so these levels are closed in on, to a thousandth of a litre and
inwards; the levels that are legal as measured are exact (`checker.studies.one_car.finish`).
"""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from itertools import pairwise

from checker.car.described.vocabulary import ENTRANT
from checker.car.scene import Scene
from checker.car.weights.differences import LITRE
from checker.car.weights.fuel import layers
from checker.car.weights.states import state_of
from checker.car.weights.weights import State
from checker.kinds.frame.framed import Framed
from checker.kinds.frame.legal_fuel import legal_fuel
from checker.kinds.judging.assessment import DISPENSATION, PASS
from checker.kinds.judging.spread import guard_band
from checker.quantities.intervals import Interval, Intervals, union
from checker.reading.quick_dataclasses import replace
from checker.studies.one_car.condition_checks import condition_checks
from checker.verdict.decision import rule_for
from checker.verdict.inspection import Inspection

_STEP_MM3 = LITRE.factor / 1000
_SEARCHES = 24
"""How often the level that is clear by the most is closed in on: each leaves two thirds."""


def guarded_levels(inspection: Inspection, legal: Intervals, tyres: str | None, wear: Fraction) -> Intervals:
    """Of the levels that are legal as measured, those at which every clause is met by more than the gear resolves.

    Args:
        legal: In mm3, on these tyres and so far worn.
        tyres: None: those that the car was weighed on.
        wear: 0 new to 1 worn.
    """
    scene = Scene(inspection.car)
    binding = {o.clause.number for o in inspection.outcomes if o.counts and o.outcome != DISPENSATION}
    rule = replace(rule_for(inspection.audience, inspection.pack.decision), audience=ENTRANT)
    left = legal
    for clause, framed in condition_checks(inspection):
        for line in legal_fuel(framed, scene, met=True) if clause.number in binding else ():
            rest = line.state
            if line.asked is None or rest.wear not in (None, wear) or rest.tyres not in (None, tyres):
                continue

            def slack(fuel_mm3: Fraction, rest: State = rest, framed: Framed = framed) -> Fraction:
                state = state_of(fuel_mm3, rest.driver, rest.tyres, rest.wear)
                found = framed.in_one_state(scene.in_state(state), rule)
                if found.margin_value is None:
                    return Fraction(0 if found.outcome == PASS else -1)
                return found.margin_value - (guard_band(found.spread) if found.spread else 0)

            levels = [layer.low_mm3 for layer in layers(inspection.car)][1:]
            pieces = [piece for one in left for piece in _cut(one, levels)]
            left = union(clear for piece in pieces for clear in _clear(slack, piece))
    return left


def _cut(whole: Interval, levels: list[Fraction]) -> list[Interval]:
    """The stretch from level to level of the tank: between two of them margins bend but one way."""
    cuts = [whole.low, *(level for level in levels if whole.low < level < whole.high), whole.high]
    return [Interval(low, high) for low, high in pairwise(cuts)]


def _clear(slack: Callable[[Fraction], Fraction], piece: Interval) -> Intervals:
    """Where in a stretch the slack is not below zero: one stretch again, for it bends but one way."""
    low, high = piece.low, piece.high
    ends = slack(low) >= 0, slack(high) >= 0
    if all(ends):
        return (piece,)
    top = low if ends[0] else high if ends[1] else _best(slack, low, high)
    if top is None:
        return ()
    first = low if ends[0] else _edge(slack, low, top)
    last = high if ends[1] else _edge(slack, high, top)
    return (Interval(first, last),)


def _best(slack: Callable[[Fraction], Fraction], low: Fraction, high: Fraction) -> Fraction | None:
    """A level at which the slack is not below zero, closed in on from both ends; None where there is none."""
    for _ in range(_SEARCHES):
        third = (high - low) / 3
        a, b = low + third, high - third
        at_a, at_b = slack(a), slack(b)
        if at_a >= 0 or at_b >= 0:
            return a if at_a >= 0 else b
        low, high = (a, high) if at_a < at_b else (low, b)
    return None


def _edge(slack: Callable[[Fraction], Fraction], outside: Fraction, inside: Fraction) -> Fraction:
    """The edge of what is clear, on its inner side."""
    while abs(inside - outside) > _STEP_MM3:
        middle = (inside + outside) / 2
        inside, outside = (middle, outside) if slack(middle) >= 0 else (inside, middle)
    return inside
