"""How far the floor under the pads may be out of level, and what that does to the loads.

A car whose floor falls by the angle phi towards one side presses more on that side: its centre of gravity, at the
height h, moves by h tan phi towards it, so the side's part of the weight grows by h tan phi over the track. Along the
car it is the same over the wheelbase. One floor is under all pads, so this is one error for all readings.

Source: moments about the contact line of a body on a plane that is tilted by a small angle.
"""

from __future__ import annotations

from fractions import Fraction

from checker.car.described.standard import measured
from checker.car.reading.mistakes import Reader, name_of
from checker.car.reading.values import read_value
from checker.quantities.dimension import ANGLE, LENGTH
from checker.quantities.elementary import PI
from checker.quantities.kind import quantity
from checker.quantities.literal import parse_literal
from checker.quantities.misread import LiteralError
from checker.reading.problems import Path
from checker.reading.quick_dataclasses import dataclass

ACROSS, ALONG = "across", "along"
MOST_DEG, MOST_MM = 5, 100
"""More is taken for a slip."""

PAD_HEIGHT, STIFFNESS = "pad_height", "stiffness"
GRAVITY_MM_PER_S2 = Fraction("9806.65")
"""Standard acceleration of free fall. Source: the SI Brochure of the BIPM, 9th edition."""
_MEASURED = {
    PAD_HEIGHT: measured(PAD_HEIGHT, "mm", high=MOST_MM),
    STIFFNESS: measured(STIFFNESS, "N/mm", low=1, high=2000),
}

_LENGTH, _ANGLE = quantity(LENGTH), quantity(ANGLE)


@dataclass(frozen=True, slots=True)
class Slope:
    """How far out of level the floor may be in one direction, either way."""

    deg: Fraction | None = None
    mm: Fraction | None = None
    """The difference in height between the pads."""
    written: str = ""

    def tangent(self, lever_mm: Fraction) -> Fraction:
        """Of the steepest angle, where the pads are so far apart."""
        if self.mm is not None:
            return self.mm / lever_mm
        return _tangent(self.deg or Fraction(0))


def _tangent(deg: Fraction) -> Fraction:
    """Of a small angle, by its series: at 5 degrees good to ten digits, and quicker to have than by a library."""
    x = deg * PI / 180
    return x + x**3 / 3 + 2 * x**5 / 15 + 17 * x**7 / 315


@dataclass(frozen=True, slots=True)
class Floor:
    """What is stated of the floor; None where nothing is."""

    across: Slope | None = None
    along: Slope | None = None
    pad_height_mm: Fraction | None = None
    """Half-width: each pad stands in the plane of the others to within this."""
    stiffness_kg_per_mm: Fraction | None = None
    """Of one wheel against the ground, the mean of four: spring, bar and tyre together."""

    @property
    def kg_per_mm(self) -> Fraction:
        """What every load gains or loses by a millimetre under one pad: a quarter of it twists the car.

        Source: four equal springs under a stiff frame, one of them lifted by a unit; a quarter of that each is heave,
        roll, pitch and twist, and only the twist is left once the car has settled.
        """
        return (self.stiffness_kg_per_mm or Fraction(0)) / 4


def read_floor(reader: Reader, path: Path) -> Floor:
    """`{across: 2 mm, along: 0.1 deg, pad_height: 0.5 mm, stiffness: 25 N/mm}`: level to within so much."""
    slopes: dict[str, Slope | None] = {}
    found: dict[str, Fraction] = {}
    for key in reader.mapping(*path, wanted="how level it is, as {across: 2 mm, along: 3 mm},"):
        if key in (ACROSS, ALONG):
            slopes[key] = _read_slope(reader, (*path, key))
        elif key in _MEASURED:
            stated = read_value(reader, _MEASURED[key], (*path, key))
            if stated is not None:
                found[key] = stated.value
        else:
            reader.unknown_name("key of a floor", (ACROSS, ALONG, *_MEASURED), *path, key)
    stiffness = found.get(STIFFNESS)
    return Floor(
        slopes.get(ACROSS),
        slopes.get(ALONG),
        found.get(PAD_HEIGHT),
        None if stiffness is None else stiffness / GRAVITY_MM_PER_S2,
    )


def _read_slope(reader: Reader, path: Path) -> Slope | None:
    given = reader.get(*path)
    hint = "write the difference in height between the pads, as in 2 mm, or the angle, as in 0.1 deg"
    try:
        literal = parse_literal(given, None) if isinstance(given, str) else None
    except LiteralError as error:
        reader.problem(203, f"{name_of(path)}: {error.message}", *path, hint=error.hint or hint)
        return None
    if literal is None:
        reader.problem(203, f"{name_of(path)} needs a length or an angle with its unit", *path, hint=hint)
        return None
    value, text = literal.value, literal.text
    if not isinstance(value, Fraction) or literal.kind not in (_LENGTH, _ANGLE):
        reader.problem(204, f"{name_of(path)}: {given} is {literal.kind}", *path, hint=hint)
        return None
    if value <= 0:
        message = f"{name_of(path)} is {given}; it counts either way, and no floor is quite level"
        reader.problem(207, message, *path)
        return None
    if value > (MOST_MM if literal.kind == _LENGTH else MOST_DEG):
        reader.problem(208, f"{name_of(path)} is {given}, taken for a slip", *path, hint=hint)
        return None
    return Slope(mm=value, written=text) if literal.kind == _LENGTH else Slope(deg=value, written=text)
