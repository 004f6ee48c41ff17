"""The run of a race: of all that a condition asks for, what lies on the way from start to flag."""

from __future__ import annotations

from fractions import Fraction

from checker.car.described.asking import Described
from checker.car.described.vocabulary import Condition
from checker.car.weights.states import state_of, states
from checker.car.weights.weights import State
from checker.reading.quick_dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class RaceRun:
    """From so much fuel at the start, with all new, to so much at the flag, worn. In mm3."""

    start: Fraction
    flag: Fraction


def on_the_run(car: Described, condition: Condition, run: RaceRun) -> tuple[State, ...]:
    """The corners of a condition that lie on the run; all of it where it asks for one amount of fuel, or for none."""
    corners = states(car, condition)
    if condition.fuel is None or condition.fuel[0] == condition.fuel[1]:
        return corners
    found: dict[State, None] = {}
    for state in corners:
        ends = (run.start, run.flag) if state.wear is None else (run.flag if state.wear else run.start,)
        found |= {state_of(fuel, state.driver, state.tyres, state.wear): None for fuel in ends}
    return tuple(found)
