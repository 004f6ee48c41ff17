"""A what-if car is the car that one would have, had it been changed so before it was weighed."""

from __future__ import annotations

import json
from collections.abc import Iterator
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from checker.car.car import Car
from checker.car.declaration.loading import load_car
from checker.car.weights.geometry import Spot
from checker.car.weights.weights import PAIRS, State
from checker.quantities.kind import Unknown
from checker.reading.paths import parse_path
from checker.reading.strict_yaml import parse_document
from tests.car.cars import ABSENT, COMPLETE, WHEELS, assumed, known, loaded, made_up_cars, varied, vocabulary
from tests.car.test_weight_laws import showing, states_inside
from tests.examples import examples, quick_first

THINGS = {
    "ballast": [
        {"label": "B1", "mass": "5.5 kg", "at": {"behind_front_axle": "1880 mm", "left_of_centre": "520 mm"}},
        {
            "label": "B2",
            "mass": "3 kg",
            "count": 2,
            "at": {"behind_front_axle": "640 mm", "left_of_centre": "-505 mm"},
        },
    ],
    "components": [
        {
            "name": "battery",
            "mass": "4 kg",
            "at": {"behind_front_axle": "2000 mm", "left_of_centre": "90 mm"},
        },
        {"name": "seat", "mass": "9 kg", "parts": [{"name": "shell", "mass": "6 kg"}]},
    ],
    "fluids": {"water": {"lost": "0.8 kg", "at": {"behind_front_axle": "-90 mm", "left_of_centre": "30 mm"}}},
}
NEW = {"label": "B3", "mass": "2 kg", "at": {"behind_front_axle": "100 mm", "left_of_centre": "-20 mm"}}
CHANGES: dict[str, Any] = {
    "ballast[0].mass": "1 g",
    "ballast[0].at.left_of_centre": "-20 mm",
    "ballast[1].count": 1,
    "ballast": [NEW],
    "components[0].at.behind_front_axle": "0 mm",
    "components[0].mass": "2.5 kg",
    "driver.mass": "90 kg",
    "driver.at.left_of_centre": "12 mm",
    "tyres.dry.front.mass": "13.1 kg",
    "tyres.wet.rear.mass": "17 kg",
    "fuel.at.behind_front_axle": "1500 mm",
    "fuel.density": "0.72 kg/L",
    "wear.rear_left": "1.1 kg",
    "fluids.water.lost": "0.3 kg",
}
BY_PATHS = (
    st.lists(st.sampled_from(sorted(CHANGES)), min_size=1, unique=True)
    .map(lambda paths: {path: CHANGES[path] for path in sorted(paths, key=len)})
    .filter(lambda changes: "ballast" not in changes or not any(p.startswith("ballast[") for p in changes))
)


def what_if(declared: dict[str, Any], changes: dict[str, Any]) -> Car:
    files = [
        parse_document(json.dumps(data).encode(), "car.yaml", "CD")
        for data in (varied(changes, declared), declared)
    ]
    return load_car(files[0], vocabulary(), weighed_as=files[1])


def on_board(car: Car) -> Iterator[tuple[Fraction, Fraction, Fraction]]:
    """Mass in kg of all that was on the wheels at the weighing, with its share on the rear axle and on the left."""
    half = Fraction(1, 2)

    def at(mass: Fraction, along: Any, across: Any) -> tuple[Fraction, Fraction, Fraction]:
        to_rear, to_left = car.geometry.shares(Spot(along, across))
        return mass, known(to_rear), known(to_left)

    def owned(name: str) -> tuple[Any, Any]:
        return car.value(f"{name}.at.behind_front_axle"), car.value(f"{name}.at.left_of_centre")

    yield at(car.value("weighing.fuel") * car.value("fuel.density"), *owned("fuel"))
    if car.value("weighing.driver") == "aboard":
        yield at(car.value("driver.mass"), *owned("driver"))
    for rear, axle in enumerate(("front", "rear")):
        yield 2 * car.value(f"tyres.dry.{axle}.mass"), Fraction(rear), half
    if car.value("weighing.wear") == "worn":
        for wheel in WHEELS:
            yield (
                -car.value(f"wear.{wheel}"),
                Fraction(wheel.startswith("rear")),
                Fraction(wheel.endswith("left")),
            )
        yield at(-car.value("fluids.water.lost"), *owned("fluids.water"))
    for entry in (*car.lists["ballast"], *car.lists["components"]):
        along, across = entry.value("at.behind_front_axle"), entry.value("at.left_of_centre")
        if not isinstance(along, Unknown):
            yield at(entry.value("mass") * entry.count, along, across)


def loads(car: Car) -> dict[str, Fraction]:
    every = list(on_board(car))
    total = sum((mass for mass, _, _ in every), Fraction(0))
    rear = sum((mass * share for mass, share, _ in every), Fraction(0))
    left = sum((mass * share for mass, _, share in every), Fraction(0))
    return {"total": total, "front": total - rear, "rear": rear, "left": left, "right": total - left}


@settings(examples(60))
@given(declared=made_up_cars(), changes=BY_PATHS, state=states_inside())
def test_a_what_if_car_equals_the_car_declared_and_weighed_that_way(
    declared: dict[str, Any], changes: dict[str, Any], state: State
) -> None:
    declared = varied(THINGS, declared)
    as_declared, altered = loaded(declared), loaded(varied(changes, declared))
    was, now = loads(as_declared), loads(altered)
    guessed = what_if(declared, changes)
    for pair in (("left", "right"), ("front", "rear")):
        shown = {name: known(as_declared.weights().weight(name)) + now[name] - was[name] for name in pair}
        weighed = showing(altered, shown)
        for name in ("total", *pair):
            assert guessed.weights().weight(name) == weighed.weights().weight(name)
            assert guessed.weights(state).weight(name) == weighed.weights(state).weight(name)


@pytest.mark.parametrize("path", quick_first(CHANGES, 4))
def test_setting_a_value_to_itself_changes_nothing(path: str) -> None:
    place = {"behind_front_axle": "1150 mm", "left_of_centre": "-40 mm"}
    declared = varied({**THINGS, "driver.at": place, "weighing.driver": "aboard", "weighing.wear": "worn"})
    here = parse_document(json.dumps(declared).encode(), "car.yaml", "CD").get(parse_path(path))
    same = what_if(declared, {path: here})
    for name in (*PAIRS, *WHEELS):
        assert same.weights().weight(name) == loaded(declared).weights().weight(name)


def test_single_wheels_are_not_predicted() -> None:
    car = what_if(varied(THINGS), {"ballast[0].mass": "1 g"})
    assert isinstance(car.weights().weight("front_left"), Unknown)


def test_what_is_not_known_of_the_change_is_named() -> None:
    added = what_if(
        varied(THINGS), {"ballast": [*THINGS["ballast"], {"label": "B3", "mass": "2 kg"}]}
    ).weights()
    assert known(added.weight("total")) == 589
    assert added.weight("left") == Unknown(absent=("B3: at.left_of_centre",))
    heavier = what_if(varied(THINGS), {"components[1].mass": "12 kg"}).weights()
    assert known(heavier.weight("total")) == 590
    assert "seat: at.behind_front_axle" in str(heavier.weight("rear"))
    part = what_if(varied(THINGS), {"components[1].parts[0].mass": "7 kg"}).weights()
    total = part.weight("total")
    assert isinstance(total, Unknown)
    assert "is part of components seat" in total.told()[0]
    both = {"components[1].parts[0].mass": "7 kg", "components[1].mass": "10 kg"}
    assert known(what_if(varied(THINGS), both).weights().weight("total")) == 588


def test_what_only_the_what_if_states_is_news_of_the_car_that_was_weighed() -> None:
    bare = varied({"weighing.driver": "aboard", "driver.mass": ABSENT, "components": [{"name": "battery"}]})
    told = what_if(bare, {"driver.mass": "82 kg", "components[0].mass": "4 kg"})
    assert told.weights().weight("total") == loaded(bare).weights().weight("total")


def test_what_is_still_on_the_car_is_out_by_the_same_as_when_it_was_weighed() -> None:
    declared = varied({**THINGS, "ballast[1].mass": {"value": "3 kg", "uncertainty": "0.1 kg"}})
    moved = what_if(declared, {"ballast[0].mass": "1 g"})
    heavier = moved.with_field("ballast", "ballast[1]", "mass", None, Fraction(1))
    assert heavier.weights().weight("total") == moved.weights().weight("total")
    elsewhere = what_if(declared, {"ballast[1].at.left_of_centre": "0 mm"})
    heavier = elsewhere.with_field("ballast", "ballast[1]", "mass", None, Fraction(1))
    assert heavier.weights().weight("total") == elsewhere.weights().weight("total")
    assert heavier.weights().weight("left") != elsewhere.weights().weight("left")


def test_it_is_told_that_nobody_has_weighed_it_so() -> None:
    told = assumed(
        what_if(varied(THINGS), {"ballast[0].mass": "1.5 kg", "dimensions.wheelbase_left": "2300 mm"})
    )
    assert any(
        "ballast B1 from 5.5 kg to 1.5 kg; its weight is worked out by the lever rules" in s for s in told
    )
    assert any("dimensions.wheelbase_left is 2300 mm, and the loads stay as weighed" in s for s in told)


def test_complete_cars_are_of_no_what_if() -> None:
    assert loaded(COMPLETE).weighed_as is None
