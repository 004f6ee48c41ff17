"""Levers: tracks with camber, a centre line that is not in the middle, unequal tracks."""

from __future__ import annotations

import math
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given

from checker.car.described.asking import ROLL_SPLIT
from checker.car.errors.sources import moved as moved_by
from checker.car.weights.geometry import Spot
from checker.car.weights.states import state_of
from checker.quantities.kind import Unknown
from tests.car.cars import ABSENT, known, loaded, made_up_cars, varied
from tests.car.errors.one_by_one import every_source
from tests.car.test_weight_laws import states_inside

EQUAL = {"dimensions.rear_width_over_tyres": "1778 mm"}  # both tracks 1553 mm
RADII = {f"tyres.{name}.{axle}.radius": "285 mm" for name in ("dry", "wet") for axle in ("front", "rear")}


def test_camber_moves_the_contact_centres() -> None:
    car = loaded(varied({**EQUAL, **RADII, "dimensions.front_camber": "-2.5 deg"}))
    wider = 2 * 285 * math.tan(math.radians(2.5))
    assert float(known(car.geometry.tracks["front"])) == pytest.approx(1553 + wider)
    assert car.geometry.tracks["rear"] == 1553


def test_camber_without_the_tyres_radius_tells_no_track() -> None:
    car = loaded(varied({"dimensions.front_camber": "-2.5 deg"}))
    assert car.geometry.tracks["front"] == Unknown(absent=("tyres.dry.front.radius",))
    assert loaded(varied({"dimensions.front_camber": "0 deg"})).geometry.tracks["front"] == 1553


def test_a_centre_line_off_the_middle_is_added_to_every_place() -> None:
    """30 mm left of the middle in front, 10 mm at the rear; a spot halfway, 40 mm right of the centre line."""
    changes = {
        **EQUAL,
        "dimensions.front_centre_line_offset": "30 mm",
        "dimensions.rear_centre_line_offset": "10 mm",
    }
    geometry = loaded(varied(changes)).geometry
    rear, left = geometry.shares(Spot(Fraction(2209, 2), Fraction(-40)))
    assert rear == Fraction(1, 2)
    assert left == Fraction(1, 2) + (Fraction(-10, 1553) + Fraction(-30, 1553)) / 2
    assert geometry.shares(Spot(Fraction(0), Fraction(-30)))[1] == Fraction(1, 2)


def test_on_the_centre_line_no_track_is_needed() -> None:
    car = loaded(varied({"tyres": ABSENT}))
    assert car.geometry.shares(Spot(Fraction(500), Fraction(0)))[1] == Fraction(1, 2)
    off = loaded(varied({"tyres": ABSENT, "dimensions.rear_centre_line_offset": "5 mm"}))
    assert isinstance(off.geometry.shares(Spot(Fraction(500), Fraction(0)))[1], Unknown)


def test_unequal_tracks_are_a_source_of_error() -> None:
    """82 kg, 40 mm right: between all by the front track of 1553 mm and all by the rear one of 1400 mm."""
    car = loaded(varied({"dimensions.rear_width_over_tyres": "1625 mm"}))
    (source,) = [s for s in every_source(car) if s.moves == ROLL_SPLIT]
    state = state_of(driver="aboard")
    assert ROLL_SPLIT in car.weights_rest_on(state)
    moved = moved_by(car, source.lever, Fraction(1)).weights(state)
    shift = known(moved.weight("left")) - known(car.weights(state).weight("left"))
    assert shift == 82 * (Fraction(-40, 1400) - Fraction(-40, 1553))
    assert moved.weight("total") == car.weights(state).weight("total")
    assert source.variance == Fraction(1, 3)


def test_equal_tracks_and_unknown_ones_are_none() -> None:
    for changes in (EQUAL, {"tyres": ABSENT}):
        assert not any(s.moves == ROLL_SPLIT for s in every_source(loaded(varied(changes))))


@given(declaration=made_up_cars(), state=states_inside())
def test_however_the_roll_is_shared_the_sides_make_up_the_total(
    declaration: dict[str, Any], state: Any
) -> None:
    car = loaded(declaration).with_roll_split(Fraction(1, 3))
    weights = car.weights(state)
    assert known(weights.weight("left")) + known(weights.weight("right")) == weights.weight("total")
