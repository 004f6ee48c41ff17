"""`weighing.since`: what was done to a car after it was weighed."""

from __future__ import annotations

import json
from typing import Any

import pytest

from checker.car.declaration.loading import load_car
from checker.car.weights.weights import PAIRS
from checker.quantities.kind import Unknown
from checker.reading.problems import InputError
from checker.reading.strict_yaml import parse_document
from tests.car.cars import assumed, loaded, problems, varied, vocabulary
from tests.car.weights.test_what_if import THINGS, what_if
from tests.examples import each_row

AT = {"behind_front_axle": "100 mm", "left_of_centre": "-20 mm"}
ADDED = {"label": "B3", "mass": "2 kg", "at": AT}
BALLAST: list[dict[str, Any]] = THINGS["ballast"]  # type: ignore[assignment]
DECLARED = varied(THINGS)


def since(*done: Any, **changes: Any) -> dict[str, Any]:
    return varied(
        {**{k.replace("__", "."): v for k, v in changes.items()}, "weighing.since": list(done)}, DECLARED
    )


def same_weights(one: Any, other: Any) -> None:
    for name in PAIRS:
        assert one.weights().weight(name) == other.weights().weight(name)
        assert not isinstance(one.weights().weight(name), Unknown)


def test_what_was_added_counts_at_its_place() -> None:
    now = [*BALLAST, ADDED]
    same_weights(loaded(since({"added": "b3"}, ballast=now)), what_if(DECLARED, {"ballast": now}))


def test_what_was_moved_and_taken_off_leaves_its_old_place() -> None:
    now = [{**BALLAST[1], "at": AT}]
    told = since({"taken_off": BALLAST[0]}, {"moved": "B2", "from": BALLAST[1]["at"]}, ballast=now)
    same_weights(loaded(told), what_if(DECLARED, {"ballast": now}))


def test_the_tank_and_the_driver_may_be_moved() -> None:
    driver = {"behind_front_axle": "1210 mm", "left_of_centre": "5 mm"}
    car = since({"moved": "fuel tank", "from": AT}, {"moved": "driver", "from": driver})
    before = varied({"fuel.at": AT, "driver.at": driver}, DECLARED)
    same_weights(
        loaded(car),
        what_if(before, {"fuel.at": DECLARED["fuel"]["at"], "driver.at": DECLARED["driver"]["at"]}),
    )


def test_it_holds_beside_a_what_if() -> None:
    now = [*BALLAST, ADDED]
    declared = since({"added": "B3"}, ballast=now)
    heavier = varied({"ballast[2].mass": "5 kg"}, declared)
    files = [parse_document(json.dumps(data).encode(), "car.yaml", "CD") for data in (heavier, declared)]
    asked = load_car(files[0], vocabulary(), weighed_as=files[1])
    same_weights(asked, what_if(DECLARED, {"ballast": [*BALLAST, {**ADDED, "mass": "5 kg"}]}))


def test_single_wheels_are_no_longer_known_and_the_report_says_why() -> None:
    car = loaded(since({"added": "B3"}, ballast=[*BALLAST, ADDED]))
    assert isinstance(car.weights().weight("front_left"), Unknown)
    assert any(words.startswith("since the weighing: ballast B3 added") for words in assumed(car))


def test_what_officials_weighed_is_the_car_as_it_is() -> None:
    declared = since({"added": "B3"}, ballast=[*BALLAST, ADDED])
    official: dict[str, Any] = {
        "formula": "dunlin",
        "weighing": {k: v for k, v in DECLARED["weighing"].items() if k != "instrument"},
    }
    files = [parse_document(json.dumps(data).encode(), "f.yaml", "CD") for data in (declared, official)]
    assert load_car(files[0], vocabulary(), files[1]).weighed_as is None
    official["weighing"]["since"] = [{"added": "B3"}]
    with pytest.raises(InputError) as told:
        load_car(files[0], vocabulary(), parse_document(json.dumps(official).encode(), "r.yaml", "RD"))
    assert [one.code for one in told.value.problems] == ["RD201"]


@each_row(
    ("done", "code"),
    [
        ({"added": "B9"}, 205),
        ({"added": "driver"}, 205),
        ({"add": "B1"}, 201),
        ({"added": "B1", "form": "x"}, 201),
        ({"added": None}, 202),
        ({"added": 7}, 202),
        ("B1", 202),
        ({}, 202),
        ({"moved": "B1"}, 202),
        ({"moved": "B1", "from": {"behind": "3 mm"}}, 201),
        ({"added": "B1", "moved": "B2"}, 202),
        ({"taken_off": {"mass": "3 kg"}}, 202),
        ({"taken_off": {"label": "B9", "mas": "3 kg"}}, 201),
        ({"taken_off": {"label": "B9", "mass": "3"}}, 203),
    ],
)
def test_nothing_that_is_misspelt_passes(done: Any, code: int) -> None:
    found = problems(since(done))
    assert [one.code for one in found if one.code == f"CD{code}"], found


def test_one_thing_is_told_once() -> None:
    assert [p.code for p in problems(since({"added": "B1"}, {"added": "B1"}))] == ["CD209"]


def test_two_that_were_added_are_both_undone() -> None:
    car = loaded(since({"added": "B1"}, {"added": "B2"}))
    same_weights(car, what_if(varied({"ballast": []}, DECLARED), {"ballast": BALLAST}))
