"""Two weighings of one car, held against each other by hand."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.studies.one_car.weighing_comparison import (
    WeighingComparison,
    WeightDifference,
    compare_weighings,
)
from tests.car.cars import ABSENT, WHEELS, loaded, varied
from tests.car.gear.test_pads import reading

CONFIDENCE = Fraction(95, 100)
HOME, CLUB = (
    {"resolution": "0.5 kg", "permissible_error": "0.5 kg"},
    {"resolution": "0.1 kg", "permissible_error": "0.2 kg"},
)
STATED = ("weighing.fuel", "weighing.driver", "weighing.tyres", "fuel.at")
"""What the base declaration has, so that it can be taken away."""
LEVEL = {"across": "0.001 mm", "along": "0.001 mm"}
K = Fraction(1959964, 1_000_000)


def compared(
    home: list[dict[str, Any]],
    club: list[dict[str, Any]],
    changes: dict[str, Any] | None = None,
    **slip: Any,
) -> WeighingComparison:
    own = {
        "instruments": {"home pads": HOME},
        "weighing.instrument": "home pads",
        "weighing.readings": home,
        "weighing.floor": LEVEL,
        **(changes or {}),
    }
    own = {name: value for name, value in own.items() if value is not ABSENT or name in STATED}
    weighing: dict[str, Any] = {"fuel": "6 L", "driver": "out", "tyres": "dry", "wear": "new", "floor": LEVEL}
    weighing |= {"instrument": "club pads", "readings": club, **slip}
    official = {"formula": "dunlin", "instruments": {"club pads": CLUB}, "weighing": weighing}
    return compare_weighings(loaded(varied(own)), loaded(varied(own), official), CONFIDENCE)


def difference(found: WeighingComparison, name: str) -> WeightDifference:
    return next(one for one in found.differences if one.name == name)


ONE = reading("158", "140", "150", "136")


def test_one_car_weighed_twice_alike_agrees() -> None:
    found = compared([ONE], [ONE])
    assert found.agrees is True
    assert all(one.offset == 0 for one in found.differences)
    assert found.offsets == {}
    assert len(found.differences) == 11


def test_the_uncertainty_is_that_of_both() -> None:
    whole = difference(compared([ONE], [ONE]), "weight.total")
    home = 4 * (Fraction("0.25") / 12 + Fraction("0.25") / 3)
    club = 4 * (Fraction("0.01") / 12 + Fraction("0.04") / 3)
    assert whole.variance == home + club
    assert whole.factor == K
    assert float(whole.expanded) == pytest.approx(1.959964 * float(home + club) ** 0.5)


def test_a_difference_beyond_it_is_real_and_gives_the_offset_of_each_pad() -> None:
    found = compared([reading("160", "140", "150", "136")], [ONE])
    assert found.agrees is False
    assert difference(found, "weight.total").is_real
    assert difference(found, "weight.front_left").offset == 2
    assert not difference(found, "weight.rear_left").is_real
    assert found.offsets == {"front_left": -2, "front_right": 0, "rear_left": 0, "rear_right": 0}


def test_the_offset_goes_with_the_pad_when_pads_were_swapped_at_home() -> None:
    """The front left pad shows 2 kg too much, wherever it stands."""
    home = [
        reading("160", "140", "150", "136"),
        reading("158", "142", "150", "136", pads="swapped side to side"),
    ]
    found = compared(home, [ONE])
    assert difference(found, "weight.front_left").offset == 1
    assert found.offsets == {"front_left": -2, "front_right": 0, "rear_left": 0, "rear_right": 0}


def test_the_clubs_weighing_is_corrected_to_the_condition_at_home() -> None:
    """4 L more on board at the club: 2.98 kg, of which the rear axle carries 2050/2209."""
    found = compared([ONE], [ONE], fuel="10 L")
    assert [change.words for change in found.changes] == ["fuel from 10 L to 6 L"]
    assert difference(found, "weight.total").offset == Fraction("2.98")
    assert difference(found, "weight.rear").offset == Fraction("2.98") * Fraction(2050, 2209)
    assert {one.name for one in found.differences}.isdisjoint(f"weight.{wheel}" for wheel in WHEELS)
    assert found.offsets == {"": -Fraction("2.98") / 4}


def test_an_offset_that_is_there_already_is_included() -> None:
    changes = {"instruments": {"home pads": {**HOME, "offset": {"front_left": "0.5 kg"}}}}
    found = compared([reading("160", "140", "150", "136")], [ONE], changes)
    assert difference(found, "weight.front_left").offset == Fraction("2.5")
    assert found.offsets["front_left"] == -2
    far = compared([reading("160", "140", "150", "136")], [ONE], changes, fuel="10 L")
    each = -difference(far, "weight.total").offset / 4
    assert far.offsets == {**dict.fromkeys(WHEELS, each), "front_left": each + Fraction(1, 2)}


@given(
    errors=st.lists(st.integers(-20, 20).map(lambda n: Fraction(n, 2)), min_size=4, max_size=4),
    swapped=st.booleans(),
)
def test_entering_the_offsets_makes_both_agree(errors: list[Fraction], swapped: bool) -> None:
    def at_home(pads: str) -> dict[str, Any]:
        from checker.car.gear.pads import arranged

        where = arranged(WHEELS, pads)
        by_pad = dict(zip(WHEELS, errors, strict=True))
        loads = {wheel: Fraction(ONE[wheel].removesuffix(" kg")) + by_pad[where[wheel]] for wheel in WHEELS}
        return {**{wheel: f"{float(kg)} kg" for wheel, kg in loads.items()}, "pads": pads}

    home = [at_home("as marked"), *([at_home("swapped side to side")] if swapped else [])]
    found = compared(home, [ONE])
    if found.set_down_differently:
        assert found.offsets == {}
        assert errors[0] + errors[3] == -(errors[1] + errors[2])
        return
    if not found.offsets:
        assert not any(d.is_real for d in found.differences if d.name.partition(".")[2] in WHEELS)
        return
    offset = {pad: f"{float(kg)} kg" for pad, kg in found.offsets.items()}
    again = compared(home, [ONE], {"instruments": {"home pads": {**HOME, "offset": offset}}})
    assert again.agrees is True
    assert all(one.offset == 0 for one in again.differences)


OTHER = reading("159", "140", "150", "136")


def test_without_gear_nothing_can_be_told_of_figures_that_differ() -> None:
    found = compared([ONE], [OTHER], {"weighing.instrument": ABSENT})
    assert (found.agrees, found.unstated_gear, found.offsets) == (None, ("home",), {})


def test_a_display_says_how_fine_it_shows_and_not_how_true() -> None:
    fine = {"instruments": {"home pads": {"resolution": "0.1 kg"}}}
    found = compared([ONE], [OTHER], fine)
    assert (found.agrees, found.unstated_gear, found.offsets) == (None, ("home",), {})


def test_equal_figures_agree_whatever_is_known_of_the_gear() -> None:
    assert compared([ONE], [ONE], {"weighing.instrument": ABSENT}).agrees is True
    assert compared([ONE], [ONE], {"weighing.fuel": ABSENT}).agrees is None, "in which state, nobody says"


@pytest.mark.parametrize("twist", [2, -2, 5])
def test_a_car_set_down_differently_has_pads_that_need_no_offset(twist: int) -> None:
    """One diagonal gains what the other loses: axles and sides agree."""
    home = reading(
        *(str(kg + sign * twist) for kg, sign in zip((158, 140, 150, 136), (1, -1, -1, 1), strict=True))
    )
    found = compared([home], [ONE])
    assert found.set_down_differently
    assert found.offsets == {}
    assert found.agrees is False
    assert all(d.is_real == (d.name.partition(".")[2] in WHEELS) for d in found.differences)


def test_single_wheels_are_compared_though_the_fuel_on_board_was_read_with_an_error() -> None:
    """A wheel is never predicted, not by an error of the fuel reading either."""
    can = {"home pads": HOME, "can": {"permissible_error": "0.1 L"}}
    fuel = {"value": "6 L", "with": "can"}
    own = {"instruments": can, "weighing.fuel": fuel}
    twisted = reading(
        *(str(kg + sign * 5) for kg, sign in zip((158, 140, 150, 136), (1, -1, -1, 1), strict=True))
    )
    found = compared([twisted], [ONE], own, fuel=fuel)
    assert found.set_down_differently
    assert not found.offsets
    assert compared([reading("160", "140", "150", "136")], [ONE], own, fuel=fuel).offsets["front_left"] == -2


def test_one_pad_out_is_no_car_set_down_differently() -> None:
    assert not compared([reading("160", "140", "150", "136")], [ONE]).set_down_differently
    assert not compared([ONE], [ONE]).set_down_differently


@pytest.mark.parametrize("name", ["fuel", "driver", "tyres"])
def test_a_condition_that_is_not_stated_at_home_cannot_be_compared(name: str) -> None:
    found = compared([ONE], [ONE], {f"weighing.{name}": ABSENT})
    assert (found.agrees, found.differences) == (None, ())
    assert found.not_shown.absent == (f"weighing.{name}",)


def test_what_the_correction_needs_and_the_car_lacks_is_named() -> None:
    found = compared([ONE], [ONE], {"fuel.at": ABSENT}, fuel="10 L")
    assert [one.name for one in found.differences] == ["weight.total"]
    assert "fuel.at.behind_front_axle" in found.not_shown.absent


def test_a_weighbridge_is_compared_in_what_it_tells() -> None:
    found = compared([ONE], [{"front": "298 kg", "rear": "286 kg"}])
    assert {one.name for one in found.differences} == {
        "weight.total",
        "weight.front",
        "weight.rear",
        "percentage.front",
    }
