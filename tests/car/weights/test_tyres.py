"""The tyres of an axle may differ from side to side, in what they weigh and how wide they are."""

from __future__ import annotations

import json
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from checker.car.car import Car
from checker.car.declaration.loading import load_car
from checker.car.weights.weights import PAIRS, State
from checker.quantities.kind import Unknown
from checker.reading.strict_yaml import parse_document
from tests.car.cars import (
    COMPLETE,
    assumed,
    decimals,
    known,
    loaded,
    made_up_cars,
    problems,
    varied,
    vocabulary,
)
from tests.car.errors.one_by_one import every_source
from tests.examples import examples

WET = State(tyres="wet")
_KG = decimals("8", "20").map(lambda kg: f"{kg} kg")
_MM = decimals("150", "300", 0).map(lambda mm: f"{mm} mm")


def sided(of_set: dict[str, Any]) -> dict[str, Any]:
    """The same set, told by the wheel."""
    return {axle: {"left": dict(tyre), "right": dict(tyre)} for axle, tyre in of_set.items()}


def by_wheel() -> st.SearchStrategy[dict[str, Any]]:
    tyre = st.fixed_dictionaries({"mass": _KG, "section": _MM})
    axle = st.fixed_dictionaries({"left": tyre, "right": tyre})
    return st.fixed_dictionaries({"front": axle, "rear": axle})


def amount(text: str) -> Fraction:
    return Fraction(text.split()[0])


@settings(examples(40))
@given(declared=made_up_cars())
def test_tyres_told_by_the_wheel_are_the_same_as_told_by_the_axle(declared: dict[str, Any]) -> None:
    by_axle = loaded(declared)
    same = loaded({**declared, "tyres": {name: sided(of) for name, of in declared["tyres"].items()}})
    assert same.geometry.tracks == by_axle.geometry.tracks
    for state in (None, WET, State(fuel=Fraction(0), driver="aboard", tyres="wet")):
        for name in PAIRS:
            assert same.weights(state).weight(name) == by_axle.weights(state).weight(name)


@settings(examples(60))
@given(declared=made_up_cars(), dry=by_wheel(), wet=by_wheel())
def test_a_change_of_tyres_puts_on_each_wheel_what_its_tyres_differ_by(
    declared: dict[str, Any], dry: dict[str, Any], wet: dict[str, Any]
) -> None:
    car = loaded({**declared, "tyres": {"dry": dry, "wet": wet}})
    gained = {
        (axle, side): amount(wet[axle][side]["mass"]) - amount(dry[axle][side]["mass"])
        for axle in ("front", "rear")
        for side in ("left", "right")
    }
    for name in PAIRS:
        change = known(car.weights(WET).weight(name)) - known(car.weights().weight(name))
        assert change == sum(kg for wheel, kg in gained.items() if name == "total" or name in wheel)
    for axle in ("front", "rear"):
        width = amount(declared["dimensions"][f"{axle}_width_over_tyres"])
        sections = [amount(dry[axle][side]["section"]) for side in ("left", "right")]
        assert (
            car.geometry.tracks[axle] == width - sum(sections) / 2
        )  # from outer edge to outer edge, half a tyre each


def test_camber_leans_each_wheel_by_its_own_radius() -> None:
    radii = {"tyres.dry.front.left": {"radius": "280 mm"}, "tyres.dry.front.right": {"radius": "290 mm"}}
    both = {"tyres.dry.front.radius": "285 mm"}
    cambered = {"dimensions.front_camber": "-2 deg"}
    tracks = [loaded(varied({**cambered, **told})).geometry.tracks["front"] for told in (radii, both)]
    assert known(tracks[0]) == known(tracks[1])


def test_the_tyre_of_one_side_that_is_not_told_is_named() -> None:
    car = loaded(varied({"tyres.wet.front": {"left": {"mass": "15 kg"}, "section": "215 mm"}}))
    assert car.weights(WET).weight("total") == Unknown(absent=("tyres.wet.front.right.mass",))
    assert isinstance(car.weights(WET).weight("rear"), Fraction)


@pytest.mark.parametrize(
    ("changes", "message"),
    [
        ({"tyres.dry.front.left": {"mass": "14 kg"}}, "tyres.dry.front.mass is stated too, of both tyres"),
        ({"tyres.dry.front.left": {"mas": "14 kg"}}, "there is no key of a tyre 'mas'"),
        ({"tyres.dry.front.lef": {"mass": "14 kg"}}, "there is no key of a tyre 'lef'"),
        ({"tyres.dry.front.left": {"left": {"mass": "14 kg"}}}, "there is no key of a tyre 'left'"),
        (
            {"tyres.dry.front": {"left": {"section": "700 mm"}}},
            "tyres.dry.front.left.section: 700 mm is more than",
        ),
    ],
)
def test_what_is_wrong_with_one_tyre_is_told_with_its_place(changes: dict[str, Any], message: str) -> None:
    found = [problem for problem in problems(varied(changes)) if message in problem.message]
    assert len(found) == 1
    assert not found[0].warning
    assert found[0].span is not None


def test_what_an_official_weighed_of_one_tyre_or_of_both_counts() -> None:
    official = {"formula": "dunlin"}
    own = varied(
        {"tyres.wet.front": {"left": {"mass": "15 kg"}, "right": {"mass": "16 kg"}, "section": "215 mm"}}
    )
    one = loaded(own, {**official, "tyres": {"wet": {"front": {"left": {"mass": "15.5 kg"}}}}})
    assert one.value("tyres.wet.front.left.mass") == Fraction("15.5")
    assert known(one.weights(WET).weight("total")) - known(
        loaded(own).weights(WET).weight("total")
    ) == Fraction("0.5")
    both = loaded(own, {**official, "tyres": {"wet": {"front": {"mass": "15 kg"}}}})
    assert known(both.weights(WET).weight("total")) - known(loaded(own).weights(WET).weight("total")) == -1
    left = loaded(varied({}), {**official, "tyres": {"wet": {"front": {"left": {"mass": "15.9 kg"}}}}})
    plain = loaded(varied({})).weights(WET)
    assert known(left.weights(WET).weight("left")) - known(plain.weight("left")) == 1
    assert left.weights(WET).weight("right") == plain.weight("right")


def what_if(declared: dict[str, Any], changes: dict[str, Any]) -> Car:
    files = [
        parse_document(json.dumps(data).encode(), "car.yaml", "CD")
        for data in (varied(changes, declared), declared)
    ]
    return load_car(files[0], vocabulary(), weighed_as=files[1])


@pytest.mark.parametrize("told", ["by the axle", "by the wheel"])
def test_a_what_if_of_one_tyre_moves_its_own_wheel(told: str) -> None:
    declared = varied({} if told == "by the axle" else {"tyres.dry": sided(COMPLETE["tyres"]["dry"])})
    changes = {
        "tyres.dry.front": {"left": {"mass": "15.2 kg"}, "right": {"mass": "14.2 kg"}, "section": "215 mm"}
    }
    before, after = loaded(declared).weights(), what_if(declared, changes).weights()
    gained = {name: known(after.weight(name)) - known(before.weight(name)) for name in PAIRS}
    assert gained == {"total": 1, "front": 1, "rear": 0, "left": 1, "right": 0}


def test_the_error_of_one_tyre_moves_its_own_side() -> None:
    told = {"left": {"mass": {"value": "15 kg", "uncertainty": "0.1 kg"}}, "right": {"mass": "15 kg"}}
    car = loaded(varied({"tyres.wet.front": {**told, "section": "215 mm"}}))
    source = next(source for source in every_source(car) if source.moves == "tyres.wet.front.left.mass")
    assert "tyres.wet.front.left.mass" in car.weights_rest_on(WET)
    moved = source.lever.shift(car, Fraction(1))
    assert known(moved.weights(WET).weight("left")) - known(car.weights(WET).weight("left")) == 1
    assert moved.weights(WET).weight("right") == car.weights(WET).weight("right")


@pytest.mark.parametrize(
    ("right", "more", "told"),
    [
        ("245 mm", {}, True),
        ("225 mm", {}, False),
        ("245 mm", {"dimensions.rear_centre_line_offset": "10 mm"}, False),
        ("245 mm", {"dimensions.front_centre_line_offset": "10 mm"}, True),
    ],
)
def test_the_centre_line_between_tyres_that_differ_is_told_unless_it_is_stated(
    right: str, more: dict[str, Any], told: bool
) -> None:
    rear = {"left": {"mass": "15 kg", "section": "225 mm"}, "right": {"mass": "15 kg", "section": right}}
    found = [one for one in assumed(loaded(varied({"tyres.dry.rear": rear, **more}))) if "centre line" in one]
    assert found == (
        [
            "the centre line at the rear axle is taken as the middle between its contact centres, its tyres being"
            " 225 mm and 245 mm wide, as no offset of it is stated"
        ]
        if told
        else []
    )
