"""Roots and angles against `mpmath` at 50 digits, `decimal`, and power series in exact fractions."""

from __future__ import annotations

from decimal import Context, Decimal
from fractions import Fraction

import mpmath
from hypothesis import given
from hypothesis import strategies as st

from checker.quantities.elementary import PI, atan, cos, sin, sqrt, tan
from tests.examples import each_row

WITHIN = Fraction(1, 10**29)  # relative; half a unit of the 30th digit is at most 5e-30

ANGLES = st.fractions(min_value=Fraction(1, 10**6), max_value=89, max_denominator=10**6)
POSITIVE = st.fractions(min_value=Fraction(1, 10**9), max_value=10**9, max_denominator=10**9)


def close(ours: Fraction, theirs: Fraction) -> bool:
    return abs(ours - theirs) <= WITHIN * abs(theirs)


def exact(x: object) -> Fraction:
    """An mpmath number as the fraction it is."""
    return Fraction(mpmath.nstr(x, 60))


def test_pi() -> None:
    """The first 36 digits of pi, OEIS A000796; recalled."""
    assert close(PI, Fraction("3.14159265358979323846264338327950288"))


@each_row(
    ("ours", "published"),
    [
        (sqrt(Fraction(2)), "1.41421356237309504880168872420969807856967"),
        (sqrt(Fraction(3)), "1.73205080756887729352744634150587236694280"),
        (sqrt(Fraction(5)), "2.23606797749978969640917366873127623544061"),
        (sin(Fraction(60)), "0.86602540378443864676372317075293618347140"),
        (sin(Fraction(45)), "0.70710678118654752440084436210484903928483"),
        (tan(Fraction(60)), "1.73205080756887729352744634150587236694280"),
    ],
)
def test_known_constants(ours: Fraction, published: str) -> None:
    """OEIS A002193, A002194, A002163, A010527, A010503; recalled, and recomputed with mpmath."""
    assert close(ours, Fraction(published))


@given(POSITIVE)
def test_roots_agree_with_decimal(x: Fraction) -> None:
    context = Context(prec=60)
    root = context.sqrt(context.divide(Decimal(x.numerator), Decimal(x.denominator)))
    assert close(sqrt(x), Fraction(root))


@given(ANGLES)
def test_angles_agree_with_mpmath(angle: Fraction) -> None:
    with mpmath.workdps(60):
        radians = mpmath.mpf(angle.numerator) / angle.denominator * mpmath.pi / 180
        assert close(sin(angle), exact(mpmath.sin(radians)))
        assert close(cos(angle), exact(mpmath.cos(radians)))
        assert close(tan(angle), exact(mpmath.tan(radians)))


@given(POSITIVE)
def test_the_arc_tangent_agrees_with_mpmath(x: Fraction) -> None:
    with mpmath.workdps(60):
        degrees = mpmath.degrees(mpmath.atan(mpmath.mpf(x.numerator) / x.denominator))
        assert close(atan(x), exact(degrees))


@given(st.fractions(min_value=Fraction(1, 100), max_value=89, max_denominator=100))
def test_the_sine_agrees_with_its_series(angle: Fraction) -> None:
    radians = angle * Fraction("3.14159265358979323846264338327950288419716939937510") / 180
    term = total = radians
    for n in range(2, 60, 2):
        term = -term * radians**2 / (n * (n + 1))
        total += term
    assert close(sin(angle), total)


def test_beside_a_right_angle_no_digits_are_lost() -> None:
    beside = 90 - Fraction(1, 10**12)
    with mpmath.workdps(80):
        radians = mpmath.mpf(beside.numerator) / beside.denominator * mpmath.pi / 180
        assert close(tan(beside), exact(mpmath.tan(radians)))
        assert close(cos(beside), exact(mpmath.cos(radians)))
