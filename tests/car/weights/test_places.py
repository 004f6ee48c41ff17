"""Where something sits may be told from either axle and to either side."""

from __future__ import annotations

import json
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from checker.car.declaration.loading import load_car
from checker.car.weights.weights import PAIRS, State
from checker.quantities.kind import Unknown
from checker.reading.strict_yaml import parse_document
from tests.car.cars import ABSENT, WHEELS, known, loaded, made_up_cars, problems, varied, vocabulary
from tests.examples import examples

EMPTY = State(fuel=Fraction(0), driver="aboard", tyres="wet", wear=Fraction(1))
WAYS = st.sampled_from(["behind_front_axle", "ahead_of_front_axle", "behind_rear_axle", "ahead_of_rear_axle"])
SIDES = st.sampled_from(["left_of_centre", "right_of_centre"])


def told(place: dict[str, str], way: str, side: str, wheelbase: Fraction) -> dict[str, str]:
    """The same place in another way."""
    along, across = (Fraction(place[key].split()[0]) for key in ("behind_front_axle", "left_of_centre"))
    along -= wheelbase if "rear" in way else 0
    along *= -1 if "ahead" in way else 1
    return {way: f"{float(along)} mm", side: f"{float(-across if side.startswith('right') else across)} mm"}


@settings(examples(60))
@given(declared=made_up_cars(), ways=st.lists(WAYS, min_size=4, max_size=4), side=SIDES)
def test_a_place_told_in_another_way_is_the_same_place(
    declared: dict[str, Any], ways: list[str], side: str
) -> None:
    dimensions = declared["dimensions"]
    base = Fraction(sum(Fraction(dimensions[f"wheelbase_{one}"].split()[0]) for one in ("left", "right"))) / 2
    piece = {"behind_front_axle": "600 mm", "left_of_centre": "-500 mm"}
    levels = [
        {"level": "10 L", "behind_front_axle": "1900 mm", "left_of_centre": "10 mm"},
        {"level": "40 L", "behind_front_axle": "2100 mm", "left_of_centre": "-30 mm"},
    ]

    def car(say: Any) -> dict[str, Any]:
        tank = [{"level": one["level"], **say(one, at)} for at, one in enumerate(levels)]
        return varied(
            {
                "fuel.at": tank,
                "driver.at": say(declared["driver"]["at"], 2),
                "ballast": [{"label": "B1", "mass": "5 kg", "at": say(piece, 3)}],
                "fluids": {"oil": {"lost": "0.5 kg", "at": say(piece, 0)}},
                "weighing.without": ["B1"],
            },
            declared,
        )

    def plainly(place: dict[str, str], _: int) -> dict[str, str]:
        return {key: place[key] for key in ("behind_front_axle", "left_of_centre")}

    plain = loaded(car(plainly))
    other = loaded(car(lambda place, at: told(place, ways[at], side, base)))
    for state in (EMPTY, State(fuel=Fraction(30_000_000))):
        for name in PAIRS:
            assert other.weights(state).weight(name) == plain.weights(state).weight(name)


def test_behind_the_rear_axle_needs_the_wheelbase_but_on_it() -> None:
    bare = {"dimensions": ABSENT, "driver.at": {"behind_rear_axle": "0 mm", "left_of_centre": "0 mm"}}
    aboard = State(driver="aboard")
    on_it = loaded(varied(bare)).weights(aboard)
    assert known(on_it.weight("rear")) - known(loaded(varied(bare)).weights().weight("rear")) == 82
    behind = loaded(varied({**bare, "driver.at.behind_rear_axle": "5 mm"})).weights(aboard)
    assert behind.weight("rear") == Unknown(
        absent=("dimensions.wheelbase_left", "dimensions.wheelbase_right")
    )


def test_a_longer_wheelbase_takes_what_hangs_on_the_rear_axle_with_it() -> None:
    place = {"behind_rear_axle": "-209 mm", "left_of_centre": "0 mm"}
    car = loaded(varied({"driver.at": place, "dimensions.wheelbase_right": "2210 mm"}))
    longer = car.with_value("dimensions.wheelbase_left", None, Fraction(20))
    aboard = State(driver="aboard")
    gained = [
        known(one.weights(aboard).weight("rear")) - known(one.weights().weight("rear"))
        for one in (car, longer)
    ]
    assert gained == [82 * (1 - Fraction(209, 2210)), 82 * (1 - Fraction(209, 2220))]


@pytest.mark.parametrize(
    ("place", "message"),
    [
        (
            {"behind_front_axle": "1 mm", "behind_rear_axle": "1 mm"},
            "both behind_front_axle and behind_rear_axle",
        ),
        ({"left_of_centre": "1 mm", "right_of_centre": "1 mm"}, "both left_of_centre and right_of_centre"),
        ({"behind_rear_axel": "1 mm"}, "there is no key of a place 'behind_rear_axel'"),
    ],
)
@pytest.mark.parametrize("owner", ["driver.at", "fuel.at", "ballast"])
def test_a_place_told_twice_or_misspelt_is_refused(place: dict[str, str], message: str, owner: str) -> None:
    value: Any = [{"label": "B1", "mass": "5 kg", "at": place}] if owner == "ballast" else place
    assert any(message in problem.message for problem in problems(varied({owner: value})))


def test_the_place_that_an_official_measured_counts_from_whichever_axle() -> None:
    ballast = [
        {"label": "B1", "mass": "5 kg", "at": {"behind_front_axle": "600 mm", "left_of_centre": "0 mm"}}
    ]
    official = {
        "formula": "dunlin",
        "driver": {"at": {"behind_rear_axle": "-1000 mm"}},
        "ballast": [{"label": "B1", "at": {"behind_rear_axle": "50 mm"}}],
    }
    car = loaded(varied({"ballast": ballast, "weighing.without": ["B1"]}), official)
    rear = known(car.weights(State(driver="aboard")).weight("rear")) - known(car.weights().weight("rear"))
    assert rear == 82 * (1 - Fraction(1000, 2209)) + 5 * (1 + Fraction(50, 2209))


@pytest.mark.parametrize("declared", ["front", "rear"])
def test_a_what_if_may_tell_a_place_from_the_other_axle(declared: str) -> None:
    front = {"behind_front_axle": "1150 mm", "left_of_centre": "0 mm"}
    rear = {"behind_rear_axle": "-1000 mm", "left_of_centre": "0 mm"}
    was, now = (front, rear) if declared == "front" else (rear, front)
    piece = {"label": "B1", "mass": "4 kg"}

    def data(place: dict[str, str]) -> dict[str, Any]:
        changes = {"driver.at": place, "ballast": [{**piece, "at": place}], "weighing.driver": "aboard"}
        return varied(changes)

    files = [parse_document(json.dumps(data(place)).encode(), "car.yaml", "CD") for place in (now, was)]
    car = load_car(files[0], vocabulary(), weighed_as=files[1])
    moved = known(car.weights().weight("rear")) - known(loaded(data(was)).weights().weight("rear"))
    behind = {"front": Fraction(1150), "rear": Fraction(2209 - 1000)}
    other = "rear" if declared == "front" else "front"
    assert moved == 86 * (behind[other] - behind[declared]) / 2209
    assert all(isinstance(car.weights().weight(wheel), Unknown) for wheel in WHEELS)
