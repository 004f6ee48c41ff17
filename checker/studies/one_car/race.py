"""A race followed lap by lap: fuel is burnt, tyres and brakes wear, and the car drifts towards its limits.

A race is legal when the whole run is, from the start with new tyres to the flag with worn ones, not only its laps.
On the way weights run straight from level to level of the tank, so what holds at the start, at the flag and at each
level between holds throughout (`checker.kinds.frame.legal_fuel`).
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from checker.car.scene import Scene
from checker.car.weights.differences import LITRE
from checker.car.weights.states import state_of
from checker.kinds.frame.framed import Framed
from checker.kinds.frame.legal_fuel import along, legal_fuel
from checker.kinds.judging.assessment import DISPENSATION, FAIL, LegalFuel
from checker.kinds.judging.exact_rule import EXACTLY
from checker.pack.model import Clause
from checker.quantities.intervals import Interval, Intervals, without
from checker.quantities.kind import Unknown, unite
from checker.quantities.rounding import round_to
from checker.reading.quick_dataclasses import dataclass, replace
from checker.studies.one_car.condition_checks import condition_checks
from checker.studies.one_car.condition_table import Corner, corner
from checker.studies.one_car.finish import WORN, limiting, on_tyres
from checker.verdict.inspection import Inspection

NEW = Fraction(0)


@dataclass(frozen=True, slots=True)
class Plan:
    """What a race takes."""

    fuel_per_lap_mm3: Fraction
    laps: int
    start_mm3: Fraction | None = None
    """Fuel on board at the start; None: the least that is enough."""

    @property
    def burnt_mm3(self) -> Fraction:
        return self.fuel_per_lap_mm3 * self.laps


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
class Starts:
    """The fuel to start with on one set of tyres so that the car is legal from start to flag."""

    tyres: str | None
    """None: those that the car was weighed on."""
    legal: Intervals | None
    """In mm3, whatever the tank holds; None where it is not known."""
    most_mm3: Fraction | None
    """What the tank holds, as far as the clauses ask; None where that is not known."""
    clauses: tuple[Clause, ...]
    """Those that fail with any other amount."""
    unknown: Unknown
    """What is lacking where it is not known."""

    @property
    def least_mm3(self) -> Fraction | None:
        return self.legal[0].low if self.legal else None


@dataclass(frozen=True, slots=True)
class Race:
    """A race from start to flag on the tyres that the car was weighed on."""

    plan: Plan
    tyres: str | None
    start_mm3: Fraction
    starts: tuple[Starts, ...]
    """For every set of tyres."""
    laps: tuple[Lap, ...]
    dry_after: int | None
    """The lap on which the fuel gives out; None: it lasts."""

    @property
    def fitted(self) -> Starts:
        """The fuel to start with on the tyres of the run."""
        return next(one for one in self.starts if one.tyres == self.tyres)

    @property
    def legal(self) -> bool | None:
        """Whether every clause is met all the way; None: that is not known."""
        legal = self.fitted.legal
        return None if legal is None else any(self.start_mm3 in one for one in legal)

    @property
    def over_capacity(self) -> bool:
        """More would have to be carried at the start than the tank holds."""
        least = self.fitted.least_mm3
        return least is not None and self.start_mm3 < least


@dataclass(frozen=True, slots=True)
class _Asked:
    """What one clause asks of the run in one condition, with the driver as it says."""

    clause: Clause
    framed: Framed
    wear: tuple[Fraction, ...] | None
    """0, 1 or both; None: as weighed."""
    lines: tuple[LegalFuel, ...]
    """One for each wear."""

    def fails(self, burnt_mm3: Fraction, scene: Scene) -> tuple[Intervals, Unknown]:
        """With how much fuel at the start it fails at the start, at the flag or at a level between; in mm3."""
        first, last = self.lines[0], self.lines[-1]
        found: list[Interval] = []
        unknown = [line.unknown for line in self.lines]
        if self.wear != (WORN,):
            found += first.fails
        if self.wear != (NEW,):
            found += (one.mapped(burnt_mm3, Fraction(1)) for one in last.fails)
        if self.wear is None or len(self.wear) > 1:
            (condition,) = self.framed.conditions
            fuels = (state.fuel for state in scene.car.states(condition))
            for level in dict.fromkeys(fuel for fuel in fuels if isinstance(fuel, Fraction)):
                start, end = (replace(line.state, fuel=level) for line in (first, last))
                way = along(self.framed, start, end, scene)
                found += (one.mapped(level, burnt_mm3) for one in way.fails)
                unknown.append(way.unknown)
        return tuple(found), unite(unknown)

    def fails_at(self, fuel_mm3: Fraction, wear: Fraction, scene: Scene) -> bool:
        """Whether it fails for certain on the way, with so much fuel and wear."""
        line = self.lines[0]
        if line.asked is None or fuel_mm3 not in line.asked:
            return False
        if self.wear is not None and len(self.wear) == 1 and wear not in self.wear:
            return False
        state = state_of(fuel_mm3, line.state.driver, line.state.tyres, None if self.wear is None else wear)
        return self.framed.in_one_state(scene.in_state(state), EXACTLY).outcome == FAIL


def race(inspection: Inspection, plan: Plan) -> Race:
    """Follow a race. Wear runs evenly from new to worn."""
    car = inspection.car
    fitted = car.value("weighing.tyres")
    tyres = None if isinstance(fitted, Unknown) else car.tyre_set(fitted)
    asked = tuple(_asked(inspection))
    sets = dict.fromkeys((*car.every_tyre_set, tyres))
    starts = tuple(_starts(inspection, asked, plan, one) for one in sets)
    unusable = car.value("fuel.unusable")
    rest = Fraction(0) if isinstance(unusable, Unknown) else unusable
    start = plan.start_mm3
    if start is None:
        legal = next(one.legal for one in starts if one.tyres == tyres)
        start = as_told(legal[0]) if legal else plan.burnt_mm3 + rest
        capacity = car.value("fuel.capacity")
        if not isinstance(capacity, Unknown):
            start = min(start, capacity)
    on_it = tuple(one for one in asked if on_tyres(one.lines[0], tyres))
    laps = tuple(_lap(inspection, on_it, plan, start, tyres, number) for number in range(plan.laps + 1))
    dry = next((n for n in range(1, plan.laps + 1) if start - n * plan.fuel_per_lap_mm3 < rest), None)
    return Race(plan, tyres, start, starts, laps, dry)


def as_told(legal: Interval) -> Fraction:
    """The least fuel of a stretch as it is told and filled, a hundredth of a litre up, where that lies within it."""
    step = LITRE.factor / 100
    told = round_to(legal.low, step, "up")
    if told == legal.low and not legal.low_in:
        told += step
    return told if told in legal else legal.low


def _asked(inspection: Inspection) -> Iterator[_Asked]:
    """What the clauses that bind the car ask along its fuel."""
    scene = Scene(inspection.car)
    binding = {o.clause.number for o in inspection.outcomes if o.counts and o.outcome != DISPENSATION}
    for clause, framed in condition_checks(inspection):
        for condition in framed.conditions if clause.number in binding else ():
            alone = replace(framed, conditions=(condition,))
            by_rest: dict[tuple[object, object], list[LegalFuel]] = {}
            for line in legal_fuel(alone, scene):
                by_rest.setdefault((line.state.driver, line.state.tyres), []).append(line)
            for lines in by_rest.values():
                wear = tuple(line.state.wear for line in lines if line.state.wear is not None)
                yield _Asked(clause, alone, wear or None, tuple(lines))


def _starts(inspection: Inspection, asked: tuple[_Asked, ...], plan: Plan, tyres: str | None) -> Starts:
    scene = Scene(inspection.car)
    mine = [one for one in asked if on_tyres(one.lines[0], tyres)]
    found = [(one.clause, *one.fails(plan.burnt_mm3, scene)) for one in mine]
    unknown = unite(lacking for _, _, lacking in found)
    levels = [line.asked for one in mine for line in one.lines if line.asked is not None]
    if not levels:
        return Starts(tyres, None, None, (), unknown)
    least, most = min(one.low for one in levels), max(one.high for one in levels)
    whole = Interval(least, most).mapped(plan.burnt_mm3, Fraction(1))
    fails = [(clause, taken) for clause, taken, _ in found]
    legal = without(whole, (one for _, taken in fails for one in taken))
    if legal and unknown.is_told:
        return Starts(tyres, None, most, limiting(whole, fails), unknown)
    return Starts(tyres, legal, most, limiting(whole, fails), Unknown())


def _lap(
    inspection: Inspection,
    asked: tuple[_Asked, ...],
    plan: Plan,
    start: Fraction,
    tyres: str | None,
    number: int,
) -> Lap:
    car = inspection.car
    fuel = max(Fraction(0), start - number * plan.fuel_per_lap_mm3)
    wear = Fraction(number, plan.laps)
    out, aboard = (corner(car, state_of(fuel, driver, tyres, wear)) for driver in ("out", "aboard"))
    failing = dict.fromkeys(one.clause.number for one in asked if one.fails_at(fuel, wear, Scene(car)))
    return Lap(number, fuel, out, aboard, tuple(failing))
