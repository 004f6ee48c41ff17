"""What makes a car's numbers uncertain: each source of error, how large it is, and what it moves.

The law of propagation (JCGM 100, 5.1.2 and 5.2.2) needs the sensitivity of a result to each source. Here a
source can make a copy of the car with its error moved by a small step; whatever is computed from the copy
shows the sensitivity exactly as it enters, however the formula is written. Errors that several readings
share are one source, so correlation takes care of itself.

Variances are exact rationals, so that a margin can be compared with its uncertainty without a root.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from fractions import Fraction
from functools import partial

from checker.car.car import Car
from checker.car.described.asking import ROLL_SPLIT
from checker.car.described.instrument import Instrument
from checker.car.described.stated import Entry, Stated
from checker.car.errors.cures import Cure, How, Remedy, better_gear
from checker.quantities.kind import Unknown
from checker.quantities.units import Unit
from checker.reading.quick_dataclasses import KW_ONLY, dataclass


@dataclass(frozen=True, slots=True)
class Perturbation:
    """One thing that errors move; those that move the same thing share it, and with it the sensitivity."""

    key: str
    """Unique for the car."""
    shift: Callable[[Car, Fraction], Car]
    """A copy of the car with it moved by so many base units."""
    entry: str = ""
    """For a field of a list: the path of its entry."""
    place: int | None = None
    """Of several values of one fact: which one it moves."""
    loads: Steps | None = None
    """What it adds to the loads of each reading, where it moves nothing else."""


Steps = Sequence[Mapping[str, Fraction]]
"""kg by load, for each reading."""


@dataclass(frozen=True, slots=True)
class ErrorSource:
    name: str
    """For reports; sources of one name are shown as one."""
    variance: Fraction
    """Square of its standard uncertainty, in base units."""
    moves: str
    """What it moves: a fact or part of the structure by its full name, a field ("ballast.mass"), or one of the names in
    `checker.car.described.asking`."""
    lever: Perturbation
    _: KW_ONLY
    degrees_of_freedom: Fraction | None = None
    """Of a standard uncertainty estimated from few repeats; None: known."""
    advice: Remedy | None = None
    """What would make it smaller."""
    cure: Cure | None = None
    """What would make its standard uncertainty so small a share of what it is; None: nothing would."""
    group: str = ""
    """Sources of one group have their degrees of freedom together."""


def moved(car: Car, lever: Perturbation, step: Fraction) -> Car:
    """The car with one lever moved by `step` base units; kept for the next clause."""
    key = (lever.key, step.numerator, step.denominator)
    return car.once(key, lambda: lever.shift(car, step))


def resolution_variance(step: Fraction) -> Fraction:
    """Variance of a display that shows steps of that size: a rectangular error of half a step (JCGM 100, F.2.2.1)."""
    return step * step / 12


def permissible_variance(half_width: Fraction) -> Fraction:
    """Variance of an error anywhere within plus or minus `half_width` (JCGM 100, 4.3.7)."""
    return half_width * half_width / 3


def roll_source(car: Car) -> Iterator[ErrorSource]:
    """How the springs share a leaning mass between unequal tracks: nowhere stated, and anything is possible."""
    front, rear = car.geometry.tracks.values()
    if isinstance(front, Unknown) or isinstance(rear, Unknown) or front == rear:
        return
    lever = Perturbation(ROLL_SPLIT, Car.with_roll_split)
    yield ErrorSource("unequal tracks", permissible_variance(Fraction(1)), ROLL_SPLIT, lever)


def sources_of_fact(car: Car, name: str) -> Iterator[ErrorSource]:
    """Sources of a fact, or of a part of the structure."""
    stated = car.stated(name)
    for part in () if stated is None else _parts(car, stated):
        shift = partial(_with_value, name, part.place)
        yield _source(part, name, name, Perturbation(f"{name}[{part.place}]", shift, "", part.place))


def sources_of_field(car: Car, entry: Entry, field: str) -> Iterator[ErrorSource]:
    list_name, path = entry.list_name, entry.path
    for part in _parts(car, entry.fields[field]):
        shift = partial(_with_field, list_name, path, field, part.place)
        lever = Perturbation(f"{path}.{field}[{part.place}]", shift, path, part.place)
        yield _source(part, field, f"{list_name}.{field}", lever, f"{entry.label}: ")


def _with_value(name: str, place: int | None, car: Car, step: Fraction) -> Car:
    return car.with_value(name, place, step)


def _with_field(list_name: str, path: str, field: str, place: int | None, car: Car, step: Fraction) -> Car:
    return car.with_field(list_name, path, field, place, step)


@dataclass(frozen=True, slots=True)
class _Part:
    """One error of one value; of several values, of the one at `place` or (None) of all together."""

    what: str
    gear: str
    variance: Fraction
    place: int | None
    half_width: Fraction | None = None
    """What better gear would make smaller; None where no gear is named."""
    unit: Unit | None = None


def variances(car: Car, stated: Stated) -> Iterator[tuple[int | None, Fraction]]:
    """Each error of measurement of a stated value: of several values the place of the one that it moves (None: it moves
    all alike), and its variance in squared base units."""
    return ((part.place, part.variance) for part in _parts(car, stated))


def _parts(car: Car, stated: Stated) -> Iterable[_Part]:
    value = stated.value
    several = isinstance(value, tuple)
    values = value if several else (value,)
    if stated.origin == "default" or not values or not all(isinstance(one, Fraction) for one in values):
        return ()
    places: Sequence[int | None] = range(len(values)) if several else (None,)
    if stated.uncertainty is not None:  # stated as 0, it is exact, whatever it was measured with
        variance = stated.uncertainty**2
        return [_Part("stated uncertainty", "", variance, place) for place in places if variance]
    gear, unit = car.instrument(stated.instrument), stated.unit
    if gear is None:
        return ()
    if gear.permissible_error.share or gear.permissible_error.accuracy is not None:
        return tuple(_of_gear(gear, unit, values, places))
    # whatever it measures, it is out by the same; the unit is kept, so that no other has its id
    key = (_of_gear, stated.instrument, id(unit), len(values) if several else None)
    return car.once(key, lambda: (tuple(_of_gear(gear, unit, values, places)), unit), any_day=True)[0]


def _of_gear(
    gear: Instrument, unit: Unit | None, values: Sequence[Fraction], places: Iterable[int | None]
) -> Iterator[_Part]:
    if gear.resolution:
        variance, half = resolution_variance(gear.resolution), gear.resolution / 2
        yield from (_Part("resolution", gear.name, variance, place, half, unit) for place in places)
    if gear.uncertainty:
        yield _Part("uncertainty", gear.name, gear.uncertainty**2, None, gear.uncertainty, unit)
    error = max(gear.permissible_error.at(value) for value in values)
    if error:
        # one instrument is out by the same for all values that it measured in a row (JCGM 100, F.1.2.3)
        yield _Part("permissible error", gear.name, permissible_variance(error), None, error, unit)


def _source(part: _Part, what: str, moves: str, lever: Perturbation, of: str = "") -> ErrorSource:
    """The source of a value's error; `of` tells whose field it is."""
    gear = f"{part.gear}, {part.what}" if part.gear else part.what
    half = part.half_width
    return ErrorSource(
        f"{of}{what.rpartition('.')[2].replace('_', ' ')} ({gear})",
        part.variance,
        moves,
        lever,
        advice=Remedy(How.MEASURE_FINER if part.gear else How.FIND_CLOSER, what),
        cure=None if half is None else better_gear(what, half, part.unit, How.MEASURE_FINER),
    )


def moving_loads(key: str, steps: Steps) -> Perturbation:
    """Moves the loads of each reading by a multiple of `steps`."""

    def shift(car: Car, step: Fraction) -> Car:
        moved = [{load: kg * step for load, kg in reading.items()} for reading in steps]
        return car.with_weighing(car.weighing.shifted(moved))

    return Perturbation(key, shift, loads=steps)
