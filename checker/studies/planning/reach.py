"""Which shares of weight a car can reach by all that may be done to it, and which of them the rules let it have.

Both regions are told by their corners: set-ups that are really possible, each the farthest in one direction. What lies
between corners is reached only as far as there are pieces for it.
"""

from __future__ import annotations

import math

from checker.quantities.kind import Unknown
from checker.reading.quick_dataclasses import dataclass
from checker.studies.planning.aims import Ratio, largest, share
from checker.studies.planning.highs import Clock
from checker.studies.planning.planner import WeightPlan
from checker.studies.planning.program import Program

DIRECTIONS = 24
"""In how many directions the farthest set-up is looked for."""


@dataclass(frozen=True, slots=True)
class Reached:
    """A set-up by its shares, as weighed."""

    inside: float
    rear: float


@dataclass(frozen=True, slots=True)
class Reach:
    """What a car can reach."""

    plan: WeightPlan
    now: Reached
    planned: Reached | None
    """Where the plan takes it; None: there is none."""
    possible: tuple[Reached, ...]
    """Corners of all that may be done, all round."""
    legal: tuple[Reached, ...]
    """Corners of what meets every clause on weights, guarded; none where nothing is shown to."""
    whole: bool
    """False: the time was up before every direction was looked in."""


def reach(plan: WeightPlan, seconds: float) -> Reach:
    """What a car can reach.

    Args:
        plan: A plan for it, with all that may be done and all that the rules ask.
        seconds: How long to look.

    Raises:
        InputError: The weights inside or on the rear are not known.
    """
    model, clock = plan.model, Clock(seconds)
    inside, rear = share(model, model.car.inside), share(model, "rear")
    clauses = [group for group in model.groups if group.startswith("clause ")]
    possible, whole = _corners(model.without(*clauses), inside, rear, clock)
    lacking = plan.is_lacking
    legal, whole_too = ((), True) if lacking else _corners(model.program, inside, rear, clock)
    planned = None
    if plan.found is not None:
        weights = plan.found.inspection.car.weights()
        shares = [weights.percentage(name) for name in ("inside", "rear")]
        known = [float(one) for one in shares if not isinstance(one, Unknown)]
        planned = Reached(*known) if len(known) == 2 else None
    now = Reached(inside.top_now / inside.bottom_now, rear.top_now / rear.bottom_now)
    return Reach(plan, now, planned, possible, legal, whole and whole_too)


def _corners(program: Program, inside: Ratio, rear: Ratio, clock: Clock) -> tuple[tuple[Reached, ...], bool]:
    found: dict[tuple[float, float], Reached] = {}
    for number in range(DIRECTIONS):
        if clock.left < 0.02:
            return _hull(list(found.values())), False
        turn = 2 * math.pi * number / DIRECTIONS
        both = _towards(math.cos(turn), inside, math.sin(turn), rear)
        values = largest(program, both, clock).values
        if not values:
            return (), True
        corner = Reached(inside.at(values), rear.at(values))
        found[round(corner.inside, 9), round(corner.rear, 9)] = corner
    return _hull(list(found.values())), True


def _towards(a: float, inside: Ratio, b: float, rear: Ratio) -> Ratio:
    """The share that grows in one direction of both."""
    at = {*inside.top, *rear.top}
    top = {n: a * inside.top.get(n, 0.0) + b * rear.top.get(n, 0.0) for n in at}
    return Ratio(top, a * inside.top_now + b * rear.top_now, inside.bottom, inside.bottom_now)


def _hull(points: list[Reached]) -> tuple[Reached, ...]:
    """The corners all round, without those that lie between others (Andrew's monotone chain)."""
    ordered = sorted(points, key=lambda one: (one.inside, one.rear))
    if len(ordered) < 3:
        return tuple(ordered)

    def half(one_way: list[Reached]) -> list[Reached]:
        kept: list[Reached] = []
        for point in one_way:
            while len(kept) > 1 and _turn(kept[-2], kept[-1], point) <= 1e-15:
                kept.pop()
            kept.append(point)
        return kept[:-1]

    return (*half(ordered), *half(ordered[::-1]))


def _turn(a: Reached, b: Reached, c: Reached) -> float:
    return (b.inside - a.inside) * (c.rear - a.rear) - (b.rear - a.rear) * (c.inside - a.inside)
