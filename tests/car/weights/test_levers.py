"""The lever rules on numbers that can be followed by head."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.car.weights.levers import (
    contact_track,
    left_share,
    left_share_of_car,
    mean_wheelbase,
    rear_share,
)

LENGTHS = st.integers(500, 3000).map(Fraction)
PLACES = st.integers(-3000, 3000).map(Fraction)


def test_half_way_between_the_axles_each_axle_carries_half() -> None:
    assert rear_share(Fraction(1100), Fraction(2200)) == Fraction(1, 2)


def test_over_an_axle_that_axle_carries_all() -> None:
    assert rear_share(Fraction(0), Fraction(2200)) == 0
    assert rear_share(Fraction(2200), Fraction(2200)) == 1


def test_behind_the_rear_axle_the_front_is_lifted() -> None:
    assert rear_share(Fraction(2640), Fraction(2200)) == Fraction(6, 5)


def test_the_lever_across_is_between_the_contact_centres() -> None:
    assert contact_track(Fraction(1775), Fraction(225)) == 1550
    assert left_share(Fraction(-310), Fraction(1550)) == Fraction(3, 10)


def test_the_width_over_the_tyres_would_be_the_wrong_lever() -> None:
    assert left_share(Fraction(-310), Fraction(1775)) != Fraction(3, 10)


def test_an_item_over_a_contact_centre_stands_on_that_wheel_alone() -> None:
    assert left_share(Fraction(775), Fraction(1550)) == 1


def test_the_wheelbase_is_the_mean_of_the_two_sides() -> None:
    assert mean_wheelbase(Fraction(2210), Fraction(2208)) == 2209


@given(x=PLACES, y=PLACES, wheelbase=LENGTHS, track=LENGTHS)
def test_with_equal_tracks_the_place_along_the_car_does_not_matter_to_the_sides(
    x: Fraction, y: Fraction, wheelbase: Fraction, track: Fraction
) -> None:
    share = left_share(y, track)
    assert left_share_of_car(rear_share(x, wheelbase), share, share) == share


@given(y=PLACES, front=LENGTHS, rear=LENGTHS)
def test_over_an_axle_that_axles_track_counts(y: Fraction, front: Fraction, rear: Fraction) -> None:
    shares = left_share(y, front), left_share(y, rear)
    assert left_share_of_car(Fraction(0), *shares) == left_share(y, front)
    assert left_share_of_car(Fraction(1), *shares) == left_share(y, rear)


def test_camber_moves_the_contact_centres() -> None:
    """At 45 degrees, with the tops leaning in, each wheel stands its radius further out; leaning out, further in."""
    width, section, radius = Fraction(1768), Fraction(215), Fraction(285)
    assert contact_track(width, section) == 1553
    assert contact_track(width, section, Fraction(-45), radius) == 1553 + 2 * 285
    assert contact_track(width, section, Fraction(45), radius) == 1553 - 2 * 285
    two_degrees = contact_track(width, section, Fraction(-2), radius)
    assert two_degrees == pytest.approx(1553 + 2 * 285 * 0.0349207694917, abs=1e-6)
