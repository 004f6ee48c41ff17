"""Where a car carries its weight: what is at which place, its centre of gravity, and the limits round it.

A picture of the car from above and one of its percentages are drawn from this. Everything is exact but the uncertainty,
which is an estimate.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from fractions import Fraction

from checker.car.car import Car
from checker.car.described.standard import AXLES, WHEELS
from checker.car.scene import Scene
from checker.car.weights.fuel import density, layers
from checker.car.weights.geometry import MaybeFraction, Spot
from checker.car.weights.levers import HALF
from checker.car.weights.places import is_placed, spot_at, spot_of
from checker.car.weights.tyres import of_tyre
from checker.car.weights.weights import State
from checker.kinds.judging.assessment import NOT_APPLICABLE
from checker.kinds.judging.spread import relevant, sensitivities, taken_as_exact
from checker.quantities.kind import Unknown, where_known
from checker.reading.quick_dataclasses import KW_ONLY, dataclass
from checker.studies.one_car.condition_table import Corner, KilogramEffect, any_condition, corner, effects_of
from checker.studies.one_car.load_limits import LoadLimit, limits_of
from checker.verdict.inspection import Inspection

SHARES = ("inside", "rear")
"""The percentages that tell where the weight is."""

JOINT = 0.95
"""How often both percentages together lie within the ellipse."""


@dataclass(frozen=True, slots=True)
class LaidOut:
    """Something that weighs, at its place."""

    kind: str
    """tank, driver, fluid, or the name of its list."""
    label: str
    mass: MaybeFraction
    """kg."""
    along: Fraction
    """mm behind the front axle."""
    across: Fraction
    """mm left of the centre line."""


@dataclass(frozen=True, slots=True)
class Centre:
    """Where the weight acts in one state."""

    state: State | None
    """None: as weighed."""
    clauses: tuple[str, ...]
    """Numbers of the clauses on weights that are decided in it."""
    total: Fraction
    inside: Fraction
    """A ratio."""
    rear: Fraction
    along: MaybeFraction
    """mm behind the front axle."""
    across: MaybeFraction
    """mm left of the centre line."""


@dataclass(frozen=True, slots=True)
class Doubt:
    """How well both percentages are known together in one state: standard uncertainties as ratios."""

    state: State | None
    at: Mapping[str, Fraction]
    """The percentages there, as ratios."""
    inside: float
    rear: float
    correlation: float
    complete: bool
    """Whether every reading behind them has a stated error."""

    @property
    def factor(self) -> float:
        """Of the ellipse that covers both as often as `JOINT`: that of two normal errors (Rayleigh)."""
        return math.sqrt(-2 * math.log(1 - JOINT))


@dataclass(frozen=True, slots=True)
class Layout:
    inside: str
    """ "left" or "right"."""
    wheelbase: MaybeFraction
    tracks: Mapping[str, MaybeFraction]
    """mm between the contact centres, by axle."""
    sections: Mapping[str, MaybeFraction]
    """mm that a tyre is wide, by wheel."""
    loads: Mapping[str, Fraction]
    """kg by wheel, as weighed."""
    _: KW_ONLY
    pieces: tuple[LaidOut, ...]
    centres: tuple[Centre, ...]
    """As weighed first."""
    limits: tuple[LoadLimit, ...]
    """What the rules ask of the percentages by themselves."""
    corners: tuple[Corner, ...]
    doubt: Doubt | None
    """Where the percentages come nearest to their limits; None where no error bears on them, or they are not known."""
    effects: tuple[KilogramEffect, ...]


def layout(inspection: Inspection) -> Layout | None:
    """Where the car carries its weight; None where its total is not known."""
    car = inspection.car
    if isinstance(car.weights().weight("total"), Unknown):
        return None
    limits = tuple(one for one in limits_of(inspection) if one.of in SHARES)
    fitted = car.value("weighing.tyres")
    tyres = None if isinstance(fitted, Unknown) else car.tyre_set(fitted)
    return Layout(
        car.inside,
        car.geometry.wheelbase,
        car.geometry.tracks,
        {wheel: of_tyre(car, tyres or "", wheel, "section") for wheel in WHEELS},
        {name: load for name, load in car.loads(None).items() if name in WHEELS},
        pieces=tuple(_pieces(car)),
        centres=tuple(_centres(inspection)),
        limits=limits,
        corners=tuple(corner(car, state) for state in car.states(any_condition(car))),
        doubt=_doubt(car, _tightest_state(inspection, limits)),
        effects=tuple(effects_of(car)),
    )


# -- what is where -----------------------------------------------------------------------------------


def _pieces(car: Car) -> Iterator[LaidOut]:
    """Everything whose place is known."""
    for layer in layers(car):
        mass = where_known(
            lambda part, each: part * each, layer.part_of(car.value("weighing.fuel")), density(car)
        )
        yield from _piece(car, "tank", "fuel", mass, layer.spot)
    yield from _piece(car, "driver", "driver", car.value("driver.mass"), spot_at(car, "driver.at"))
    for name in car.fluids:
        yield from _piece(
            car, "fluid", name, car.value(f"fluids.{name}.mass"), spot_at(car, f"fluids.{name}.at")
        )
    for list_name in car.lists_with_mass:
        for entry in car.every_entry(list_name):
            if is_placed(entry):
                yield from _piece(car, list_name, entry.label, car.field(entry, "mass"), spot_of(car, entry))


def _piece(car: Car, kind: str, label: str, mass: MaybeFraction, spot: Spot) -> Iterator[LaidOut]:
    along, across = spot.behind(0, car.geometry.wheelbase), spot.across
    if isinstance(along, Fraction) and isinstance(across, Fraction):
        yield LaidOut(kind, label, mass, along, across)


# -- the centre of gravity ---------------------------------------------------------------------------


def _centres(inspection: Inspection) -> Iterator[Centre]:
    """As weighed, and in each state that decides a clause on weights, the rulebook's first clause first."""
    deciding: dict[State | None, list[str]] = {None: []}
    for outcome in inspection.outcomes:
        state = outcome.assessment.state
        if state is not None and outcome.counts and outcome.outcome != NOT_APPLICABLE:
            deciding.setdefault(None if state.is_as_weighed else state, []).append(outcome.clause.number)
    for state, clauses in deciding.items():
        yield from _centre(inspection.car, state, tuple(clauses))


def _centre(car: Car, state: State | None, clauses: tuple[str, ...]) -> Iterator[Centre]:
    weights = car.weights(state)
    total, inside, rear = weights.weight("total"), weights.percentage("inside"), weights.percentage("rear")
    if not isinstance(total, Unknown) and not isinstance(inside, Unknown) and not isinstance(rear, Unknown):
        yield Centre(state, clauses, total, inside, rear, *_point(car, inside, rear))


def _point(car: Car, inside: Fraction, rear: Fraction) -> tuple[MaybeFraction, MaybeFraction]:
    """The place at which one mass would show these percentages, by the lever rules."""
    base, tracks = car.geometry.wheelbase, [car.geometry.tracks[axle] for axle in AXLES]
    along = base if isinstance(base, Unknown) else rear * base
    unknown = next((track for track in tracks if isinstance(track, Unknown)), None)
    if unknown is not None:
        return along, unknown
    front_mm, rear_mm = (track for track in tracks if isinstance(track, Fraction))
    left = inside if car.inside == "left" else 1 - inside
    return along, (left - HALF) / ((1 - rear) / front_mm + rear / rear_mm)


# -- the doubt ------------------------------------------------------------------------


def _tightest_state(inspection: Inspection, limits: tuple[LoadLimit, ...]) -> State | None:
    """The state in which the percentages come nearest to their limits."""
    numbers = {one.clause.number for one in limits}
    nearest = [
        o.assessment for o in inspection.outcomes if o.clause.number in numbers and o.assessment.margin
    ]
    return min(nearest, key=lambda found: found.margin_value or Fraction(0)).state if nearest else None


def _doubt(car: Car, state: State | None) -> Doubt | None:
    """How both percentages follow every source of error together."""
    scene = Scene(car).in_state(state)
    uses = frozenset(f"percentage.{name}" for name in SHARES)
    here = _both(scene)
    if isinstance(here, Unknown):
        return None
    sources = relevant(scene, uses)
    found = sensitivities(_both, scene, sources, uses, here)
    if isinstance(found, Unknown) or not all(found):
        return None
    inside, rear = ({id(one.source): one.slope for one in its} for its in found)
    variances = [float(sum(one.variance for one in its)) for its in found]
    by_source = {id(source): source.variance for source in sources}
    shared = float(sum(slope * rear[key] * by_source[key] for key, slope in inside.items() if key in rear))
    of_inside, of_rear = (math.sqrt(variance) for variance in variances)
    return Doubt(
        state,
        dict(zip(SHARES, here, strict=True)),
        of_inside,
        of_rear,
        shared / (of_inside * of_rear),
        complete=not taken_as_exact(scene, uses),
    )


def _both(scene: Scene) -> tuple[Fraction, ...] | Unknown:
    found = [scene.percentage(name) for name in SHARES]
    unknown = next((value for value in found if isinstance(value, Unknown)), None)
    return tuple(value for value in found if isinstance(value, Fraction)) if unknown is None else unknown
