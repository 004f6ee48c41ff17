"""Rounding to a multiple of a step, exactly, in the four modes that rulebooks use.

Ties of `half_up` go towards plus infinity also below zero, so that shifting a scale by whole steps never
changes how a reading is rounded.
"""

from __future__ import annotations

from fractions import Fraction
from math import ceil, floor

MODES = ("half_up", "half_even", "up", "down")


def round_to(x: Fraction, step: Fraction, mode: str) -> Fraction:
    """The multiple of `step` that `x` is rounded to.

    Args:
        step: Above zero, in the unit of `x`.
        mode: `half_up` nearest, ties towards plus infinity; `half_even` nearest, ties to the even multiple;
            `up` towards plus infinity; `down` towards minus infinity.

    Raises:
        ValueError: The step is not above zero, or there is no such mode.
    """
    if step <= 0:
        raise ValueError("a rounding step is above zero")
    steps = Fraction(x) / step
    match mode:
        case "half_up":
            return floor(steps + Fraction(1, 2)) * step
        case "half_even":
            return round(steps) * step  # of a Fraction, exact and half to even
        case "up":
            return ceil(steps) * step
        case "down":
            return floor(steps) * step
        case _:
            raise ValueError(f"no rounding mode '{mode}'; there are {', '.join(MODES)}")


def one_digit_below(x: Fraction) -> Fraction:
    """A number above zero, rounded down to one significant digit."""
    step = Fraction(1)
    while step > x:
        step /= 10
    while 10 * step <= x:
        step *= 10
    return round_to(x, step, "down")


def edges_of(multiple: Fraction, step: Fraction, mode: str) -> tuple[Fraction, Fraction]:
    """Between which values lies what is rounded to a multiple of `step`; arguments as for `round_to`."""
    below, above = {"up": (1, 0), "down": (0, 1)}.get(mode, (Fraction(1, 2), Fraction(1, 2)))
    return multiple - below * step, multiple + above * step
