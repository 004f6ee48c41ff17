"""A race followed lap by lap: fuel is burnt, tyres and brakes wear, and the car drifts towards its limits."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from checker.car.scene import Scene
from checker.car.weights.states import state_of
from checker.kinds.judging.assessment import FAIL
from checker.quantities.kind import Unknown
from checker.studies.one_car.condition_table import (
    Corner,
    Finish,
    condition_checks,
    condition_table,
    corner,
    exact_rule,
)
from checker.verdict.inspection import Inspection


@dataclass(frozen=True, slots=True)
class Plan:
    """What a race takes."""

    fuel_per_lap_mm3: Fraction
    laps: int
    start_mm3: Fraction | None = None
    """Fuel on board at the start; None: the least that is enough."""


@dataclass(frozen=True, slots=True)
class Lap:
    """The car after so many laps."""

    number: int
    """0 at the start."""
    fuel_mm3: Fraction
    out: Corner
    """As it would be weighed, driver out."""
    aboard: Corner
    failing: tuple[str, ...]
    """Numbers of the clauses that it would then fail."""


@dataclass(frozen=True, slots=True)
class Race:
    """A race from start to flag on the tyres that the car was weighed on."""

    plan: Plan
    tyres: str | None
    start_mm3: Fraction
    least_start_mm3: Fraction | None
    """The least fuel to start with that leaves the car legal at the flag; None: no amount does."""
    finish: Finish | None
    """What has to be left at the flag, and which clause asks for it."""
    laps: tuple[Lap, ...]
    dry_after: int | None
    """The lap on which the fuel gives out; None: it lasts."""

    @property
    def over_capacity(self) -> bool:
        """More would have to be carried at the start than the tank holds."""
        return self.least_start_mm3 is not None and self.start_mm3 < self.least_start_mm3


def race(inspection: Inspection, plan: Plan) -> Race:
    """Follow a race. Wear runs evenly from new to worn."""
    car = inspection.car
    fitted = car.value("weighing.tyres")
    tyres = None if isinstance(fitted, Unknown) else car.tyre_set(fitted)
    finishes = condition_table(inspection).finishes
    finish = next((one for one in finishes if one.tyres == tyres), None)
    burnt = plan.fuel_per_lap_mm3 * plan.laps
    least = None if finish is None or finish.fuel_mm3 is None else finish.fuel_mm3 + burnt
    start = plan.start_mm3
    capacity, unusable = car.value("fuel.capacity"), car.value("fuel.unusable")
    if start is None:
        rest = Fraction(0) if isinstance(unusable, Unknown) else unusable
        start = burnt + rest if least is None else least
        if not isinstance(capacity, Unknown):
            start = min(start, capacity)
    laps = tuple(_lap(inspection, plan, start, tyres, number) for number in range(plan.laps + 1))
    rest = Fraction(0) if isinstance(unusable, Unknown) else unusable
    dry = next((n for n in range(1, plan.laps + 1) if start - n * plan.fuel_per_lap_mm3 < rest), None)
    return Race(plan, tyres, start, least, finish, laps, dry)


def _lap(inspection: Inspection, plan: Plan, start: Fraction, tyres: str | None, number: int) -> Lap:
    car = inspection.car
    fuel = max(Fraction(0), start - number * plan.fuel_per_lap_mm3)
    wear = Fraction(number, plan.laps)
    states = {driver: state_of(fuel, driver, tyres, wear) for driver in ("out", "aboard")}
    scene, rule = Scene(car), exact_rule(inspection)
    failing: dict[str, None] = {}
    for clause, framed in condition_checks(inspection):
        drivers = [driver for c in framed.conditions for driver in c.driver or ("out", "aboard")]
        for driver in dict.fromkeys(drivers):
            if framed.in_one_state(scene.in_state(states[driver]), rule).outcome == FAIL:
                failing[clause.number] = None
    return Lap(number, fuel, corner(car, states["out"]), corner(car, states["aboard"]), tuple(failing))
