"""Roots and angles: exact where the result is rational, and lawful to 25 digits elsewhere."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.quantities.elementary import DIGITS, atan, cos, hypot, same, sin, sqrt, tan
from tests.examples import each_row

ANGLES = st.fractions(min_value=-720, max_value=720, max_denominator=1000)
POSITIVE = st.fractions(min_value=Fraction(1, 10**6), max_value=10**6, max_denominator=10**6)


@each_row(
    ("x", "root"),
    [("0", "0"), ("4", "2"), ("9/4", "3/2"), ("0.25", "0.5"), ("1.44", "1.2"), ("1e-40", "1e-20")],
)
def test_roots_of_squares_are_exact(x: str, root: str) -> None:
    assert sqrt(Fraction(x)) == Fraction(root)


def test_a_right_angle_is_exact() -> None:
    assert hypot(Fraction(3), Fraction(-4)) == 5
    assert hypot(Fraction(5, 2), Fraction(6)) == Fraction(13, 2)


@each_row(
    ("angle", "sine", "cosine", "tangent"),
    [
        (0, "0", "1", "0"),
        (30, "1/2", None, None),
        (45, None, None, "1"),
        (60, None, "1/2", None),
        (90, "1", "0", None),
        (120, None, "-1/2", None),
        (135, None, None, "-1"),
        (150, "1/2", None, None),
        (180, "0", "-1", "0"),
        (210, "-1/2", None, None),
        (270, "-1", "0", None),
        (-30, "-1/2", None, None),
        (390, "1/2", None, None),
    ],
)
def test_angles_with_rational_results_are_exact(
    angle: int, sine: str | None, cosine: str | None, tangent: str | None
) -> None:
    for function, expected in ((sin, sine), (cos, cosine), (tan, tangent)):
        if expected is not None:
            assert function(Fraction(angle)) == Fraction(expected)


def test_the_angle_of_one_is_45_degrees() -> None:
    assert [atan(Fraction(x)) for x in (-1, 0, 1)] == [-45, 0, 45]


def test_what_has_no_value_is_refused() -> None:
    with pytest.raises(ValueError, match="no square root"):
        sqrt(Fraction(-1))
    for angle in (90, -90, 270, 450):
        with pytest.raises(ValueError, match="no tangent"):
            tan(Fraction(angle))


@given(POSITIVE)
def test_a_root_squared_is_the_number(x: Fraction) -> None:
    assert same(sqrt(x) ** 2, x)
    assert sqrt(x * x) == x


@given(POSITIVE)
def test_results_have_thirty_digits(x: Fraction) -> None:
    root = sqrt(x)
    if root**2 != x:
        digits = str((root * 10**60).numerator).rstrip("0")
        assert len(digits) <= DIGITS


@given(ANGLES)
def test_sine_and_cosine_lie_on_the_circle(angle: Fraction) -> None:
    assert same(sin(angle) ** 2 + cos(angle) ** 2, Fraction(1))
    assert sin(-angle) == -sin(angle)
    assert sin(angle + 180) == -sin(angle)
    assert cos(angle + 360) == cos(angle)


@given(ANGLES.filter(lambda angle: angle % 180 != 90))
def test_the_tangent_is_sine_over_cosine(angle: Fraction) -> None:
    assert same(tan(angle), sin(angle) / cos(angle))


@given(st.fractions(min_value=-89, max_value=89, max_denominator=1000))
def test_the_arc_tangent_undoes_the_tangent(angle: Fraction) -> None:
    assert same(atan(tan(angle)), angle)


def test_same_allows_for_the_last_digits_and_no_more() -> None:
    one = Fraction(1)
    assert same(one, one + Fraction(1, 10**26))
    assert not same(one, one + Fraction(1, 10**24))
    assert same(Fraction(0), Fraction(0))
    assert not same(Fraction(0), Fraction(1, 10**40))
    assert not same(one, -one)
