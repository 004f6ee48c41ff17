"""Square roots and trigonometry on exact numbers: exact where the result is rational, else to 30 digits.

Angles are in degrees. At rational degrees the sine is rational only where it is 0, 1/2 or 1 (up to sign), and
the tangent only where it is 0 or 1 (Niven's theorem); the arc tangent accordingly. What is not rational is
rounded to 30 significant digits, so a comparison must allow for the last of them: see `same`.
"""

from __future__ import annotations

from fractions import Fraction
from functools import lru_cache
from math import isqrt

DIGITS = 30
"""Significant digits of a result that is not rational."""

SAME_WITHIN = Fraction(1, 10**25)
"""A difference below this part of a value counts as none."""

_WORKING_DIGITS = DIGITS + 20

PI = Fraction(314159265358979323846264338328, 10**29)
"""To 30 significant digits."""


def same(a: Fraction, b: Fraction) -> bool:
    """True when the two are equal or differ by less than 10^-25 of the larger."""
    return a == b or abs(a - b) < SAME_WITHIN * max(abs(a), abs(b))


def sqrt(x: Fraction) -> Fraction:
    """The square root.

    Raises:
        ValueError: `x` is below zero.
    """
    if x < 0:
        raise ValueError("a number below zero has no square root")
    over, under = isqrt(x.numerator), isqrt(x.denominator)
    if over * over == x.numerator and under * under == x.denominator:
        return Fraction(over, under)
    # whole numbers do it: the root of x times a power of 100 that leaves digits to spare
    power = max(0, _WORKING_DIGITS - _magnitude(x) // 2)
    return to_digits(Fraction(isqrt(x.numerator * 100**power // x.denominator), 10**power))


def hypot(x: Fraction, y: Fraction) -> Fraction:
    """The length of the hypotenuse over `x` and `y`."""
    return sqrt(x * x + y * y)


def sin(degrees: Fraction) -> Fraction:
    turned = degrees % 360
    if turned > 180:
        return -sin(turned - 180)
    if turned > 90:
        return sin(180 - turned)
    if turned in (0, 90):
        return turned / 90
    return Fraction(1, 2) if turned == 30 else _carried("sin", turned)


def cos(degrees: Fraction) -> Fraction:
    return sin(degrees + 90)


def tan(degrees: Fraction) -> Fraction:
    """The tangent.

    Raises:
        ValueError: At 90 degrees, and at every 180 degrees more or less, there is none.
    """
    turned = degrees % 180
    if turned == 90:
        raise ValueError("90 deg, or 90 deg and half turns more, has no tangent")
    if turned > 90:
        return -tan(180 - turned)
    if turned in (0, 45):
        return turned / 45
    # beside 90 degrees the cotangent keeps the digits that the tangent would lose
    return _carried("tan", turned) if turned < 45 else _carried("cot", 90 - turned)


def atan(x: Fraction) -> Fraction:
    """The angle in degrees, between -90 and 90, whose tangent is `x`."""
    if x < 0:
        return -atan(-x)
    return 45 * x if x in (0, 1) else _carried("atan", x)


@lru_cache(maxsize=4096)
def _carried(name: str, x: Fraction) -> Fraction:
    """A function of `x` above 0 whose result is above 0, to `DIGITS` significant digits."""
    import mpmath  # slow to import, and few packs need it

    with mpmath.workdps(_WORKING_DIGITS):
        given = mpmath.mpf(x.numerator) / mpmath.mpf(x.denominator)
        if name == "atan":
            result = mpmath.atan(given) * 180 / mpmath.pi
        else:
            result = getattr(mpmath, name)(given * mpmath.pi / 180)
        mantissa, exponent = result.man_exp
    return to_digits(Fraction(int(mantissa)) * Fraction(2) ** int(exponent))


def _magnitude(x: Fraction) -> int:
    """The number of digits of `x` above 0 before its point, within one; below 0 for zeros after the point."""
    return (x.numerator.bit_length() - x.denominator.bit_length()) * 30103 // 100000


def to_digits(x: Fraction) -> Fraction:
    """`x` above 0, rounded to `DIGITS` significant digits, half to even."""
    places = DIGITS - _magnitude(x)
    while x * Fraction(10) ** places >= 10**DIGITS:
        places -= 1
    while x * Fraction(10) ** places < 10 ** (DIGITS - 1):
        places += 1
    scale = Fraction(10) ** places
    return round(x * scale) / scale
