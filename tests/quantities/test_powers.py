"""Powers and logarithms: exact where the result is rational, and held to whole numbers elsewhere."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.quantities.elementary import same, sqrt
from checker.quantities.powers import cbrt, lg, power
from tests.examples import each_row

POSITIVE = st.fractions(min_value=Fraction(1, 10**6), max_value=10**6, max_denominator=10**6)
EXPONENTS = st.fractions(min_value=-5, max_value=5, max_denominator=40)
CLOSE = Fraction(1, 10**28)


@each_row(
    ("x", "root"),
    [("0", "0"), ("27", "3"), ("-8", "-2"), ("27/8", "3/2"), ("0.001", "0.1"), ("1e-60", "1e-20")],
)
def test_roots_of_cubes_are_exact(x: str, root: str) -> None:
    assert cbrt(Fraction(x)) == Fraction(root)


@each_row(
    ("x", "exponent", "result"),
    [
        ("8", "2/3", "4"),
        ("32", "0.2", "2"),
        ("0.25", "-0.5", "2"),
        ("9/4", "1.5", "27/8"),
        ("7", "0", "1"),
        ("0", "0.3", "0"),
        ("10", "-3", "0.001"),
    ],
)
def test_rational_powers_are_exact(x: str, exponent: str, result: str) -> None:
    assert power(Fraction(x), Fraction(exponent)) == Fraction(result)


@each_row("zeros", [-40, -3, -1, 0, 1, 2, 60])
def test_logarithms_of_powers_of_ten_are_exact(zeros: int) -> None:
    assert lg(Fraction(10) ** zeros) == zeros


@given(st.one_of(POSITIVE, st.fractions(min_value=10**20, max_value=10**40)))
def test_a_cube_root_lies_between_its_neighbours(x: Fraction) -> None:
    root = cbrt(x)
    assert (root * (1 - CLOSE)) ** 3 <= x <= (root * (1 + CLOSE)) ** 3


@given(POSITIVE, EXPONENTS)
def test_a_power_lies_between_its_neighbours(x: Fraction, exponent: Fraction) -> None:
    """Both sides raised to the exponent's denominator, so that whole numbers prove it."""
    a, b = exponent.numerator, exponent.denominator
    found = power(x, exponent)
    assert (found * (1 - CLOSE)) ** b <= x**a <= (found * (1 + CLOSE)) ** b


@given(POSITIVE, POSITIVE)
def test_the_logarithm_of_a_product_is_the_sum(x: Fraction, y: Fraction) -> None:
    assert abs(lg(x * y) - lg(x) - lg(y)) <= Fraction(1, 10**27)


@given(POSITIVE)
def test_ten_to_the_logarithm_is_the_number(x: Fraction) -> None:
    assert abs(power(Fraction(10), lg(x)) / x - 1) < Fraction(1, 10**27)


@given(POSITIVE)
def test_the_power_of_a_half_is_the_square_root(x: Fraction) -> None:
    assert same(power(x, Fraction(1, 2)), sqrt(x))


def test_published_logarithms() -> None:
    """lg 2 and lg 3 to 20 digits: Abramowitz and Stegun, Handbook of Mathematical Functions, table 1.1 (recalled)."""
    assert abs(lg(Fraction(2)) - Fraction("0.30102999566398119521")) < Fraction(1, 10**20)
    assert abs(lg(Fraction(3)) - Fraction("0.47712125471966243730")) < Fraction(1, 10**20)


@pytest.mark.parametrize(
    ("x", "exponent"), [("-1", "0.5"), ("0", "0"), ("0", "-1"), ("2", "65"), ("2", "-64.5")]
)
def test_what_has_no_power_is_refused(x: str, exponent: str) -> None:
    with pytest.raises(ValueError, match=r"."):
        power(Fraction(x), Fraction(exponent))


@pytest.mark.parametrize("x", [0, -1])
def test_what_has_no_logarithm_is_refused(x: int) -> None:
    with pytest.raises(ValueError, match="above zero"):
        lg(Fraction(x))
