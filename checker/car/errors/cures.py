"""What would make a source of error smaller, in words that say how far to go.

A cure is asked for the share of its standard uncertainty that a source may keep; where nobody could get so far, it has
nothing to say.
"""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

from checker.quantities.display import show
from checker.quantities.rounding import round_to
from checker.quantities.units import Unit, parse_unit

Cure = Callable[[Fraction], str]

_MM = parse_unit("mm", None)

MOST_READINGS = 10
"""Nobody weighs a car more often."""
FINEST = Fraction(1, 5)
"""Nobody gets gear that is good to less than this share of what there is."""


def more_readings(times: int) -> Cure:
    """The spread of a mean of so many readings shrinks with the root of their number."""

    def cure(share: Fraction) -> str:
        needed = -(-times // (share * share)) if share else MOST_READINGS + 1
        if needed > MOST_READINGS:
            return ""
        more = int(needed) - times
        again = {1: "once more", 2: "twice more"}.get(more, f"{more} times more")
        return f"weigh again {again} and take the mean of all" if more > 0 else ""

    return cure


def better_gear(gear: str, half_width: Fraction, unit: Unit | None) -> Cure:
    """Gear whose error is so much smaller; `gear` is what to use, as in "pads"."""

    def cure(share: Fraction) -> str:
        if share < FINEST:
            return ""
        needed = _one_digit(half_width * share)
        return f"use {gear} good to {show(needed, unit) if unit else needed}"

    return cure


def level_pads(direction: str, mm: Fraction) -> Cure:
    """Pads levelled to half a millimetre at best."""
    half = Fraction(1, 2)

    def cure(share: Fraction) -> str:
        needed = round_to(mm * share, half, "down")
        return f"level the pads {direction} to {show(needed, _MM)}" if needed >= half else ""

    return cure


def _one_digit(x: Fraction) -> Fraction:
    """Rounded down to one significant digit."""
    step = Fraction(1)
    while step > x:
        step /= 10
    while 10 * step <= x:
        step *= 10
    return round_to(x, step, "down")
