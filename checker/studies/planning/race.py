"""The fuel to start a race with, as part of a plan: a car that is held to the run from start to flag alone.

What the race burns is settled; how much is on board at the start is chosen in steps, and weighs as the tank's place has
it. So a car may be legal all the way that is not legal with every amount of fuel.
"""

from __future__ import annotations

from fractions import Fraction

from checker.car.car import Car
from checker.car.described.planning import Planning, RaceFuel
from checker.car.weights.differences import LITRE, litres
from checker.car.weights.fuel import density
from checker.car.weights.geometry import MaybeFraction
from checker.car.weights.places import spot_at
from checker.car.weights.race_run import RaceRun
from checker.quantities.kind import Unknown
from checker.reading.problems import InputError, Problem
from checker.reading.quick_dataclasses import dataclass, replace
from checker.studies.planning.options import TANK, Loads, NotReckoned, Option, loads_at
from checker.studies.planning.reasons import NotPlanned

STEP_MM3 = LITRE.factor / 10
"""A tenth of a litre: what a start is filled to."""


@dataclass(frozen=True, slots=True)
class Start:
    """With how much fuel a race may be begun."""

    race: RaceFuel
    least_mm3: Fraction
    steps: int
    """How many of `STEP_MM3` more there may be."""
    loads: Loads
    """Of one step."""
    reckoned_at: int = 0
    """The start, in steps, that what the clauses ask is worked out at; what the gear leaves open changes with it."""

    def found_at(self, run: RaceRun) -> Start:
        """The same, reckoned at the start of a run."""
        return replace(self, reckoned_at=int((run.start - self.least_mm3) / STEP_MM3))

    def run(self, steps: int) -> RaceRun:
        start = self.least_mm3 + steps * STEP_MM3
        return RaceRun(start, start - self.race.burnt)


def start_of(car: Car, planning: Planning) -> Start:
    """With how much fuel the race of a car's file may be begun.

    Raises:
        InputError: No race is told of, its fuel does not fit the tank, or what a litre weighs and where is not known.
    """
    race = planning.race
    if race is None:
        hint = "add race: {fuel_per_lap: 0.2 L, laps: 40} under planning"
        raise InputError([Problem("PL306", "--race needs to know what the race burns", None, hint=hint)])
    if car.tank_levels:
        raise _refused(race, "the tank is told by levels, and a run over them cannot be planned")
    rest, holds = car.value("fuel.unusable"), car.value("fuel.capacity")
    needed = race.burnt + (Fraction(0) if isinstance(rest, Unknown) else rest)
    least = needed if race.least is None else max(needed, race.least)
    ends = [end for end in (race.most, holds) if end is not None and not isinstance(end, Unknown)]
    if not ends:
        raise _refused(race, "how much fuel the tank holds is not stated, nor start_at_most")
    if least > min(ends):
        most = litres(min(ends))
        raise _refused(race, f"it needs {litres(least)} at the start, and at most {most} may be on board")
    return Start(race, least, int((min(ends) - least) / STEP_MM3), _loads_of_a_step(car, race))


def options_beside(
    start: Start | None, options: tuple[Option, ...], left_out: tuple[NotReckoned, ...]
) -> tuple[tuple[Option, ...], tuple[NotReckoned, ...]]:
    """The options with a race whose start is chosen: the tank then stays where it is."""
    if start is None or not start.steps:
        return options, left_out
    why = Unknown.because(NotPlanned.WITH_THE_START)
    of_tank = tuple(NotReckoned(o.what, why) for o in options if o.path == TANK)[:1]
    return tuple(option for option in options if option.path != TANK), left_out + of_tank


def _loads_of_a_step(car: Car, race: RaceFuel) -> Loads:
    per_mm3: MaybeFraction = density(car)
    if isinstance(per_mm3, Unknown):
        raise _refused(race, "; ".join(per_mm3.told()) + ": what a litre weighs is not known")
    loads = loads_at(car, [(per_mm3 * STEP_MM3, spot_at(car, "fuel.at"))])
    if isinstance(loads, Unknown):
        raise _refused(race, f"what a litre adds to each side is not known: {'; '.join(loads.told())}")
    return loads


def _refused(race: RaceFuel, why: str) -> InputError:
    return InputError([Problem("PL307", f"the race cannot be planned for: {why}", race.span)])
