"""Reads what the pads or a weighbridge showed.
Each reading gives the four wheels, or the two axles, or the two sides, or only the total. Several
readings are repeats of one weighing: each load counts by its mean, and what a reading cannot tell stays
untold. Which pad stood under which wheel is kept with each reading.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction

from checker.car.described.standard import WHEELS, measured
from checker.car.described.stated import DECLARED, READINGS, Stated
from checker.car.gear.floor import Floor, read_floor
from checker.car.gear.pads import PADS as PADS
from checker.car.gear.pads import Arrangement, read_arrangement
from checker.car.gear.times import Moment, read_moment
from checker.car.reading.mistakes import Reader, name_of
from checker.car.reading.values import read_instrument_name, read_value
from checker.reading.marks import Whereabouts, span_of
from checker.reading.problems import Path, Span
from checker.reading.quick_dataclasses import dataclass, field, replace

SHAPES = (WHEELS, ("front", "rear"), ("left", "right"), ("total",))
"""The sets of loads that one reading may give."""

FAR_TOO_MUCH = 6
"""No wheel, axle or side carries so many times what the others carry on the mean. Common practice, no source."""

_LOAD = measured("load", "kg", high=5000)


@dataclass(frozen=True, slots=True)
class ShownLoads:
    """What was shown at one weighing."""

    loads: Mapping[str, Stated]
    """kg under each wheel, axle or side, or in total."""
    pads: Arrangement = field(default_factory=dict)
    """The pad under each of them."""

    def pad_under(self, load: str) -> str:
        return self.pads.get(load, load)

    def shifted(self, steps: Mapping[str, Fraction]) -> ShownLoads:
        """The same with so many kg added to each load."""
        loads = {
            name: stated._replace(value=stated.value + steps[name]) if steps.get(name) else stated
            for name, stated in self.loads.items()
        }
        return replace(self, loads=loads)


@dataclass(frozen=True, slots=True)
class Weighing:
    """One weighing of the car, with its repeats."""

    readings: tuple[ShownLoads, ...] = ()
    instrument: str = ""
    """Name of the gear, if one is stated."""
    floor: Floor = field(default_factory=Floor)
    without: tuple[str, ...] = ()
    """Labels of ballast that was not on the car."""
    when: Moment | None = None
    place: Whereabouts | None = None

    @property
    def span(self) -> Span | None:
        """Where the readings are written."""
        return span_of(self.place)

    @property
    def origin(self) -> str:
        """`READINGS` where officials weighed it, else `DECLARED`."""
        official = any(s.origin == READINGS for r in self.readings for s in r.loads.values())
        return READINGS if official else DECLARED

    @property
    def shape(self) -> tuple[str, ...]:
        """The loads that were read; () if none."""
        return tuple(self.readings[0].loads) if self.readings else ()

    @property
    def pads(self) -> tuple[str, ...]:
        """Every pad that carried a load, each once."""
        return tuple(dict.fromkeys(r.pad_under(load) for r in self.readings for load in r.loads))

    def loads(self, which: int | None = None) -> dict[str, Fraction]:
        """kg, by name as in `shape`: of repeat number `which` (from 0), or the mean of all."""
        readings = self.readings if which is None else self.readings[which : which + 1]
        return {
            name: sum((reading.loads[name].value for reading in readings), Fraction(0)) / len(readings)
            for name in self.shape
        }

    def shifted(self, steps: Sequence[Mapping[str, Fraction]]) -> Weighing:
        """The weighing with so many kg added to the loads of each reading."""
        readings = (r.shifted(step) for r, step in zip(self.readings, steps, strict=True))
        return replace(self, readings=tuple(readings))

    def with_offsets(self, offsets: Mapping[str, Fraction]) -> Weighing:
        """The weighing with what is to be added to each pad's reading ("": to every pad's) added."""
        if not offsets:
            return self
        every = offsets.get("", Fraction(0))
        return self.shifted(
            [{load: offsets.get(r.pad_under(load), every) for load in r.loads} for r in self.readings]
        )


def read_weighing(reader: Reader) -> Weighing:
    """Readings and what belongs to them; the facts of the section `weighing` are read with the other facts."""
    named: Path = ("weighing", "instrument")
    instrument = read_instrument_name(reader, named) if reader.has(*named) else None
    path: Path = ("weighing", "readings")
    data = reader.listed(*path, wanted="a list of readings")
    if reader.get(*path) == []:
        hint = "take the line away if the car was not weighed"
        reader.problem(214, "weighing.readings is empty", *path, hint=hint)
    readings: list[ShownLoads] = []
    for at in range(len(data)):
        reading = _read_reading(reader, (*path, at))
        if reading is not None:
            readings.append(reading)
            _check_like_first(reader, (*path, at), reading, readings[0])
    return Weighing(
        tuple(readings),
        instrument or "",
        read_floor(reader, ("weighing", "floor")),
        _read_without(reader, ("weighing", "without")),
        read_moment(reader, "weighing", "when"),
        Whereabouts(reader.document, path) if readings else None,
    )


def _check_like_first(reader: Reader, path: Path, reading: ShownLoads, first: ShownLoads) -> None:
    if reading.loads.keys() != first.loads.keys():
        here, there = _listed(tuple(reading.loads)), _listed(tuple(first.loads))
        message = f"{name_of(path)} gives {here}, the first {there}"
        reader.problem(214, message, *path, hint="repeat readings give the same loads")
    elif set(reading.pads.values()).isdisjoint(first.pads.values()):
        message = f"{name_of(path)} names no pad that the first reading names"
        reader.problem(214, message, *path, hint="name the pads the same way in every reading")


def _read_reading(reader: Reader, path: Path) -> ShownLoads | None:
    data = reader.mapping(*path, wanted="loads as {front_left: 158.5 kg, ...}")
    names = [name for shape in SHAPES for name in shape]
    loads: dict[str, Stated] = {}
    given = [key for key in data if key != "pads"]
    for key in given:
        if key not in names:
            reader.unknown_name("load", (*names, "pads"), *path, key)
        elif (load := _read_load(reader, (*path, key))) is not None:
            loads[key] = load
    if len(loads) < len(given) or not isinstance(reader.get(*path), dict):
        return None
    shape = _shape_of(reader, path, tuple(loads))
    if _has_slip(reader, path, loads):
        return None
    pads = read_arrangement(reader, (*path, "pads"), shape) if shape else None
    return None if pads is None else ShownLoads({name: loads[name] for name in shape}, pads)


def _has_slip(reader: Reader, path: Path, loads: Mapping[str, Stated]) -> bool:
    """Whether one load is beyond all proportion to the others; noted as a slip of typing."""
    for name, stated in loads.items():
        others = [other.value for key, other in loads.items() if key != name]
        rest = sum(others, Fraction(0)) / max(1, len(others))
        if others and (stated.value > FAR_TOO_MUCH * rest or FAR_TOO_MUCH * stated.value < rest):
            carry, digit = ("far less", "too many") if stated.value > rest else ("far more", "missing")
            slip = f"{stated.written}, taken for a slip: the others carry {carry}"
            hint = f"look where the point belongs, and whether a digit is {digit}"
            reader.problem(208, f"{name_of((*path, name))} is {slip}", *path, name, hint=hint)
            return True
    return False


def _read_load(reader: Reader, path: Path) -> Stated | None:
    stated = read_value(reader, _LOAD, path)
    if stated is not None and stated.value == 0:
        message = f"{name_of(path)} is {stated.written}: no wheel of a car on its pads shows nothing"
        reader.problem(214, message, *path)
        return None
    return stated


def _shape_of(reader: Reader, path: Path, names: Sequence[str]) -> tuple[str, ...]:
    """The one shape that these loads make up; () with a problem noted where they make up none."""
    for shape in SHAPES:
        if set(names) == set(shape):
            return shape
    begun = [shape for shape in SHAPES if set(shape) & set(names)]
    if len(begun) == 1:
        lacking = [name for name in begun[0] if name not in names]
        message = f"{name_of(path)} does not give {_listed(lacking)}"
        hint = "give all of them, or another set: four wheels, front and rear, left and right, or total"
    else:
        message = f"{name_of(path)} gives {_listed(names)}" if names else f"{name_of(path)} gives no load"
        hint = "give one set: the four wheels, or front and rear, or left and right, or total"
    reader.problem(214, message, *path, hint=hint)
    return ()


def _read_without(reader: Reader, path: Path) -> tuple[str, ...]:
    """Labels of the ballast that was not on the car; whether there is such ballast is seen later."""
    found: list[str] = []
    for at, label in enumerate(reader.listed(*path, wanted="labels of ballast as in [S1]")):
        if isinstance(label, str) and label.strip():
            found.append(label)
        else:
            reader.problem(210, f"{name_of((*path, at))} is not the label of a piece of ballast", *path, at)
    return tuple(found)


def _listed(names: Sequence[str]) -> str:
    return " and ".join(filter(None, (", ".join(names[:-1]), names[-1])))
