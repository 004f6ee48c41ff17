"""Sources of error of the floor under the pads: out of level, and pads that do not stand in one plane."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from fractions import Fraction

from checker.car.car import Car
from checker.car.described.asking import WEIGHTS
from checker.car.described.standard import WHEELS
from checker.car.errors.cures import EACH_OTHER, How, Remedy, level_pads, levelled
from checker.car.errors.sources import ErrorSource, Steps, moving_loads, permissible_variance
from checker.car.gear.floor import ACROSS, ALONG, Slope
from checker.car.gear.weighing import Weighing
from checker.quantities.display import decimal_text
from checker.quantities.kind import Unknown


def floor_sources(car: Car) -> Iterator[ErrorSource]:
    """How far the floor is out of level, and the pads out of one plane."""
    weighing = car.weighing
    shape = set(weighing.shape)
    if shape & {*WHEELS, "left"}:
        track = min(
            _known(car.geometry.tracks[axle], car.vocabulary.assumptions.track_mm)
            for axle in ("front", "rear")
        )
        slope = weighing.floor.across or assumed_slope(car)
        yield _floor_source(ACROSS, slope, track, _across(car, weighing))
    if shape & {*WHEELS, "front"}:
        base = _known(car.geometry.wheelbase, car.vocabulary.assumptions.wheelbase_mm)
        slope = weighing.floor.along or assumed_slope(car)
        yield _floor_source(ALONG, slope, base, _along(car, weighing, base))
    yield from _twist(weighing)


def _twist(weighing: Weighing) -> Iterator[ErrorSource]:
    """Pads that do not stand in one plane: what two wheels on one diagonal gain, the other two lose."""
    floor = weighing.floor
    if weighing.shape != WHEELS or not floor.pad_height_mm or not floor.kg_per_mm:
        return
    sign = dict(zip(WHEELS, (1, -1, -1, 1), strict=True))
    steps = [{wheel: sign[wheel] * floor.kg_per_mm for wheel in WHEELS} for _ in weighing.readings]
    yield ErrorSource(
        "heights of the pads",
        4 * permissible_variance(floor.pad_height_mm),
        WEIGHTS,
        moving_loads("heights of the pads", steps),
        advice=Remedy(How.ONE_PLANE),
        cure=level_pads(EACH_OTHER, floor.pad_height_mm),
    )


def assumed_slope(car: Car) -> Slope:
    """How far a floor of which nothing is stated may be out of level."""
    deg = car.vocabulary.assumptions.floor_out_of_level_deg
    return Slope(deg=deg, written=f"{decimal_text(deg)} deg")


def _known(lever: Fraction | Unknown, otherwise: Fraction) -> Fraction:
    return otherwise if isinstance(lever, Unknown) else lever


def _floor_source(direction: str, slope: Slope, lever_mm: Fraction, steps: Steps) -> ErrorSource:
    tangent = slope.tangent(lever_mm)
    return ErrorSource(
        f"floor out of level {direction}",
        permissible_variance(tangent),
        WEIGHTS,
        moving_loads(f"floor {direction}", steps),
        advice=levelled(direction, tangent * lever_mm / 3),
        cure=level_pads(direction, tangent * lever_mm),
    )


def _across(car: Car, weighing: Weighing) -> Steps:
    """kg that each load gains where the floor falls to the left by the tangent 1."""
    height = car.centre_of_gravity_height
    assumed = car.vocabulary.assumptions.track_mm
    lever = {axle: height / _known(car.geometry.tracks[axle], assumed) for axle in ("front", "rear")}
    lever[""] = (lever["front"] + lever["rear"]) / 2
    sign = {"left": 1, "right": -1}
    steps: list[Mapping[str, Fraction]] = []
    for loads in _by_axle_and_side(weighing):
        on = {at: sum(kg for (axle, _), kg in loads.items() if axle == at) for at, _ in loads}
        steps.append({_load(*at): sign[at[1]] * on[at[0]] * lever[at[0]] for at in loads})
    return steps


def _along(car: Car, weighing: Weighing, wheelbase_mm: Fraction) -> Steps:
    """kg that each load gains where the floor falls to the front by the tangent 1; each side keeps what it has."""
    lever = car.centre_of_gravity_height / wheelbase_mm
    sign = {"front": 1, "rear": -1}
    steps: list[Mapping[str, Fraction]] = []
    for loads in _by_axle_and_side(weighing):
        on = {at: sum(kg for (_, side), kg in loads.items() if side == at) for _, at in loads}
        steps.append({_load(*at): sign[at[0]] * on[at[1]] * lever for at in loads})
    return steps


def _by_axle_and_side(weighing: Weighing) -> Iterator[dict[tuple[str, str], Fraction]]:
    """The loads of each reading by axle and side; "" where both of one stand on a pad."""
    for reading in weighing.readings:
        yield {_axle_and_side(load): stated.value for load, stated in reading.loads.items()}


def _axle_and_side(load: str) -> tuple[str, str]:
    axle, _, side = load.partition("_")
    return ("", load) if load in ("left", "right") else (axle, side)


def _load(axle: str, side: str) -> str:
    return "_".join(filter(None, (axle, side)))
