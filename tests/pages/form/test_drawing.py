"""The drawing that places are pointed at: every place that the form tells, to scale."""

from __future__ import annotations

from typing import Any

import pytest

from checker.pages.form.drawing import PlaceDrawing
from checker.pages.form.filling import filled_in
from checker.pages.form.judging import RulesAsked, judge
from checker.pages.form.verdict import panel
from checker.reading.printer import to_yaml
from checker.reading.strict_yaml import parse_document
from checker.report.words.units import showing
from tests.pages.form.browsing import PACK
from tests.pages.form.forms import dunlin_form

CAR: dict[str, Any] = {
    "formula": "dunlin",
    "car": {"number": "7"},
    "dimensions": {"wheelbase_left": "2250 mm", "wheelbase_right": "2270 mm"},
    "fuel": {"at": {"behind_front_axle": "1130 mm", "right_of_centre": "300 mm"}},
    "driver": {"at": {"ahead_of_rear_axle": "2260 mm", "left_of_centre": "10 in"}},
    "ballast": [
        {
            "label": "B1",
            "at": {"behind_front_axle": {"value": "226 cm", "uncertainty": "5 mm"}, "left_of_centre": "0 mm"},
        },
        {"label": "B2", "at": {"behind_front_axle": "900 mm"}},
    ],
    "fluids": {"water": {"lost": "1 kg", "at": {"behind_front_axle": "-226 mm", "left_of_centre": "0 mm"}}},
    "planning": {
        "places": [{"name": "boot", "at": {"behind_rear_axle": "100 mm", "left_of_centre": "0 mm"}}]
    },
}


def drawn(data: dict[str, Any]) -> PlaceDrawing | None:
    state = parse_document(to_yaml(data).encode(), "car.yaml", "CD")
    filling = filled_in(dunlin_form().root, state.data)
    assert filling is not None
    return panel(judge(dunlin_form(), state, filling.filled, RulesAsked(PACK)), dunlin_form()).drawing


@pytest.mark.parametrize("system", [None, "us"])
def test_each_place_of_which_all_is_told_has_its_mark(system: str | None) -> None:
    with showing(system):
        found = drawn(CAR)
    assert found is not None
    places = {
        (one.name, one.label): (
            round((one.y - found.front) / found.per_mm, 6),
            round((found.middle - one.x) / found.per_mm, 6),
        )
        for one in found.marks
    }
    assert places == {
        ("fuel.at", "fuel tank"): (1130, -300),
        ("driver.at", "driver"): (0, 254),
        ("ballast[0].at", "B1"): (2260, 0),
        ("fluids[0].at", "Fluids water"): (-226, 0),
        ("planning.places[0].at", "boot"): (2360, 0),
    }
    assert found.wheelbase_mm == 2260
    assert ">B1</text>" in found.figure.svg
    assert "a sketch, for the tracks are not known yet" in found.figure.about


def test_nothing_is_drawn_without_a_scale() -> None:
    assert drawn({**CAR, "dimensions": {"wheelbase_left": "2250 mm"}}) is None
