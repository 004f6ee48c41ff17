"""Slips that the numbers themselves give away."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.car.described.standard import WHEELS
from checker.meeting.session import likeness
from tests.meeting.days import LOADS, a_meeting, car_text, shifted, weighed

WIDE = {"front_left": "160.0", "front_right": "136.0", "rear_left": "158.0", "rear_right": "136.0"}
"""590 kg, left and right far apart."""

NOSE = {"front_left": "165.0", "front_right": "151.0", "rear_left": "143.0", "rear_right": "131.0"}
"""590 kg, front and rear far apart."""


def declared(loads: dict[str, str]) -> str:
    readings = ", ".join(f"{wheel}: {load} kg" for wheel, load in loads.items())
    return car_text(weighing=f"{{fuel: 6 L, driver: out, tyres: dry, readings: [{{{readings}}}]}}")


def exchanged(loads: dict[str, str], *words: tuple[str, str]) -> dict[str, str]:
    """The loads with two sides, or two ends, in each other's places."""
    found = {}
    for wheel, load in loads.items():
        for a, b in words:
            wheel = wheel.replace(a, "?").replace(b, a).replace("?", b)
        found[wheel] = load
    return found


@pytest.mark.parametrize(
    ("loads", "words", "said"),
    [
        (WIDE, (("left", "right"),), "left and right were exchanged"),
        (NOSE, (("front", "rear"),), "front and rear were exchanged"),
    ],
)
@pytest.mark.parametrize("against", ["the declaration", "the weighing before"])
def test_pads_swapped_by_mistake_are_noticed(
    tmp_path: Path, loads: dict[str, str], words: tuple[tuple[str, str], ...], said: str, against: str
) -> None:
    with a_meeting(tmp_path, {"7": declared(loads)}) as meeting:
        if against == "the weighing before":
            assert weighed(meeting, loads=loads).warnings == ()
        (warning,) = weighed(meeting, loads=exchanged(loads, *words)).warnings
        assert warning.code == "MT312"
        assert said in warning.message
        assert f"from {against}" in warning.message


def test_both_diagonals_exchanged_are_noticed(tmp_path: Path) -> None:
    loads = {"front_left": "175.0", "front_right": "141.0", "rear_left": "153.0", "rear_right": "121.0"}
    with a_meeting(tmp_path, {"7": declared(loads)}) as meeting:
        turned = exchanged(loads, ("left", "right"), ("front", "rear"))
        (warning,) = weighed(meeting, loads=turned).warnings
        assert "both diagonals were exchanged" in warning.message


def test_a_car_that_is_a_little_otherwise_than_declared_is_not_bothered(tmp_path: Path) -> None:
    with a_meeting(tmp_path) as meeting:
        assert weighed(meeting, loads=shifted(front_left=4, rear_right=-3)).warnings == ()
        assert weighed(meeting, loads=shifted(front_left=1)).warnings == ()


def test_a_car_that_is_nearly_even_gives_nothing_away(tmp_path: Path) -> None:
    even = {"front_left": "148.0", "front_right": "147.5", "rear_left": "147.5", "rear_right": "147.0"}
    with a_meeting(tmp_path, {"7": declared(even)}) as meeting:
        assert weighed(meeting, loads=exchanged(even, ("left", "right"))).warnings == ()


@pytest.mark.parametrize(("apart", "asked"), [("1.0", False), ("2.0", True), ("6.0", True)])
def test_a_second_weighing_by_pad_is_asked_about_as_soon_as_no_pads_in_order_can_show_it(
    tmp_path: Path, apart: str, asked: bool
) -> None:
    """Pads of 0.5 kg that show 0.5 kg: four loads are out by 3 kg at most, and a side is exchanged for the other."""
    heavy, light = (str(148 + sign * Decimal(apart) / 2) for sign in (1, -1))
    loads = {"front_left": heavy, "front_right": light, "rear_left": heavy, "rear_right": light}
    with a_meeting(tmp_path, {"7": declared(loads)}) as meeting:
        assert weighed(meeting, loads=loads).warnings == ()
        warnings = weighed(meeting, loads=exchanged(loads, ("left", "right"))).warnings
        assert [one.code for one in warnings] == (["MT312"] if asked else [])


@given(
    st.lists(st.integers(230, 330), min_size=4, max_size=4),
    st.lists(st.integers(-1, 1), min_size=8, max_size=8),
)
def test_pads_in_order_are_never_asked_about(halves: list[int], errors: list[int]) -> None:
    """Whatever the car, each pad out by what it may and each display rounded: the second weighing repeats the first."""
    most = Fraction(3)  # of four loads: each 0.5 kg and half a step of 0.5 kg
    true = [Fraction(half, 2) for half in halves]
    first, second = (
        dict(zip(WHEELS, (kg + Fraction(e, 2) for kg, e in zip(true, part, strict=True)), strict=True))
        for part in (errors[:4], errors[4:])
    )
    assert likeness._repeats(second, likeness.pairs_of(first), most)


@pytest.mark.parametrize(("shift", "word"), [(50, "above"), (-50, "below")])
def test_a_total_that_is_not_this_car_s_is_noticed(tmp_path: Path, shift: int, word: str) -> None:
    with a_meeting(tmp_path) as meeting:
        (warning,) = weighed(meeting, loads=shifted(front_left=shift)).warnings
        assert warning.code == "MT313"
        assert f"{word} the 590 kg that follow from the declaration" in warning.message


def test_what_a_declaration_does_not_tell_is_not_held_against_a_reading(tmp_path: Path) -> None:
    with a_meeting(tmp_path, {"7": car_text(weighing="{driver: out, tyres: dry}")}) as meeting:
        assert weighed(meeting, loads=LOADS).warnings == ()


def test_fuel_that_was_added_since_is_allowed_for(tmp_path: Path) -> None:
    more = "{capacity: 20 L, density: 0.75 kg/L, at: {behind_front_axle: 1100 mm, left_of_centre: 0 mm}}"
    with a_meeting(tmp_path, {"7": car_text(fuel=more)}) as meeting:
        heavier = shifted(front_left=2.5, front_right=2.5, rear_left=2.5, rear_right=2.5)
        assert weighed(meeting, loads=heavier, fuel="19 L").warnings == ()
