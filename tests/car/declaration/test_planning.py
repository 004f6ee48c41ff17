"""`planning`: what may be added to a car, moved on it and taken off it."""

from __future__ import annotations

import json
from fractions import Fraction
from typing import Any

import pytest

from checker.car.declaration.planning import with_shelf
from checker.reading.problems import InputError
from checker.reading.strict_yaml import parse_document
from tests.car.cars import loaded, problems, varied
from tests.car.weights.test_what_if import THINGS
from tests.examples import each_row

AT = {"behind_front_axle": "400 mm", "left_of_centre": "500 mm"}
BOX = {"name": "left box", "at": AT, "most": "10 kg", "pieces": 2, "fixings": 3}
PIECE = {"label": "P1", "mass": "2.5 kg", "count": 2}
STOCK = {"label": "lead", "step": "0.5 kg", "most": "8.2 kg"}


def planned(**sections: Any) -> dict[str, Any]:
    return varied({"planning": sections}, varied(THINGS))


def test_all_that_may_be_done_is_read() -> None:
    car = loaded(
        planned(
            places=[BOX],
            shelf=[PIECE, STOCK],
            movable=[
                {"what": "battery", "to": ["Left Box", {"name": "boot", "at": AT}]},
                {"what": "driver", "between": [AT, {**AT, "behind_front_axle": "450 mm"}]},
            ],
            may_come_off=["b2"],
        )
    )
    plan = car.planning
    (box,) = plan.places
    assert (box.most_kg, box.pieces, box.fields["fixings"].value) == (Fraction(10), 2, 3)
    assert [(piece.kg, piece.count, piece.is_stock) for piece in plan.shelf] == [
        (Fraction(5, 2), 2, False),
        (Fraction(1, 2), 16, True),
    ]
    battery, driver = plan.movable
    assert battery.path == ("components", 0)
    assert [place.name for place in battery.to] == ["left box", "boot"]
    assert driver.path == ("driver", "at")
    assert driver.between is not None
    assert [one.path for one in plan.may_come_off] == [("ballast", 1)]


def test_a_file_beside_the_car_adds_to_it() -> None:
    declared = planned(places=[BOX])
    text = json.dumps({"shelf": [PIECE], "movable": [{"what": "battery", "to": ["left box"]}]}).encode()
    document = parse_document(json.dumps(declared).encode(), "car.yaml", "CD")
    plan = with_shelf(parse_document(text, "shelf.yaml", "SH"), document, loaded(declared))
    assert ([one.label for one in plan.shelf], [one.name for one in plan.places]) == (["P1"], ["left box"])
    wrong = parse_document(b'{"shelf": [{"label": "P2", "mas": "2 kg"}]}', "shelf.yaml", "SH")
    with pytest.raises(InputError) as told:
        with_shelf(wrong, document, loaded(declared))
    assert {problem.code for problem in told.value.problems} == {"SH201", "SH202"}


def test_without_anything_to_do_there_is_no_plan() -> None:
    assert not loaded(planned(places=[BOX])).planning
    assert not loaded(varied(THINGS)).planning


@each_row(
    ("section", "entry", "code"),
    [
        ("places", {**BOX, "mst": "3 kg"}, 201),
        ("places", {**BOX, "label": "P1"}, 201),
        ("places", {"name": "box", "at": {"behind_front_axle": "400 mm"}}, 202),
        ("places", {"name": "box"}, 202),
        ("places", {"at": AT}, 202),
        ("places", {**BOX, "most": "10"}, 203),
        ("places", {**BOX, "most": "10 mm"}, 204),
        ("places", {**BOX, "most": "0 kg"}, 208),
        ("places", {**BOX, "pieces": 0}, 208),
        ("places", {}, 202),
        ("places", "left box", 202),
        ("shelf", {"label": "P1"}, 202),
        ("shelf", {"mass": "2 kg"}, 202),
        ("shelf", {**PIECE, "step": "1 kg"}, 202),
        ("shelf", {**STOCK, "count": 2}, 202),
        ("shelf", {**PIECE, "mass": "0 kg"}, 208),
        ("shelf", {**PIECE, "mass": "-1 kg"}, 207),
        ("shelf", {**PIECE, "count": 0}, 208),
        ("shelf", {**STOCK, "most": "0.2 kg"}, 208),
        ("shelf", {**PIECE, "colour": "red"}, 201),
        ("movable", {"what": "batery", "to": [BOX]}, 205),
        ("movable", {"what": "battery", "to": ["right box"]}, 205),
        ("movable", {"what": "battery", "to": []}, 202),
        ("movable", {"what": "battery"}, 202),
        ("movable", {"what": "battery", "to": [BOX], "between": [AT, AT]}, 202),
        ("movable", {"what": "driver", "between": [AT]}, 202),
        ("movable", {"what": "driver", "between": [AT, {"behind": "1 mm"}]}, 201),
        ("movable", {"what": "battery", "too": [BOX]}, 201),
        ("may_come_off", "B9", 205),
        ("may_come_off", "driver", 205),
        ("may_come_off", 7, 202),
        ("shelves", PIECE, 201),
    ],
)
def test_nothing_that_is_misspelt_passes(section: str, entry: Any, code: int) -> None:
    found = problems(planned(**{section: [entry]}))
    assert [one for one in found if one.code == f"CD{code}"], found


@pytest.mark.parametrize(
    "sections",
    [
        {"places": [BOX, {**BOX, "name": "LEFT box"}]},
        {"shelf": [PIECE, {**PIECE, "label": "p1"}]},
        {"may_come_off": ["B1", "b1"]},
    ],
)
def test_everything_is_told_once(sections: dict[str, Any]) -> None:
    assert [one.code for one in problems(planned(**sections))] == ["CD209"]


def test_a_field_is_told_of_the_piece_or_of_the_place() -> None:
    found = problems(planned(places=[BOX], shelf=[{**PIECE, "fixings": 2}]))
    assert [one.code for one in found] == ["CD219"]


def test_officials_do_not_say_what_may_be_done() -> None:
    readings = {"formula": "dunlin", "planning": {"places": [BOX]}}
    assert "RD201" in [one.code for one in problems(planned(), readings)]


def test_a_place_beyond_the_car_is_warned_of() -> None:
    beyond = {**BOX, "at": {"behind_front_axle": "4400 mm", "left_of_centre": "1500 mm"}}
    found = problems(planned(places=[beyond]))
    assert [one.code for one in found] == ["CD219", "CD219"]
    assert all("left box" in one.message for one in found)
