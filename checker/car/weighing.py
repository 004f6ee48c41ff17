"""Reads what the pads or a weighbridge showed.
Each reading gives the four wheels, or the two axles, or the two sides, or only the total. Several
readings are repeats of one weighing: each load counts by its mean, and what a reading cannot tell stays
untold. Which pad stood under which wheel is kept with each reading.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from checker.car.reader import Reader, name_of
from checker.car.standard import WHEELS, measured
from checker.car.stated import Stated
from checker.car.values import read_instrument_name, read_value
from checker.car.vocabulary import FactType
from checker.quantities.kind import Kind
from checker.reading.problems import Path

SHAPES = (WHEELS, ("front", "rear"), ("left", "right"), ("total",))
"""The sets of loads that one reading may give."""

PADS = ("as marked", "swapped side to side", "swapped diagonally")
"""Which pad stands under which wheel."""

_LOAD = measured("load", "kg", high=5000)
_PADS = FactType("pads", Kind("text", words=PADS))


@dataclass(frozen=True, slots=True)
class Reading:
    """What was shown at one weighing."""

    loads: Mapping[str, Stated]
    """kg under each wheel, axle or side, or in total."""
    pads: str = PADS[0]


@dataclass(frozen=True, slots=True)
class Weighing:
    """One weighing of the car, with its repeats."""

    readings: tuple[Reading, ...] = ()
    instrument: str = ""
    """Name of the gear, if one is stated."""

    @property
    def shape(self) -> tuple[str, ...]:
        """The loads that were read; () if none."""
        return tuple(self.readings[0].loads) if self.readings else ()

    def loads(self, which: int | None = None) -> dict[str, Fraction]:
        """kg, by name as in `shape`: of repeat number `which` (from 0), or the mean of all."""
        readings = self.readings if which is None else self.readings[which : which + 1]
        return {
            name: sum((reading.loads[name].value for reading in readings), Fraction(0)) / len(readings)
            for name in self.shape
        }


def read_weighing(reader: Reader) -> Weighing:
    """Instrument and readings of the section `weighing`; its facts are read with the other facts."""
    instrument = ""
    path: Path = ("weighing", "instrument")
    if reader.document.has(path):
        instrument = read_instrument_name(reader, path) or ""
    path = ("weighing", "readings")
    data = reader.sequence(path, "a list of readings")
    if data == []:
        reader.problem(
            214, "weighing.readings is empty", path, hint="take the line away if the car was not weighed"
        )
    read = [_read_reading(reader, (*path, at)) for at in range(len(data or ()))]
    readings = [reading for reading in read if reading is not None]
    for at, reading in enumerate(read):
        if reading is not None and readings and reading.loads.keys() != readings[0].loads.keys():
            here, first = _listed(tuple(reading.loads)), _listed(tuple(readings[0].loads))
            message = f"{name_of((*path, at))} gives {here}, the first {first}"
            reader.problem(214, message, (*path, at), hint="repeat readings give the same loads")
    return Weighing(tuple(readings), instrument)


def _read_reading(reader: Reader, path: Path) -> Reading | None:
    data = reader.mapping(path, "loads as {front_left: 158.5 kg, ...}")
    names = [name for shape in SHAPES for name in shape]
    loads: dict[str, Stated] = {}
    sound = isinstance(reader.document.get(path), dict)
    for key in data:
        if key == "pads":
            continue
        if key not in names:
            reader.unknown_key((*path, key), "load", (*names, "pads"))
            sound = False
            continue
        load = _read_load(reader, (*path, key))
        if load is None:
            sound = False
        else:
            loads[key] = load
    if not sound:
        return None
    shape = _shape_of(reader, path, tuple(loads))
    pads = _read_pads(reader, (*path, "pads"))
    return Reading({name: loads[name] for name in shape}, pads) if shape else None


def _read_load(reader: Reader, path: Path) -> Stated | None:
    stated = read_value(reader, _LOAD, path)
    if stated is not None and stated.value == 0:
        reader.problem(
            214, f"{name_of(path)} is {stated.written}: no wheel of a car on its pads shows nothing", path
        )
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
    reader.problem(214, message, path, hint=hint)
    return ()


def _read_pads(reader: Reader, path: Path) -> str:
    stated = read_value(reader, _PADS, path) if reader.document.has(path) else None
    return stated.value if stated else PADS[0]


def _listed(names: Sequence[str]) -> str:
    return " and ".join(filter(None, (", ".join(names[:-1]), names[-1])))
