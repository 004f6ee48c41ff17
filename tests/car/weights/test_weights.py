"""Weights in every state, worked out by hand."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest

from checker.car.reasons import NotOfCar
from checker.car.weights.states import state_of
from checker.car.weights.weights import PAIRS, State
from checker.quantities.kind import Unknown
from tests.car.cars import ABSENT, COMPLETE, WHEELS, loaded, varied
from tests.examples import each_row

LITRE = 10**6


def kg(text: str) -> Fraction:
    return Fraction(text)


# -- as weighed --------------------------------------------------------------------------------------


def test_the_mean_of_each_load_counts() -> None:
    weights = loaded(COMPLETE).weights()
    assert weights.weight("front_left") == kg("158.25")
    assert weights.weight("total") == 587
    assert weights.weight("left") == kg("310.5")
    assert weights.weight("front") == kg("297.5")
    assert weights.percentage("left") == Fraction(3105, 5870)


def test_each_repeat_reading_can_be_asked_alone() -> None:
    car = loaded(COMPLETE)
    assert car.weighings == 2
    assert car.weights(weighing=0).weight("front_left") == kg("158.5")
    assert car.weights(weighing=1).weight("front_left") == 158


@pytest.mark.parametrize(
    ("course", "inside", "front_inside", "cross"),
    [
        ("anticlockwise", "310.5", "158.25", "291.5"),  # front right 139.25 and rear left 152.25
        ("clockwise", "276.5", "139.25", "295.5"),  # front left 158.25 and rear right 137.25
    ],
)
def test_inside_follows_the_course(course: str, inside: str, front_inside: str, cross: str) -> None:
    weights = loaded(COMPLETE, course=course).weights()
    assert weights.weight("inside") == kg(inside)
    assert weights.weight("outside") == 587 - kg(inside)
    assert weights.weight("front_inside") == kg(front_inside)
    assert weights.weight("cross") == kg(cross)
    assert weights.percentage("cross") == kg(cross) / 587


@pytest.mark.parametrize(
    ("reading", "told", "untold"),
    [
        ({"total": "587 kg"}, {"total": 587}, ("left", "front", "inside", "front_left", "cross")),
        (
            {"front": "297 kg", "rear": "290 kg"},
            {"total": 587, "front": 297, "rear": 290},
            ("left", "inside", "rear_right", "cross"),
        ),
        (
            {"left": "310 kg", "right": "277 kg"},
            {"total": 587, "inside": 310, "outside": 277},
            ("front", "rear", "front_left", "cross"),
        ),
    ],
)
def test_a_weighbridge_tells_what_it_can(reading: Any, told: Any, untold: Any) -> None:
    weights = loaded(varied({"weighing.readings": [reading]})).weights()
    assert {name: weights.weight(name) for name in told} == told
    for name in untold:
        assert weights.weight(name) == Unknown.because(NotOfCar.GIVES_ONLY, " and ".join(reading))
        assert isinstance(weights.percentage(name), Unknown)


def test_a_car_that_was_not_weighed_weighs_nothing_known() -> None:
    weights = loaded(varied({"weighing.readings": ABSENT})).weights()
    assert weights.weight("total") == Unknown(absent=("weighing.readings",))
    assert weights.percentage("rear") == Unknown(absent=("weighing.readings",))


def test_a_name_that_is_no_weight_is_our_own_mistake() -> None:
    with pytest.raises(KeyError):
        loaded(COMPLETE).weights().weight("middle")


# -- in other states ---------------------------------------------------------------------------------


def test_fuel_acts_at_its_place_by_the_track_between_contact_centres() -> None:
    state = state_of(fuel=Fraction(16 * LITRE))
    weights = loaded(
        varied({"dimensions.rear_width_over_tyres": "1778 mm"})  # both tracks 1553 mm
    ).weights(state)
    added = kg("7.45")
    assert weights.weight("total") == 587 + added
    assert weights.weight("rear") == kg("289.5") + added * Fraction(2050, 2209)
    assert weights.weight("left") == kg("310.5") + added * (Fraction(1, 2) + Fraction(60, 1553))


def test_unequal_tracks_each_count_for_what_falls_on_their_axle() -> None:
    weights = loaded(
        varied({"dimensions.rear_width_over_tyres": "1625 mm"})  # tracks 1553 and 1400 mm
    ).weights(state_of(driver="aboard"))
    rear = Fraction(1150, 2209)
    left = (1 - rear) * (Fraction(1, 2) - Fraction(40, 1553)) + rear * (Fraction(1, 2) - Fraction(40, 1400))
    assert weights.weight("left") == kg("310.5") + 82 * left


def test_a_driver_weighed_aboard_is_taken_off() -> None:
    car = loaded(varied({"weighing.driver": "aboard"}))
    assert car.weights(state_of(driver="out")).weight("total") == 587 - 82
    assert car.weights(state_of(driver="aboard")).weight("total") == 587


def test_other_tyres_act_at_the_wheels() -> None:
    weights = loaded(COMPLETE).weights(state_of(tyres="wet"))
    assert weights.weight("front") == kg("297.5") + kg("1.4")
    assert weights.weight("rear") == kg("289.5") + kg("1.6")
    assert weights.weight("left") == kg("310.5") + kg("1.5")


def test_wear_takes_off_what_each_wheel_loses() -> None:
    weights = loaded(COMPLETE).weights(state_of(wear=Fraction(1)))
    assert weights.weight("total") == 585
    assert weights.weight("left") == kg("310.5") - kg("0.8")
    assert weights.weight("front") == kg("297.5") - kg("1.1")


def test_a_car_weighed_worn_is_heavier_new() -> None:
    car = loaded(varied({"weighing.wear": "worn"}))
    assert car.weights(state_of(wear=Fraction(0))).weight("total") == 589
    assert car.weights(state_of(wear=Fraction(1, 2))).weight("total") == 588
    assert car.weights(state_of(wear=Fraction(1))).weight("total") == 587


def test_single_wheels_are_never_predicted() -> None:
    weights = loaded(COMPLETE).weights(state_of(driver="aboard"))
    for name in (*WHEELS, "front_inside", "cross"):
        found = weights.weight(name)
        assert isinstance(found, Unknown)
        assert "only be told as weighed" in found.told()[0]


def test_the_steps_of_a_weight_name_each_change() -> None:
    weights = loaded(COMPLETE).weights(state_of(Fraction(0), "aboard", "wet", Fraction(1)))
    assert weights.steps("total") == (
        ("as weighed", kg("587")),
        ("fuel from 6 L to 0 L", kg("-4.47")),
        ("driver aboard", kg("82")),
        ("wet tyres", kg("3")),
        ("tyres and brakes worn", kg("-2")),
    )
    assert [change.uses for change in weights.changes][2] == (
        "weighing.tyres",
        "tyres.wet.front.mass",
        "tyres.dry.front.mass",
        "tyres.wet.rear.mass",
        "tyres.dry.rear.mass",
    )


def test_a_step_tells_fuel_on_board_in_the_unit_it_was_stated_in() -> None:
    weights = loaded(varied({"weighing.fuel": "2 gal_US"})).weights(state_of(Fraction(0)))
    assert weights.steps("total")[1][0] == "fuel from 2 gal_US to 0 L"


# -- what is not stated ------------------------------------------------------------------------------

FULL = State(fuel=Fraction(22 * LITRE))
ABOARD = State(driver="aboard")
WET = State(tyres="wet")
WORN = State(wear=Fraction(1))


@each_row(
    ("removed", "state", "lacking", "unknown"),
    [
        ("weighing.fuel", FULL, "weighing.fuel", PAIRS),
        ("fuel.density", FULL, "fuel.density", PAIRS),
        ("fuel.at", FULL, "fuel.at.behind_front_axle", ("front", "rear")),
        ("fuel.at.behind_front_axle", FULL, "fuel.at.behind_front_axle", PAIRS[1:]),
        ("fuel.at.left_of_centre", FULL, "fuel.at.left_of_centre", ("left", "right")),
        ("dimensions.wheelbase_right", FULL, "dimensions.wheelbase_right", PAIRS[1:]),
        (
            "dimensions.rear_width_over_tyres",
            FULL,
            "dimensions.rear_width_over_tyres",
            ("left", "right"),
        ),
        ("tyres.dry.front.section", FULL, "tyres.dry.front.section", ("left", "right")),
        ("tyres", FULL, "tyres", ("left", "right")),
        ("weighing.driver", ABOARD, "weighing.driver", PAIRS),
        ("driver.mass", ABOARD, "driver.mass", PAIRS),
        ("weighing.tyres", WET, "weighing.tyres", PAIRS),
        ("tyres.wet.front.mass", WET, "tyres.wet.front.mass", ("total", "front", "left", "right")),
        ("tyres.wet", WET, "tyres.wet.", PAIRS),
        ("wear.front_left", WORN, "wear.front_left", ("total", "front", "left")),
    ],
)
def test_an_unknown_touches_only_what_depends_on_it(
    removed: str, state: State, lacking: str, unknown: tuple[str, ...]
) -> None:
    complete, without = loaded(COMPLETE), loaded(varied({removed: ABSENT}))
    for name in PAIRS:
        found = without.weights(state).weight(name)
        if name in unknown:
            assert isinstance(found, Unknown), name
            assert any(name.startswith(lacking) for name in found.absent)
        elif removed != "fuel.at" or name == "total":
            assert found == complete.weights(state).weight(name), name


def test_the_tank_on_the_centre_line_needs_no_track() -> None:
    changes = {"fuel.at.left_of_centre": "0 mm", "dimensions.rear_width_over_tyres": ABSENT}
    assert loaded(varied(changes)).weights(FULL).weight("left") == kg("310.5") + kg("5.96")


def test_over_the_front_axle_only_the_front_track_is_needed() -> None:
    changes = {
        "fuel.at.behind_front_axle": "0 mm",
        "dimensions.rear_width_over_tyres": ABSENT,
        "dimensions.wheelbase_left": ABSENT,
    }
    weights = loaded(varied(changes)).weights(FULL)
    assert weights.weight("rear") == kg("289.5")
    assert weights.weight("left") == kg("310.5") + kg("11.92") * (Fraction(1, 2) + Fraction(60, 1553))


def test_over_the_rear_axle_only_the_rear_track_is_needed() -> None:
    changes = {
        "fuel.at.behind_front_axle": "2209 mm",
        "dimensions.front_width_over_tyres": ABSENT,
        "dimensions.rear_width_over_tyres": "1775 mm",
    }
    weights = loaded(varied(changes)).weights(FULL)
    assert weights.weight("left") == kg("310.5") + kg("11.92") * (Fraction(1, 2) + Fraction(60, 1550))


def test_sets_of_equal_section_need_not_say_which_was_measured() -> None:
    complete, without = loaded(COMPLETE), loaded(varied({"weighing.tyres": ABSENT}))
    assert without.weights(FULL).weight("left") == complete.weights(FULL).weight("left")


def test_sets_of_unequal_section_must_say_which_was_measured() -> None:
    car = loaded(varied({"weighing.tyres": ABSENT, "tyres.wet.rear.section": "235 mm"}))
    assert car.weights(FULL).weight("left") == Unknown(absent=("weighing.tyres",))


def test_what_does_not_change_is_not_asked_for() -> None:
    bare = {
        "formula": "dunlin",
        "car": {"number": "27"},
        "weighing": {k: COMPLETE["weighing"][k] for k in ("fuel", "driver", "tyres", "wear", "readings")},
    }
    car = loaded(bare)
    same = state_of(Fraction(6 * LITRE), "out", "Dry", Fraction(0))
    assert car.weights(same).weight("left") == kg("310.5")


def test_a_car_lighter_than_what_is_taken_off_has_no_percentages() -> None:
    car = loaded(
        varied(
            {"weighing.driver": "aboard", "driver.mass": "250 kg", "weighing.readings": [{"total": "249 kg"}]}
        )
    )
    weights = car.weights(state_of(driver="out"))
    assert weights.weight("total") == -1
    found = weights.percentage("total")
    assert isinstance(found, Unknown)
    assert found.told() == ("the total comes out at 0 kg or less",)
