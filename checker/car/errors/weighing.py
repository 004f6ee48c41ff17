"""Sources of error of a weighing.

A pad's error is the same whenever the same pad stands under a wheel, so it is one source for all repeat readings, and
goes where the pad goes when pads are swapped. An error of scale that the set has in common is one source for all
pads, and so is the floor. The rounding of the display is new in every reading, and readings that are repeated with the
pads in their places show how well the car itself comes to rest.

The repeats are kept as they came: a source for each deviation from the mean, moving all loads together as they moved
then. Their variances add up to the covariance of the mean (JCGM 100, 4.2.3 and 5.2.3), so that what one wheel gains
and another loses is never counted as an error of the total.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from fractions import Fraction

from checker.car.car import Car
from checker.car.described.asking import MEAN, WEIGHTS, single
from checker.car.described.instrument import Instrument
from checker.car.described.standard import WHEELS
from checker.car.errors.cures import (
    EACH_OTHER,
    How,
    Remedy,
    better_gear,
    level_pads,
    levelled,
    more_readings,
)
from checker.car.errors.sources import ErrorSource, Perturbation, permissible_variance, resolution_variance
from checker.car.gear.floor import ACROSS, ALONG, Slope
from checker.car.gear.pad_doubts import half_widths
from checker.car.gear.weighing import ShownLoads, Weighing
from checker.quantities.display import decimal_text
from checker.quantities.kind import Unknown
from checker.quantities.units import parse_unit

REPEATS = "repeat readings"
"""The name of the sources that come of repeat readings, and the beginning of their groups' names."""

Steps = Sequence[Mapping[str, Fraction]]
"""kg by load, for each reading."""


def weighing_sources(car: Car) -> Iterator[ErrorSource]:
    """Sources of every pad, or of the weighbridge, that the weighing was made with, and of the floor under it."""
    gear, weighing = car.gear, car.weighing
    if gear is None or not weighing.readings:
        return
    yield from _display(weighing, gear)
    yield from _pads(car, weighing, gear)
    yield from repeats(weighing)
    if gear.common_error:
        steps = [{load: stated.value for load, stated in r.loads.items()} for r in weighing.readings]
        yield ErrorSource(
            f"{gear.name}, common error",
            permissible_variance(gear.common_error),
            WEIGHTS,
            moving_loads("all pads in proportion", steps),
            advice=Remedy(How.ADJUST_THE_SET),
            cure=better_gear("a set", gear.common_error, parse_unit("%", None)),
        )
    yield from _floor(car, weighing)
    yield from _twist(weighing)


def moving_loads(key: str, steps: Steps) -> Perturbation:
    """Moves the loads of each reading by a multiple of `steps`."""

    def shift(car: Car, step: Fraction) -> Car:
        moved = [{load: kg * step for load, kg in reading.items()} for reading in steps]
        return car.with_weighing(car.weighing.shifted(moved))

    return Perturbation(key, shift)


def _load_lever(weighing: Weighing, load: str) -> Perturbation:
    return moving_loads(f"load {load}", [{load: Fraction(1)} for _ in weighing.readings])


def _display(weighing: Weighing, gear: Instrument) -> Iterator[ErrorSource]:
    """The rounding of each load, in the mean and in each reading by itself."""
    if not gear.resolution:
        return
    times = len(weighing.readings)
    variance = resolution_variance(gear.resolution)
    for load in weighing.shape:
        lever = _load_lever(weighing, load)
        name = f"{gear.name}, resolution"
        advice = Remedy(How.WEIGH_AGAIN_OR_FINER)
        yield ErrorSource(name, variance / times, MEAN, lever, advice=advice, cure=more_readings(times))
        for which in range(times):
            yield ErrorSource(name, variance, single(which), lever, advice=Remedy(How.FINER_PADS))


def _pads(car: Car, weighing: Weighing, gear: Instrument) -> Iterator[ErrorSource]:
    """The stated error and uncertainty of each pad, or what it is out by where it is in doubt."""
    kg = parse_unit("kg", None)
    for pad, half_width in half_widths(weighing, gear, car.pad_doubts).items():
        steps = [
            {load: Fraction(1) for load in r.loads if r.pad_under(load) == pad} for r in weighing.readings
        ]
        only = {load for reading in steps for load in reading}
        alone = len(only) == 1 and all(reading.keys() == only for reading in steps)
        lever = _load_lever(weighing, only.pop()) if alone else moving_loads(f"pad {pad}", steps)
        for what, variance, size in (
            ("permissible error", permissible_variance(half_width), half_width),
            ("uncertainty", gear.uncertainty**2, gear.uncertainty),
        ):
            if variance:
                yield ErrorSource(
                    f"{gear.name}, {what}",
                    variance,
                    WEIGHTS,
                    lever,
                    advice=Remedy(How.BETTER_OR_SWAPPED_PADS),
                    cure=better_gear("pads", size, kg),
                )


def repeats(weighing: Weighing) -> Iterator[ErrorSource]:
    """How readings scatter that should show the same: nothing where none is repeated.

    With the pads in the same places every load is repeated. Where only the places have changed, the total is, for the
    same pads stand under the car.
    """
    arranged = _alike(weighing, lambda reading: tuple(sorted(reading.pads.items())))
    if len(arranged) == 1:
        yield from _scatter(weighing, "loads", arranged, _deviations)
        return
    shares = _shares(weighing)

    def of_total(readings: list[ShownLoads]) -> Iterator[_Deviation]:
        for deviation in _deviations(readings):
            yield tuple((load, shares[load] * sum(kg for _, kg in deviation)) for load, _ in deviation)

    def between_loads(readings: list[ShownLoads]) -> Iterator[_Deviation]:
        for whole, part in zip(_deviations(readings), of_total(readings), strict=True):
            yield tuple((load, kg - at) for (load, kg), (_, at) in zip(whole, part, strict=True))

    yield from _scatter(weighing, "distribution", arranged, between_loads)
    same_pads = _alike(weighing, lambda reading: tuple(sorted(reading.pads.values())))
    yield from _scatter(weighing, "total", same_pads, of_total)


_Deviation = tuple[tuple[str, Fraction], ...]
"""kg by load."""


def repeated(weighing: Weighing) -> int:
    """Degrees of freedom that the scatter of the total is estimated with."""
    same = _alike(weighing, lambda reading: tuple(sorted(reading.pads.values())))
    return len(weighing.readings) - len(same)


def _alike(weighing: Weighing, key: Callable[[ShownLoads], tuple[object, ...]]) -> list[list[ShownLoads]]:
    groups: dict[tuple[object, ...], list[ShownLoads]] = {}
    for reading in weighing.readings:
        groups.setdefault(key(reading), []).append(reading)
    return list(groups.values())


def _shares(weighing: Weighing) -> dict[str, Fraction]:
    loads = weighing.loads()
    total = sum(loads.values(), Fraction(0))
    return {load: kg / total for load, kg in loads.items()}


def _scatter(
    weighing: Weighing,
    what: str,
    groups: list[list[ShownLoads]],
    deviations_in: Callable[[list[ShownLoads]], Iterable[_Deviation]],
) -> Iterator[ErrorSource]:
    times = len(weighing.readings)
    degrees = times - len(groups)
    if not degrees:
        return
    deviations = Counter(deviation for same in groups for deviation in deviations_in(same))
    for number, (deviation, often) in enumerate(deviations.items()):
        if not any(kg for _, kg in deviation):
            continue
        lever = moving_loads(f"repeat of {what} {number}", [dict(deviation)] * times)
        for moves, variance in (
            (MEAN, Fraction(often, times * degrees)),
            *((single(which), Fraction(often, degrees)) for which in range(times)),
        ):
            yield ErrorSource(
                REPEATS,
                variance,
                moves,
                lever,
                Fraction(degrees),
                advice=Remedy(How.WEIGH_AGAIN),
                cure=more_readings(times) if moves == MEAN else None,
                group=f"{REPEATS}, {what}",
            )


def _deviations(readings: list[ShownLoads]) -> Iterator[_Deviation]:
    """How far each reading lies from the mean, in each load."""
    loads = tuple(readings[0].loads)
    mean = {load: sum((r.loads[load].value for r in readings), Fraction(0)) / len(readings) for load in loads}
    for reading in readings:
        yield tuple((load, reading.loads[load].value - mean[load]) for load in loads)


# -- the floor ---------------------------------------------------------------------------------------


def _floor(car: Car, weighing: Weighing) -> Iterator[ErrorSource]:
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
    sign = {"left": 1, "right": -1}
    steps: list[Mapping[str, Fraction]] = []
    for reading in weighing.readings:
        shown = {load: stated.value for load, stated in reading.loads.items()}
        if "left" in shown:
            mean = (lever["front"] + lever["rear"]) / 2
            gained = (shown["left"] + shown["right"]) * mean
            steps.append({side: sign[side] * gained for side in shown})
            continue
        axles = {axle: shown[f"{axle}_left"] + shown[f"{axle}_right"] for axle in ("front", "rear")}
        steps.append(
            {
                wheel: sign[wheel.partition("_")[2]]
                * axles[wheel.partition("_")[0]]
                * lever[wheel.partition("_")[0]]
                for wheel in shown
            }
        )
    return steps


def _along(car: Car, weighing: Weighing, wheelbase_mm: Fraction) -> Steps:
    """kg that each load gains where the floor falls to the front by the tangent 1; each side keeps what it has."""
    lever = car.centre_of_gravity_height / wheelbase_mm
    sign = {"front": 1, "rear": -1}
    steps: list[Mapping[str, Fraction]] = []
    for reading in weighing.readings:
        shown = {load: stated.value for load, stated in reading.loads.items()}
        sides: dict[str, Fraction] = {}
        for load, kg in shown.items():
            side = load.partition("_")[2]
            sides[side] = sides.get(side, Fraction(0)) + kg
        steps.append(
            {load: sign[load.partition("_")[0]] * lever * sides[load.partition("_")[2]] for load in shown}
        )
    return steps
