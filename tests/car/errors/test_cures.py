"""What would make a source of error small enough."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.car.errors.cures import (
    FINEST,
    LEVEL_MM,
    MOST_READINGS,
    How,
    Remedy,
    better_gear,
    level_pads,
    levelled,
    more_readings,
)
from checker.quantities.amount import Amount
from checker.quantities.units import parse_unit

KG, MM = parse_unit("kg", None), parse_unit("mm", None)


@pytest.mark.parametrize(
    ("times", "share", "more"),
    [
        (1, Fraction(9, 10), 1),
        (1, Fraction(6, 10), 2),
        (2, Fraction(1, 2), 6),
        (2, Fraction(2, 5), None),
        (1, Fraction(0), None),
    ],
)
def test_more_readings(times: int, share: Fraction, more: int | None) -> None:
    assert more_readings(times)(share) == (None if more is None else Remedy(How.WEIGH_AGAIN, times=more))


@given(times=st.integers(1, 5), share=st.fractions(Fraction(1, 10), Fraction(99, 100)))
def test_so_many_readings_are_enough_and_one_less_is_not(times: int, share: Fraction) -> None:
    remedy = more_readings(times)(share)
    if remedy is None:
        assert Fraction(times, MOST_READINGS) > share**2
        return
    needed = times + remedy.times
    assert Fraction(times, needed) <= share**2 < Fraction(times, needed - 1)


@given(half_width=st.fractions(Fraction(1, 100), 10), share=st.fractions(0, 1))
def test_the_gear_asked_for_makes_the_error_that_share_and_nobody_is_asked_for_gear_five_times_as_good(
    half_width: Fraction, share: Fraction
) -> None:
    remedy = better_gear("pads", half_width, KG)(share)
    wanted = Remedy(How.USE_GEAR, "pads", Amount(half_width * share, KG.kind, KG))
    assert remedy == (wanted if share >= FINEST else None)


def test_nobody_levels_a_floor_quite() -> None:
    assert level_pads("across", Fraction(3))(Fraction(1, 10)) is None
    assert level_pads("across", Fraction(3))(Fraction(9, 10)) == levelled("across", Fraction(27, 10))
    assert levelled("along", Fraction(1, 3)).to == Amount(LEVEL_MM, MM.kind, MM), "as well as anybody can"
