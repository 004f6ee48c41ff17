"""A what-if of which something is missing is refused with what to state; what is not refused is answered."""

from __future__ import annotations

import json
from collections.abc import Mapping
from datetime import date
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.kinds.judging.assessment import NOT_SHOWN
from checker.pack.editions.finding import open_folder
from checker.pack.editions.in_force import load_pack
from checker.reading.problems import InputError
from checker.reading.strict_yaml import parse_document
from checker.verdict.inspection import Inspection
from checker.verdict.run import _with_what_if, inspect_document
from tests.car.cars import ABSENT, COMPLETE, varied

PACK_TEXT = """
pack: dunlin
edition: "1"
title: Weights
in_force: {from: 2026-01-01}
course: anticlockwise
clauses:
  "1": {title: Total, check: {limit: weight.total, at_least: 500 kg, condition: any}}
  "2": {title: Inside, check: {limit: percentage.inside, at_most: 60 %, condition: any}}
  "3": {title: Rear, check: {limit: percentage.rear, at_most: 60 %, condition: any}}
"""
DAY = date(2026, 5, 3)
BALLAST = [
    {"label": "B1", "mass": "5.5 kg", "at": {"behind_front_axle": "1880 mm", "left_of_centre": "520 mm"}},
    {"label": "B2", "mass": "5.5 kg", "at": {"behind_front_axle": "640 mm", "left_of_centre": "505 mm"}},
    {"label": "S1", "mass": "4.2 kg", "at": {"behind_front_axle": "1500 mm", "right_of_centre": "510 mm"}},
]


@pytest.fixture(scope="module", name="pack")
def _pack(tmp_path_factory: pytest.TempPathFactory) -> Any:
    file = tmp_path_factory.mktemp("pack") / "weights.yaml"
    file.write_text(PACK_TEXT)
    return load_pack(open_folder(str(file)), DAY)


def asked(pack: Any, changes: Mapping[str, Any], *what_if: str) -> Inspection:
    base = {**COMPLETE, "ballast": BALLAST}
    declared = parse_document(json.dumps(varied(changes, base)).encode(), "car.yaml", "CD")
    document = _with_what_if(declared, what_if)
    return inspect_document(pack, document, DAY, "entrant", None, what_if, weighed_as=declared)


def refusal(pack: Any, changes: Mapping[str, Any], *what_if: str) -> str:
    with pytest.raises(InputError) as caught:
        asked(pack, changes, *what_if)
    (problem,) = caught.value.problems
    assert problem.code == "CD198"
    return f"{problem.message}\n{problem.hint}\n" + "\n".join(str(span) for _, span in problem.related)


B4 = "{label: B4, mass: 2 kg"
HALF = "at: {behind_front_axle: 1500 mm}"
NO_TYRES = {"tyres": {"dry": COMPLETE["tyres"]["dry"]}}


@pytest.mark.parametrize(
    ("changes", "what_if", "missing"),
    [
        ({}, f"ballast[3]={B4}}}", ("ballast[3].at.behind_front_axle", "ballast[3].at.left_of_centre")),
        ({}, f"ballast[3]={B4}, {HALF}}}", ("ballast[3].at.left_of_centre",)),
        ({"ballast[0].at": ABSENT}, "ballast[0].mass=0 kg", ("ballast[0].at.behind_front_axle",)),
        ({"ballast[0].at": ABSENT}, "ballast=[]", ("ballast[0].at.behind_front_axle (B1)",)),
        ({"driver.at": ABSENT}, "driver.mass=95 kg", ("driver.at.behind_front_axle", "driver.at.left_of_centre")),
        ({"driver.at": ABSENT, "weighing.driver": "aboard"}, "driver.mass=95 kg", ("driver.at.behind_front_axle",)),
        ({"driver": ABSENT}, "driver.mass=95 kg", ("driver.at.behind_front_axle",)),
        ({"fuel.at": ABSENT}, "fuel.capacity=30 L", ("fuel.at.behind_front_axle",)),
        ({"fuel.at": ABSENT}, "fuel.at={left_of_centre: 3 mm}", ("fuel.at.behind_front_axle",)),
        ({"fuel.density": ABSENT}, "fuel.capacity=30 L", ("fuel.density",)),
        ({"dimensions": ABSENT}, "ballast[0].mass=0 kg", ("dimensions.wheelbase_left",)),
        (NO_TYRES, "tyres.wet={front: {mass: 14.9 kg, section: 215 mm}}", ("tyres.wet.rear.mass",)),
        ({"tyres.wet.rear.mass": ABSENT}, "tyres.wet.front.mass=15 kg", ("tyres.wet.rear.mass",)),
        ({"wear": {}}, "wear.front_left=1 kg", ("wear.front_right",)),
    ],
)  # fmt: skip
def test_what_is_missing_is_named_with_where_to_state_it(
    pack: Any, changes: dict[str, Any], what_if: str, missing: tuple[str, ...]
) -> None:
    said = refusal(pack, changes, what_if)
    assert said.startswith(f"--set {what_if.partition('=')[0]}: what it does to the weights cannot be told")
    assert all(name in said for name in missing)
    assert "state it in the car's file" in said
    assert "car.yaml:1:" in said


BATTERY = {
    "name": "battery",
    "mass": "18 kg",
    "at": {"behind_front_axle": "2100 mm", "left_of_centre": "300 mm"},
}
ELSEWHERE = "at={behind_front_axle: 1000 mm, left_of_centre: 0 mm}"


@pytest.mark.parametrize(
    ("unstated", "what_if", "missing"),
    [
        ("mass", "mass=0 kg", ("mass",)),
        ("mass", "mass=10 kg", ("mass",)),
        ("mass", ELSEWHERE, ("mass",)),
        ("at", "mass=0 kg", ("at.behind_front_axle", "at.left_of_centre")),
        ("at", ELSEWHERE, ("at.behind_front_axle", "at.left_of_centre")),
        ("at", "at.left_of_centre=0 mm", ("at.left_of_centre",)),
    ],
)
@pytest.mark.parametrize("of", ["components", "ballast"])
def test_what_a_thing_weighs_and_where_it_is_must_be_stated_before_it_is_changed(
    pack: Any, of: str, unstated: str, what_if: str, missing: tuple[str, ...]
) -> None:
    """Taking out a battery of which nobody says what it weighs is no question that the weights as weighed answer."""
    thing = {key: value for key, value in BATTERY.items() if key != unstated}
    whole = f"components[0]={{name: battery, mass: 10 kg, {ELSEWHERE.replace('=', ': ')}}}"
    assert f"components[0].{unstated}" in refusal(pack, {"components": [thing]}, whole)
    known_by = {"components": "name", "ballast": "label"}[of]
    thing = {known_by if key == "name" else key: value for key, value in thing.items()}
    said = refusal(pack, {of: [thing]}, f"{of}[0].{what_if}")
    assert all(f"{of}[0].{field} (battery) is not stated" in said for field in missing)
    assert "state it in the car's file" in said


def test_what_was_not_stated_may_stand_beside_what_is_changed(pack: Any) -> None:
    thing = {key: value for key, value in BATTERY.items() if key != "at"}
    there = "components[0].at={behind_front_axle: 2100 mm, left_of_centre: 300 mm}"
    out = asked(pack, {"components": [thing]}, "components[0].mass=0 kg", there)
    on, off = (one.car.weights().weight("total") for one in (asked(pack, {}, "car.name=A"), out))
    assert isinstance(on, Fraction)
    assert off == on - 18


@pytest.mark.parametrize(
    ("changes", "what_if"),
    [
        ({"weighing.readings": ABSENT}, "ballast[0].mass=0 kg"),  # nothing was weighed, so nothing moves
        ({"weighing.readings": [{"total": "596 kg"}], "ballast[0].at": ABSENT}, "ballast[0].mass=0 kg"),
        ({"driver.at": ABSENT}, "driver.born=1990-01-01"),
        ({"driver.at": ABSENT}, "ballast[0].mass=0 kg"),  # no news: it is not the driver that is asked about
        ({"ballast[1].at": ABSENT}, "ballast[0].mass=0 kg"),  # it stays where it is
        (
            {"fuel.at": ABSENT, "driver.at": ABSENT},
            "driver.mass=95 kg",
        ),  # not known for other reasons as well
    ],
)
def test_what_the_what_if_does_not_make_unknown_is_not_refused(
    pack: Any, changes: dict[str, Any], what_if: str
) -> None:
    asked(pack, changes, what_if)


THINGS = ("driver.at", "fuel.at", "fuel.density", "ballast[0].at", "ballast[1].at", "tyres.wet", "wear")
SET = ("driver.mass=95 kg", "fuel.capacity=30 L", "ballast[0].mass=0 kg", "ballast[1].at.left_of_centre=0 mm",
       f"ballast[3]={B4}}}", "tyres.wet.front.mass=15 kg", "wear.rear_left=1 kg")  # fmt: skip


@given(
    gone=st.lists(st.sampled_from(THINGS), unique=True, max_size=3),
    what_if=st.lists(st.sampled_from(SET), unique=True, min_size=1, max_size=2),
)
def test_what_is_shown_of_the_car_is_shown_of_the_car_changed_or_the_question_is_refused(
    pack: Any, gone: list[str], what_if: list[str]
) -> None:
    changes: dict[str, Any] = dict.fromkeys(gone, ABSENT)
    before = asked(pack, changes, "car.name=Redshank")
    try:
        after = asked(pack, changes, *what_if)
    except InputError as error:
        (problem,) = error.problems
        assert problem.code in ("CD198", "CD199")
        return
    lost = {o.clause.number for o in after.outcomes if o.outcome == NOT_SHOWN}
    assert lost <= {o.clause.number for o in before.outcomes if o.outcome == NOT_SHOWN}
