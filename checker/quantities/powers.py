"""Powers, cube roots and logarithms of exact numbers: exact where the result is rational, else to 30 digits.

A power of a rational number with the exponent a/b, in lowest terms, is rational only where the number is a power of b;
a common logarithm only where the number is a power of ten (both by unique factorisation). Cube roots are made of whole
numbers. What else is not rational lies between bounds that interval arithmetic proves, closer to each other than the
last digit kept.
"""

from __future__ import annotations

from fractions import Fraction
from functools import lru_cache

from checker.quantities.elementary import DIGITS, to_digits

MOST_EXPONENT = 64
"""Powers beyond this, or below its opposite, are a slip of the pen."""

_MOST_ROOT = 1000
_MOST_BITS = 4096
"""A rational result longer than this is kept to 30 digits."""
_SPARE = DIGITS + 10


def cbrt(x: Fraction) -> Fraction:
    """The cube root, below zero too."""
    if x < 0:
        return -cbrt(-x)
    exact = _exact_root(x, 3)
    if exact is not None:
        return exact
    # whole numbers do it: the root of x times a power of 1000 that leaves digits to spare
    scale = 10 ** (_SPARE + x.denominator.bit_length())
    return to_digits(Fraction(_whole_root(x.numerator * scale**3 // x.denominator, 3), scale))


def power(x: Fraction, exponent: Fraction) -> Fraction:
    """`x` to the power of `exponent`.

    Raises:
        ValueError: `x` is below zero, or zero with an exponent that is not above it, or the exponent is beyond 64.
    """
    if abs(exponent) > MOST_EXPONENT:
        raise ValueError(f"an exponent lies between -{MOST_EXPONENT} and {MOST_EXPONENT}")
    if x < 0 or (x == 0 and exponent <= 0):
        raise ValueError("only a number above zero has such a power")
    if x == 0 or exponent == 0:
        return Fraction(0 if x == 0 else 1)
    if exponent.denominator <= _MOST_ROOT:
        root = _exact_root(x, exponent.denominator)
        if root is not None and _bits(root) * abs(exponent.numerator) <= _MOST_BITS:
            return root**exponent.numerator
    return _proven("power", x, exponent)


def lg(x: Fraction) -> Fraction:
    """The common logarithm, to base ten.

    Raises:
        ValueError: `x` is not above zero.
    """
    if x <= 0:
        raise ValueError("only a number above zero has a logarithm")
    if x < 1:
        return -lg(1 / x)
    zeros = len(str(x.numerator)) - 1
    return Fraction(zeros) if x == 10**zeros else _proven("lg", x, Fraction(1))


def _bits(x: Fraction) -> int:
    return max(x.numerator.bit_length(), x.denominator.bit_length())


def _exact_root(x: Fraction, degree: int) -> Fraction | None:
    """The root of `x` above or at zero where it is rational."""
    over, under = _whole_root(x.numerator, degree), _whole_root(x.denominator, degree)
    exact = over**degree == x.numerator and under**degree == x.denominator
    return Fraction(over, under) if exact else None


def _whole_root(n: int, degree: int) -> int:
    """The greatest whole number whose power is not above `n`."""
    if n < 2 or degree == 1:
        return n
    low, high = 1, 1 << (n.bit_length() // degree + 1)
    while high - low > 1:  # low's power is not above n, high's is
        middle = (low + high) // 2
        low, high = (middle, high) if middle**degree <= n else (low, middle)
    return low


@lru_cache(maxsize=4096)
def _proven(name: str, x: Fraction, exponent: Fraction) -> Fraction:
    """A power, or the logarithm, of `x` to `DIGITS` digits, of which intervals prove every one but the last."""
    from mpmath import iv  # slow to import, and few packs need it
    from mpmath.libmp import to_rational

    before, precision = iv.prec, 200
    try:
        while True:
            iv.prec = precision + max(_bits(x), _bits(exponent))
            logarithm = iv.log(iv.mpf(x.numerator) / iv.mpf(x.denominator))
            if name == "lg":
                found = logarithm / iv.log(iv.mpf(10))
            else:
                found = iv.exp(logarithm * iv.mpf(exponent.numerator) / iv.mpf(exponent.denominator))
            low, high = (Fraction(*map(int, to_rational(end))) for end in found._mpi_)
            if low > 0 and (high - low) * 10 ** (DIGITS + 5) < low:
                return to_digits((low + high) / 2)
            precision *= 2
    finally:
        iv.prec = before
