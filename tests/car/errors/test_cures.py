"""What would make a source of error small enough."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.car.errors.cures import MOST_READINGS, better_gear, level_pads, more_readings
from checker.quantities.units import parse_unit

KG = parse_unit("kg", None)


@pytest.mark.parametrize(
    ("times", "share", "words"),
    [
        (1, Fraction(9, 10), "weigh again once more and take the mean of all"),
        (1, Fraction(6, 10), "weigh again twice more and take the mean of all"),
        (2, Fraction(1, 2), "weigh again 6 times more and take the mean of all"),
        (2, Fraction(2, 5), ""),
        (1, Fraction(0), ""),
    ],
)
def test_more_readings(times: int, share: Fraction, words: str) -> None:
    assert more_readings(times)(share) == words


@given(times=st.integers(1, 5), share=st.fractions(Fraction(1, 10), Fraction(99, 100)))
def test_so_many_readings_are_enough_and_one_less_is_not(times: int, share: Fraction) -> None:
    words = more_readings(times)(share)
    if not words:
        assert Fraction(times, MOST_READINGS) > share**2
        return
    again = {"once": 1, "twice": 2}
    first = words.removeprefix("weigh again ").split()[0]
    needed = times + (again.get(first) or int(first))
    assert Fraction(times, needed) <= share**2 < Fraction(times, needed - 1)


@given(half_width=st.fractions(Fraction(1, 100), 10), share=st.fractions(Fraction(1, 5), 1))
def test_the_gear_asked_for_is_good_enough_and_can_be_bought(half_width: Fraction, share: Fraction) -> None:
    words = better_gear("pads", half_width, KG)(share)
    asked = Fraction(words.removeprefix("use pads good to ").removesuffix(" kg"))
    assert half_width * share / 2 < asked <= half_width * share
    assert len(str(float(asked)).strip("0.").replace(".", "")) == 1, "one digit is enough to ask for"


def test_nobody_gets_gear_ten_times_as_good_or_a_floor_quite_level() -> None:
    assert better_gear("pads", Fraction(1, 2), KG)(Fraction(1, 10)) == ""
    assert level_pads("across", Fraction(3))(Fraction(1, 10)) == ""
    assert level_pads("across", Fraction(3))(Fraction(9, 10)) == "level the pads across to 2.5 mm"
    assert better_gear("something", Fraction(1, 2), None)(Fraction(1, 2)) == "use something good to 1/5"
