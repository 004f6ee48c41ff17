"""What a plan is to be best at: aims in order, each settled before the next is asked.

What is asked for is settled and proven. Aims behind it settle what it leaves open, each looked for as far as is
reasonable, and as far on every run. What they leave open too, the solver settles the same way on every run: it has one
thread and one seed.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from enum import StrEnum
from fractions import Fraction

from checker.quantities.kind import Unknown
from checker.reading.problems import InputError, Problem
from checker.reading.quick_dataclasses import dataclass
from checker.studies.planning.highs import Clock, solve
from checker.studies.planning.model import Model
from checker.studies.planning.options import Doing
from checker.studies.planning.program import Constraint, Program, Solution, Status

_SLACK = 1e-6
"""What an aim may lose of its best while the next is asked: kg, kg m, or so much of an act."""
_ROUNDS = 30


class Aim(StrEnum):
    """What a car is to be, as far as the rules let it."""

    LEAST = "least"
    """As light as may be."""
    INSIDE = "inside"
    """As much of its weight on the inside wheels as may be."""
    REAR = "rear"
    """As much of its weight on the rear wheels as may be."""
    LOW = "low"
    """Its centre of gravity as low as may be."""
    FEWEST_MOVES = "fewest-moves"
    """As few things done as may be."""


Costs = Mapping[int, float]


@dataclass(frozen=True, slots=True)
class Ratio:
    """A share that is to be as large as may be: `top` of `bottom`, each with what it is now."""

    top: Costs
    top_now: float
    bottom: Costs
    bottom_now: float

    def at(self, values: tuple[float, ...]) -> float:
        top = self.top_now + sum(by * values[at] for at, by in self.top.items())
        return top / (self.bottom_now + sum(by * values[at] for at, by in self.bottom.items()))

    def short_of(self, level: float) -> dict[int, float]:
        """What is to be least where the share is to pass a level."""
        both = {*self.top, *self.bottom}
        return {at: level * self.bottom.get(at, 0.0) - self.top.get(at, 0.0) for at in both}


def mass(model: Model) -> Costs:
    """What the car weighs more, at the start of a race where it is held to one."""
    fuel = {} if model.start is None else {model.fuel_at: float(model.start.loads.total)}
    return fuel | {
        at: float(o.kg) * {Doing.ADD: 1, Doing.TAKE_OFF: -1, Doing.MOVE: 0}[o.doing]
        for at, o in enumerate(model.options)
        if o.doing is not Doing.MOVE
    }


def acts(model: Model) -> Costs:
    """Each piece bolted on, each thing moved or taken off."""
    return {model.used.get(at, at): 1.0 for at in range(len(model.options))}


def share(model: Model, name: str) -> Ratio:
    """A share of the weight as weighed: of front, rear, left or right."""
    weights = model.car.weights()
    top_now, total = weights.weight(name), weights.weight("total")
    if isinstance(top_now, Unknown) or isinstance(total, Unknown):
        raise InputError([Problem("PL302", f"the aim {name} needs that weight, and it is not known", None)])
    top: dict[int, float] = {}
    bottom: dict[int, float] = {}
    for at, option in enumerate(model.options):
        loads = option.loads(None)
        assert not isinstance(loads, Unknown)
        top[at], bottom[at] = float(loads[name]), float(loads.total)
    return Ratio(top, float(top_now), bottom, float(total))


def height(model: Model) -> Ratio:
    """How high the centre of gravity is, with its sign turned.

    Raises:
        InputError: A height is not stated.
    """
    top: dict[int, float] = {}
    for at, option in enumerate(model.options):
        moment = option.moment
        if moment is None:
            where = option.place.name if option.place is not None and option.place.name else option.what
            message = f"the aim low needs how high {where} is"
            hint = "add above_ground: to its at:"
            raise InputError([Problem("PL303", message, option.of.span, hint=hint)])
        top[at] = -float(moment) / 1000
    total, height_m = model.car.weights().weight("total"), float(model.car.centre_of_gravity_height) / 1000
    if isinstance(total, Unknown):
        return Ratio(top, 0.0, mass(model), 1.0)
    return Ratio(top, -height_m * float(total), mass(model), float(total))


def aims_of(aim: Aim, model: Model) -> Iterator[Costs | Ratio]:
    """The aims in order."""
    if aim is Aim.INSIDE:
        yield share(model, model.car.inside)
    elif aim is Aim.REAR:
        yield share(model, "rear")
    elif aim is Aim.LOW:
        yield height(model)
    elif aim is Aim.FEWEST_MOVES:
        yield acts(model)
    yield mass(model)
    if aim is not Aim.FEWEST_MOVES:
        yield acts(model)


_NODES = 10
"""How far to look for what is best by the aims behind the first."""
_NOTHING_KG = 0.002
"""A share is settled to so much of its weight."""


def step_of(model: Model, costs: Costs) -> float:
    """What a sum of costs goes up by, all columns being whole; 0 where some are not."""
    if any(model.program.columns[at].whole is False for at, by in costs.items() if by):
        return 0.0
    exact = [Fraction(by).limit_denominator(10**6) for by in costs.values() if by]
    if any(abs(float(one) - by) > 1e-12 for one, by in zip(exact, filter(None, costs.values()), strict=True)):
        return 0.0
    if not exact:
        return 0.0
    bottom = math.lcm(*(one.denominator for one in exact))
    return math.gcd(*(abs(int(one * bottom)) for one in exact)) / bottom


def best(model: Model, aim: Aim, clock: Clock) -> Solution:
    """The best choice by all aims; its status is that of the first."""
    program, found = model.program, Solution(Status.INFEASIBLE)
    proven = False
    for number, one in enumerate(aims_of(aim, model)):
        if isinstance(one, Ratio):
            now, costs, limit = _largest(program, one, clock)
        else:
            nodes = _NODES if number else None
            now = solve(program, one, clock, step_of(model, one), nodes, found.values)
            costs, limit = dict(one), now.objective
        if not now.values:
            return found if found.values else now
        proven = proven or (number == 0 and now.status is Status.OPTIMAL)
        found = now
        program = program.with_constraints(Constraint("aim", costs, high=limit + _SLACK))
    return Solution(Status.OPTIMAL if proven else Status.TIME, found.values, found.objective)


def largest(program: Program, ratio: Ratio, clock: Clock) -> Solution:
    """The set-up with the largest share."""
    return _largest(program, ratio, clock)[0]


def _largest(program: Program, ratio: Ratio, clock: Clock) -> tuple[Solution, dict[int, float], float]:
    """The largest share: a level is set to what was reached until nothing better is (Dinkelbach).

    The first level is that of the program with everything cut to any size, from which it is never far.

    Returns:
        The solution, with the costs that hold it there and their limit.
    """
    _, level = _reached(program.relaxed(), ratio, clock, ratio.top_now / ratio.bottom_now)
    found, level = _reached(program, ratio, clock, level)
    costs = ratio.short_of(level)
    return found, costs, sum(by * found.values[at] for at, by in costs.items()) if found.values else 0.0


def _reached(program: Program, ratio: Ratio, clock: Clock, level: float) -> tuple[Solution, float]:
    """The solution with the largest share, and that share; a level to begin with may be beyond what can be."""
    found = Solution(Status.INFEASIBLE)
    for _ in range(_ROUNDS):
        again = solve(program, ratio.short_of(level), clock, _NOTHING_KG, None, found.values)
        if not again.values:
            return (found if found.values else again), level
        reached = ratio.at(again.values)
        if found.values and reached <= level + 1e-9:
            break
        found, level = again, reached
    return found, level
