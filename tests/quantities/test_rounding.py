"""Rounding to a step: four modes, all exact."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.quantities.rounding import MODES, one_digit_below, round_to
from tests.examples import each_row

VALUES = st.fractions(max_denominator=10**6)
STEPS = st.fractions(min_value=Fraction(1, 1000), max_value=1000, max_denominator=1000)
MODE = st.sampled_from(MODES)


@each_row(
    ("x", "step", "half_up", "half_even", "up", "down"),
    [
        ("2.5", "1", "3", "2", "3", "2"),
        ("3.5", "1", "4", "4", "4", "3"),
        ("-2.5", "1", "-2", "-2", "-2", "-3"),
        ("-3.5", "1", "-3", "-4", "-3", "-4"),
        ("52.55", "0.1", "52.6", "52.6", "52.6", "52.5"),
        ("52.65", "0.1", "52.7", "52.6", "52.7", "52.6"),
        ("617.3", "0.5", "617.5", "617.5", "617.5", "617"),
        ("1303", "25", "1300", "1300", "1325", "1300"),
        ("4", "1", "4", "4", "4", "4"),
        ("0", "0.1", "0", "0", "0", "0"),
    ],
)
def test_the_four_modes(x: str, step: str, half_up: str, half_even: str, up: str, down: str) -> None:
    rounded = [round_to(Fraction(x), Fraction(step), mode) for mode in ("half_up", "half_even", "up", "down")]
    assert rounded == [Fraction(text) for text in (half_up, half_even, up, down)]


@given(VALUES, STEPS, MODE)
def test_the_result_is_a_multiple_less_than_a_step_away(x: Fraction, step: Fraction, mode: str) -> None:
    rounded = round_to(x, step, mode)
    assert (rounded / step).denominator == 1
    assert abs(rounded - x) < step
    assert abs(rounded - x) <= step / 2 or mode in ("up", "down")
    assert round_to(rounded, step, mode) == rounded


@given(VALUES, STEPS)
def test_up_is_above_and_down_below(x: Fraction, step: Fraction) -> None:
    assert round_to(x, step, "down") <= x <= round_to(x, step, "up")
    assert round_to(x, step, "up") == -round_to(-x, step, "down")


@given(VALUES, VALUES, STEPS, MODE)
def test_rounding_keeps_the_order(x: Fraction, y: Fraction, step: Fraction, mode: str) -> None:
    assert round_to(min(x, y), step, mode) <= round_to(max(x, y), step, mode)


@given(st.integers(-1000, 1000), STEPS)
def test_ties_go_up_or_to_the_even_multiple(n: int, step: Fraction) -> None:
    tie = (n + Fraction(1, 2)) * step
    assert round_to(tie, step, "half_up") == (n + 1) * step
    assert (round_to(tie, step, "half_even") / step) % 2 == 0


@given(VALUES, STEPS, st.integers(-100, 100), st.sampled_from(["half_up", "up", "down"]))
def test_shifting_the_scale_by_whole_steps_changes_nothing(
    x: Fraction, step: Fraction, n: int, mode: str
) -> None:
    assert round_to(x + n * step, step, mode) == round_to(x, step, mode) + n * step


def test_a_step_is_above_zero_and_a_mode_is_one_of_four() -> None:
    for step in (0, -1):
        with pytest.raises(ValueError, match="above zero"):
            round_to(Fraction(1), Fraction(step), "up")
    with pytest.raises(ValueError, match="no rounding mode 'nearest'"):
        round_to(Fraction(1), Fraction(1), "nearest")


@given(st.fractions(Fraction(1, 10**6), 10**6))
def test_one_digit_is_not_above_and_not_far_below(x: Fraction) -> None:
    rounded = one_digit_below(x)
    assert x / 2 < rounded <= x
    assert len(str(float(rounded)).partition("e")[0].strip("0.").replace(".", "")) == 1
