"""Numbers as floats, with what these are out by."""

from __future__ import annotations

from fractions import Fraction

ROUNDING = 1.2e-16
"""More than a float is rounded by, as a share of it (2^-53)."""
TINY = 1e-300
"""More than what is lost where a result is too small for a float."""


def in_float(value: Fraction) -> tuple[float, float] | None:
    """A number as a float and what that is out by at the most; None where it is beyond all floats."""
    try:
        found = float(value)
    except OverflowError:
        return None
    exact = found.as_integer_ratio() == (value.numerator, value.denominator)
    return found, 0.0 if exact else abs(found) * ROUNDING + TINY
