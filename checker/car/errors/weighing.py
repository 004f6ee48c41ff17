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
from collections.abc import Callable, Iterable, Iterator
from fractions import Fraction

from checker.car.car import Car
from checker.car.described.asking import MEAN, WEIGHTS, single
from checker.car.described.instrument import Instrument
from checker.car.errors.cures import How, Remedy, better_gear, more_readings
from checker.car.errors.floor import floor_sources
from checker.car.errors.sources import (
    ErrorSource,
    Perturbation,
    moving_loads,
    permissible_variance,
    resolution_variance,
)
from checker.car.gear.pad_doubts import half_widths
from checker.car.gear.weighing import ShownLoads, Weighing
from checker.quantities.units import parse_unit

REPEATS = "repeat readings"
"""The name of the sources that come of repeat readings, and the beginning of their groups' names."""


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
    yield from floor_sources(car)


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
                degrees_of_freedom=Fraction(degrees),
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
