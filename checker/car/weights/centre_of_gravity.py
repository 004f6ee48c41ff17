"""How high the centre of gravity is: declared, worked out from a raised axle, or the pack's assumption.

With one axle raised on stands, the car leans on the other. What that axle gains over its load on the level tells the
height of the centre of gravity above the hubs; the loaded radius of the wheel adds the rest.

    centre_of_gravity: {height: 420 mm}
    centre_of_gravity:
      raised:
        - {axle: rear, by: 600 mm, other_axle: 309.6 kg, wheel_radius: 280 mm}
        - {axle: front, by: 600 mm, other_axle: 349.6 kg, wheel_radius: 280 mm}

Source: ISO 10392:2011, clause 6 (raise each axle in turn, in several steps, and average; keep the suspension locked and
the fluids from moving). The formula is that of moments about the hub that stays down.
"""

from __future__ import annotations

from fractions import Fraction

from checker.car.described.standard import AXLES, measured
from checker.car.described.stated import Stated
from checker.car.described.vocabulary import FactType
from checker.car.reading.mistakes import Reader, name_of
from checker.car.reading.values import read_value
from checker.quantities.elementary import sqrt
from checker.quantities.kind import Kind
from checker.reading.problems import Path, Span
from checker.reading.quick_dataclasses import dataclass

SECTION = "centre_of_gravity"
HEIGHT = "centre_of_gravity.height"
"""Its name in the structure of a car."""

_HEIGHT = measured("height", "mm", low=100, high=1500, about="Of the centre of gravity above the ground")
_RAISED = {
    "axle": FactType("axle", Kind("text", words=AXLES)),
    "by": measured("by", "mm", low=50, high=2000),
    "other_axle": measured("other_axle", "kg", low=20, high=5000),
    "wheel_radius": measured("wheel_radius", "mm", low=100, high=600),
}


@dataclass(frozen=True, slots=True)
class RaisedAxle:
    """One weighing with an axle raised."""

    axle: str
    """ "front" or "rear": the one that was raised."""
    by_mm: Fraction
    other_axle_kg: Fraction
    """What the axle that stayed down then carried."""
    wheel_radius_mm: Fraction
    """From the ground to the hub that stayed down."""
    span: Span | None = None


def height_of_centre(
    raised: RaisedAxle, total_kg: Fraction, level_kg: Fraction, wheelbase_mm: Fraction
) -> Fraction:
    """Height in mm of the centre of gravity above the ground, from one raised axle.

    Args:
        total_kg: Of the car, in the state in which it was raised.
        level_kg: What the axle that stayed down carries with the car level.
        wheelbase_mm: Greater than the height raised by.

    Raises:
        ValueError: The axle was raised by as much as the wheelbase or more.
    """
    if raised.by_mm >= wheelbase_mm:
        raise ValueError("an axle cannot be raised by its wheelbase")
    level_distance = sqrt(wheelbase_mm**2 - raised.by_mm**2)
    tangent = raised.by_mm / level_distance
    return raised.wheel_radius_mm + wheelbase_mm * (raised.other_axle_kg - level_kg) / (total_kg * tangent)


def read_centre_of_gravity(reader: Reader) -> tuple[Stated | None, tuple[RaisedAxle, ...]]:
    """The height as declared, and weighings with an axle raised."""
    path: Path = (SECTION,)
    data = reader.mapping(*path, wanted="{height: 420 mm}, or raised: with weighings,")
    reader.known_keys(("height", "raised"), *path, what=SECTION)
    height = read_value(reader, _HEIGHT, (*path, "height")) if "height" in data else None
    entries = reader.listed(*path, "raised", wanted="a list of weighings")
    read = [_read_raised(reader, (*path, "raised", at)) for at in range(len(entries))]
    if "height" in data and "raised" in data:
        message = f"{name_of(path)} gives both a height and weighings with an axle raised"
        reader.problem(214, message, *path, hint="keep the one that is to count")
    return height, tuple(raised for raised in read if raised is not None)


def _read_raised(reader: Reader, path: Path) -> RaisedAxle | None:
    wanted = "{axle: rear, by: 600 mm, other_axle: 309.6 kg, wheel_radius: 280 mm}"
    data = reader.mapping(*path, wanted=wanted)
    sound = reader.known_keys(_RAISED, *path, what="a weighing with an axle raised")
    lacking = [key for key in _RAISED if key not in data]
    if lacking:
        reader.problem(214, f"{name_of(path)} does not give {' and '.join(lacking)}", *path)
    if lacking or not sound:
        return None
    read = {key: read_value(reader, known, (*path, key)) for key, known in _RAISED.items()}
    values = {key: stated.value for key, stated in read.items() if stated is not None}
    if len(values) < len(_RAISED):
        return None
    axle, by_mm, other_kg, radius_mm = (values[key] for key in _RAISED)
    return RaisedAxle(axle, by_mm, other_kg, radius_mm, reader.document.span(path))
