"""Weights and places that cannot well be so are told; fluids and ballast left off are counted."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest

from checker.car.weights.states import BUILT_IN, state_of
from checker.quantities.kind import Unknown
from checker.report.words.remarks import car_warnings
from tests.car.cars import COMPLETE, known, loaded, problems, varied
from tests.examples import each_row

ANY = BUILT_IN["any"]
ON = {"behind_front_axle": "1500 mm", "right_of_centre": "500 mm"}
S1 = {"label": "S1", "mass": "4 kg", "at": ON}


def told(changes: dict[str, Any]) -> list[tuple[str, str]]:
    return [(w.code, w.message) for w in car_warnings(loaded(varied(changes)))]


@pytest.mark.parametrize(
    ("changes", "message"),
    [
        ({"fuel.at.behind_front_axle": "3209 mm"}, "fuel.at lies 1000 mm behind the rear axle"),
        ({"driver.at.behind_front_axle": "-1000 mm"}, "driver.at lies 1000 mm ahead of the front axle"),
        (
            {"fuel.at.left_of_centre": "890 mm"},
            "fuel.at lies 890 mm from the centre line, outside the wheels",
        ),
        (
            {"ballast": [{"label": "B1", "at": {"behind_front_axle": "4000 mm"}}]},
            "B1: at lies 1791 mm behind the rear axle",
        ),
        (
            {"fluids": {"water": {"lost": "1 kg", "at": {"behind_front_axle": "-1200 mm"}}}},
            "fluids.water.at lies 1200 mm ahead of the front axle",
        ),
    ],
)
def test_a_place_far_from_the_car_is_told(changes: dict[str, Any], message: str) -> None:
    assert told(changes) == [("CD219", message)]


def test_places_on_the_car_are_not() -> None:
    assert told({"fuel.at": {"behind_front_axle": "3208 mm", "left_of_centre": "880 mm"}}) == []


def test_parts_that_outweigh_the_car_are_told() -> None:
    parts = [{"name": "frame", "mass": "500 kg"}, {"name": "wheels", "mass": "21 kg", "count": 4}]
    assert told({"components": parts}) == [
        (
            "CD214",
            "the parts, ballast, fuel and driver that are stated weigh 588.47 kg together, more than the whole car on"
            " its pads, 587 kg",
        )
    ]
    assert told({"components": parts[:1]}) == []
    aboard = {
        "components": [{"name": "frame", "mass": "490 kg"}],
        "weighing.driver": "aboard",
        "ballast": [S1],
    }
    assert told(aboard) == []
    assert len(told({**aboard, "ballast": [{**S1, "count": 5}]})) == 1


# -- fluids ------------------------------------------------------------------------------------------


def test_fluids_are_used_up_as_tyres_wear() -> None:
    water = {
        "fluids": {"water": {"lost": "0.8 kg", "at": {"behind_front_axle": "0 mm", "left_of_centre": "0 mm"}}}
    }
    car, dry = loaded(varied(water)), loaded(COMPLETE)
    for wear in (Fraction(1), Fraction(1, 2)):
        state = state_of(wear=wear)
        with_water, without = car.weights(state), dry.weights(state)
        lost = Fraction("0.8") * wear
        assert known(with_water.weight("total")) == known(without.weight("total")) - lost
        assert known(with_water.weight("front")) == known(without.weight("front")) - lost
        assert known(with_water.weight("left")) == known(without.weight("left")) - lost / 2
    assert "fluids used with them" in car.weights(state_of(wear=Fraction(1))).changes[0].words


def test_a_fluid_of_unknown_place_leaves_only_the_total() -> None:
    car = loaded(varied({"fluids": {"oil": {"lost": "0.5 kg"}}}))
    worn = car.weights(state_of(wear=Fraction(1)))
    assert worn.weight("total") == Fraction("584.5")
    assert worn.weight("rear") == Unknown(absent=("fluids.oil.at.behind_front_axle",))


@pytest.mark.parametrize(
    ("fluids", "number"),
    [
        ({"oil": {}}, 202),
        ({"oil": {"at": ON}}, 202),
        ({"oil": {"lost": "1 L"}}, 204),
        ({"oil": {"lost": "1 kg", "level": "2 L"}}, 201),
    ],
)
def test_a_fluid_that_cannot_be_read_is_refused(fluids: dict[str, Any], number: int) -> None:
    assert [p.code for p in problems(varied({"fluids": fluids}))] == [f"CD{number}"]


# -- ballast left off --------------------------------------------------------------------------------


def test_ballast_left_off_the_scales_is_on_the_car_in_every_other_state() -> None:
    car = loaded(varied({"ballast": [S1], "weighing.without": ["s1"]}))
    plain = loaded(varied({"ballast": [S1]}))
    assert car.weights().weight("total") == 587
    for state in car.states(ANY):
        assert known(car.weights(state).weight("total")) == known(plain.weights(state).weight("total")) + 4
        gained = known(car.weights(state).weight("rear")) - known(plain.weights(state).weight("rear"))
        assert gained == 4 * Fraction(1500, 2209)


def test_ballast_left_off_must_be_described() -> None:
    (found,) = problems(varied({"ballast": [S1], "weighing.without": ["S2"]}))
    assert (found.code, found.hint) == ("CD214", "described are: S1")


@each_row(
    ("changes", "number"),
    [
        ({"weighing.when": "Sunday"}, 206),
        ({"weighing.when": 2026}, 206),
        ({"weighing.when": "2026-05-03 9:15"}, 206),
        ({"weighing.without": [7]}, 210),
        ({"weighing.without": "S1"}, 202),
        ({"fuel.expansion": "5 %"}, 208),
        ({"fuel.temperature": "300 degC"}, 208),
        ({"dimensions.front_camber": "40 deg"}, 208),
        ({"tyres.dry.front.radius": "5 mm"}, 208),
        ({"fuel.density": "1 kg/L"}, 208),
        ({"weighing.fuel": "30 L"}, 214),
        ({"weighing.readings": [{"total": "0 kg"}]}, 214),
        ({"weighing.readings": [{"total": "-3 kg"}]}, 207),
        ({"tyres.dry.front.section": "700 mm"}, 220),
    ],
)
def test_what_cannot_be_of_a_weighing_is_refused_with_its_code(changes: dict[str, Any], number: int) -> None:
    found = problems(varied(changes))
    assert [p.code for p in found] == [f"CD{number}"]
    assert all(p.span for p in found)
