"""A declaration survives its form, and what is changed in a field changes that alone."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.pages.form.filling import Filling, filled_in
from checker.pages.form.taking import told_by
from checker.reading.differences import differences, same
from checker.reading.document import Edit
from checker.reading.values import Plain
from tests.examples import quick_first
from tests.pages.form.forms import CARS, car, dunlin_form

LEGAL = next(file for file in CARS if file.name == "legal.yaml")


def sheet(data: Plain) -> Filling:
    found = filled_in(dunlin_form().root, data)
    assert found is not None
    return found


@pytest.mark.parametrize("file", quick_first(CARS, 3), ids=lambda file: file.stem)
def test_what_nobody_touches_stays(file: Path) -> None:
    data = car(file).data
    assert same(told_by(dunlin_form(), data, sheet(data).filled).data, data)


@pytest.mark.parametrize("file", quick_first(CARS, 3), ids=lambda file: file.stem)
def test_a_form_holds_all_that_a_sample_says(file: Path) -> None:
    """Told again from the fields alone, without the file."""
    data = car(file).data
    shown = sheet(data)
    assert shown.aside == {"": {"formula": "dunlin"}}
    assert differences(data, told_by(dunlin_form(), {}, shown.filled).data) == []


def test_a_form_that_was_not_sent_changes_nothing() -> None:
    data = car(LEGAL).data
    assert same(told_by(dunlin_form(), data, {}).data, data)


def change(name: str, *texts: str, data: Plain = None) -> list[Edit]:
    before = car(LEGAL).data if data is None else data
    return differences(
        before, told_by(dunlin_form(), before, {**sheet(before).filled, name: list(texts)}).data
    )


def test_one_field_is_one_edit() -> None:
    assert change("engine.capacity", "1500") == [Edit(("engine", "capacity"), "1500 cc")]
    assert change("engine.capacity", "1.5 L") == [Edit(("engine", "capacity"), "1.5 L")]
    assert change("weighing.readings[0].rear_left", "150") == [
        Edit(("weighing", "readings", 0, "rear_left"), "150 kg")
    ]
    assert change("battery.secured", "false") == [Edit(("battery", "secured"), False)]
    assert change("engine.cylinders", "6") == [Edit(("engine", "cylinders"), 6)]
    assert change("engine.cylinders", "six") == [Edit(("engine", "cylinders"), "six")]
    assert change("components[2].parts", "x") == []  # no such field


def test_a_unit_is_chosen_beside_the_number() -> None:
    found = change("dimensions.wheelbase_left|unit", "in")
    assert [edit.path for edit in found] == [("dimensions", "wheelbase_left")]
    before: Any = {"formula": "dunlin", "dimensions": {"wheelbase_left": "85 3/8 in"}}
    assert sheet(before).filled["dimensions.wheelbase_left"] == ["85 3/8"]
    assert change("dimensions.wheelbase_left", "85 7/16", data=before) == [
        Edit(("dimensions", "wheelbase_left"), "85 7/16 in")
    ]


def test_a_place_is_told_from_either_axle_and_to_either_side() -> None:
    before: Any = {"formula": "dunlin", "driver": {"at": {"behind_front_axle": "1200 mm"}}}
    found = change("driver.at.behind_front_axle|key", "behind_rear_axle", data=before)
    assert differences(before, {**before, "driver": {"at": {"behind_rear_axle": "1200 mm"}}}) == found


def test_a_place_that_no_field_can_hold_keeps_its_axle() -> None:
    before: Any = {"formula": "dunlin", "driver": {"at": {"behind_rear_axle": " edge"}}}
    assert same(told_by(dunlin_form(), before, sheet(before).filled).data, before)


def test_lists_grow_and_shrink() -> None:
    before: Any = {"formula": "dunlin", "ballast": [{"label": "B1", "mass": "5 kg"}, {"label": "B2"}]}
    filled = sheet(before).filled
    grown = {**filled, "ballast|order": ["0", "1", "2"], "ballast[2].label": ["B3"]}
    assert told_by(dunlin_form(), before, grown).data["ballast"] == [*before["ballast"], {"label": "B3"}]
    shrunk = told_by(dunlin_form(), before, {**filled, "ballast|order": ["1"]})
    assert shrunk.data["ballast"] == [{"label": "B2"}]
    assert shrunk.names[("ballast", 0, "label")] == "ballast[1].label"
    none = told_by(dunlin_form(), before, {**filled, "ballast|order": []})
    assert "ballast" not in none.data
    said = told_by(dunlin_form(), before, {**filled, "ballast|order": [], "ballast|none": ["yes"]})
    assert said.data["ballast"] == []
    blank = told_by(dunlin_form(), before, {**filled, "ballast|order": ["0", "1", "7"]})
    assert same(blank.data, before)


def test_what_stands_under_a_name_keeps_it_or_takes_another() -> None:
    before: Any = {"formula": "dunlin", "fluids": {"water": {"lost": "1 kg"}, "oil": {"lost": "2 kg"}}}
    filled = sheet(before).filled
    told = told_by(dunlin_form(), before, {**filled, "fluids[0]|key": ["coolant"]})
    assert told.data["fluids"] == {"coolant": {"lost": "1 kg"}, "oil": {"lost": "2 kg"}}
    assert told.names[("fluids", "coolant", "lost")] == "fluids[0].lost"
    twice = told_by(dunlin_form(), before, {**filled, "fluids[0]|key": ["oil"]})
    assert twice.data["fluids"] == {"oil": {"lost": "1 kg"}, "oil 2": {"lost": "2 kg"}}


def test_what_no_field_holds_is_kept_until_it_is_taken_out() -> None:
    before: Any = {
        "formula": "dunlin",
        "engine": {"capacty": "1 L", "capacity": ["1 L"], "cylinders": 4},
        "x": 1,
    }
    shown = sheet(before)
    assert shown.aside == {
        "": {"formula": "dunlin", "x": 1},
        "engine": {"capacty": "1 L", "capacity": ["1 L"]},
    }
    assert same(told_by(dunlin_form(), before, shown.filled).data, before)
    told = told_by(dunlin_form(), before, {**shown.filled, "engine|drop": ["capacty", "capacity"]})
    assert told.data["engine"] == {"cylinders": 4}


def test_what_may_be_told_in_several_ways_is_told_in_the_one_that_is_chosen() -> None:
    before: Any = {"formula": "dunlin", "fuel": {"at": {"behind_front_axle": "1900 mm"}}}
    filled = sheet(before).filled
    assert filled["fuel.at|way"] == ["0"]
    levels: Any = {
        **filled,
        "fuel.at|way": ["1"],
        "fuel.at~1|order": ["0", "1"],
        "fuel.at~1[0].level": ["10"],
        "fuel.at~1[0].level|unit": ["L"],
        "fuel.at~1[0].behind_front_axle": ["2050 mm"],
        "fuel.at~1[1].level": ["20 L"],
    }
    told = told_by(dunlin_form(), before, levels)
    wanted: Any = [{"level": "10 L", "behind_front_axle": "2050 mm"}, {"level": "20 L"}]
    assert told.data["fuel"] == {"at": wanted}
    assert told.names[("fuel", "at", 1, "level")] == "fuel.at~1[1].level"
    again = sheet(told.data).filled
    assert again["fuel.at|way"] == ["1"]
    assert told_by(dunlin_form(), told.data, {**again, "fuel.at|way": ["0"]}).data == {"formula": "dunlin"}


def test_what_was_taken_off_is_of_the_list_that_has_its_fields() -> None:
    seat: Any = {"taken_off": {"name": "seat", "materials": ["alloy steel"]}}
    lead: Any = {"taken_off": {"label": "B2", "mass": "3 kg"}}
    filled = sheet({"formula": "dunlin", "weighing": {"since": [seat, lead]}}).filled
    assert filled["weighing.since[0].taken_off|way"] != filled["weighing.since[1].taken_off|way"] == ["0"]


def test_an_error_of_reading_and_how_it_was_measured_stand_beside_a_value() -> None:
    found = change("dimensions.wheelbase_left|uncertainty", "0.5 mm")
    assert len(found) == 1
    assert found[0].path == ("dimensions", "wheelbase_left")
    assert isinstance(found[0].value, dict)
    assert found[0].value["uncertainty"] == "0.5 mm"


# -- laws ----------------------------------------------------------------------------------------------------

SCALARS = st.one_of(
    st.none(),
    st.booleans(),
    st.integers(-3, 3000),
    st.sampled_from(
        ["12 mm", "3 1/2 in", "5 ft 3 in", "7", "1500cc", "x: y", " edge", "two\nlines", "", "front"]
    ),
)
LEAVES = st.one_of(
    SCALARS,
    st.lists(SCALARS, max_size=3),
    st.fixed_dictionaries(
        {"value": SCALARS}, optional={"with": SCALARS, "uncertainty": SCALARS, "z": SCALARS}
    ),
)
PLACE = st.dictionaries(
    st.sampled_from(["behind_front_axle", "behind_rear_axle", "right_of_centre", "q"]), LEAVES
)
ENTRY = st.dictionaries(
    st.sampled_from(["label", "name", "mass", "materials", "painted", "q"]), LEAVES, max_size=3
)
PADS = st.dictionaries(st.sampled_from(["front_left", "total", "pad 1", "q"]), LEAVES)
LEVEL = st.builds(lambda place, level: {**place, "level": level}, PLACE, LEAVES)
BOLTED = st.fixed_dictionaries({}, optional={"name": LEAVES, "at": PLACE, "most": LEAVES, "fixings": LEAVES})
GEAR = st.fixed_dictionaries(
    {},
    optional={
        "permissible_error": LEAVES
        | st.dictionaries(st.sampled_from(["class", "interval", "in_service", "standard", "q"]), SCALARS),
        "offset": LEAVES | PADS,
        "resolution": LEAVES,
    },
)
DONE = st.one_of(
    st.fixed_dictionaries({"added": LEAVES}),
    st.fixed_dictionaries({"moved": LEAVES}, optional={"from": PLACE | LEAVES}),
    st.fixed_dictionaries({"taken_off": ENTRY | LEAVES | st.builds(lambda one: {"parts": [one]}, ENTRY)}),
)
PLANNING = st.fixed_dictionaries(
    {},
    optional={
        "places": st.lists(BOLTED, max_size=2),
        "movable": st.lists(
            st.fixed_dictionaries(
                {"what": LEAVES},
                optional={
                    "to": st.lists(BOLTED | SCALARS, max_size=2) | SCALARS,
                    "between": st.lists(PLACE, max_size=2) | LEAVES,
                },
            ),
            max_size=2,
        ),
        "race": LEAVES | st.dictionaries(st.sampled_from(["laps", "fuel_per_lap", "q"]), LEAVES),
    },
)
CHECK = st.fixed_dictionaries({}, optional={"instrument": LEAVES, "zero": PADS | LEAVES, "shown": PADS})
RAISED = st.dictionaries(st.sampled_from(["axle", "by", "other_axle", "wheel_radius", "q"]), LEAVES)
WHOLE = st.fixed_dictionaries(
    {"formula": st.just("dunlin")},
    optional={
        "car": LEAVES | st.dictionaries(st.sampled_from(["number", "name", "novel_design"]), LEAVES),
        "engine": LEAVES
        | st.dictionaries(st.sampled_from(["capacity", "cylinders", "position", "q"]), LEAVES),
        "fuel": st.dictionaries(
            st.sampled_from(["capacity", "at"]),
            LEAVES | PLACE | st.lists(PLACE | LEVEL | SCALARS, max_size=2),
        ),
        "weighing": st.fixed_dictionaries(
            {},
            optional={
                "readings": st.lists(
                    st.fixed_dictionaries({}, optional={"front": LEAVES, "pads": LEAVES | PADS}), max_size=2
                ),
                "since": st.lists(DONE | SCALARS, max_size=2),
                "floor": st.dictionaries(st.sampled_from(["across", "pad_height", "q"]), LEAVES),
            },
        ),
        "instruments": LEAVES
        | st.dictionaries(st.sampled_from(["tape", "pads"]), GEAR | SCALARS, max_size=2),
        "checks": LEAVES | st.lists(CHECK | SCALARS, max_size=2),
        "centre_of_gravity": st.fixed_dictionaries(
            {}, optional={"height": LEAVES, "raised": LEAVES | st.lists(RAISED, max_size=2)}
        ),
        "planning": PLANNING,
        "ballast": LEAVES | st.lists(ENTRY | SCALARS, max_size=3),
        "components": st.lists(
            st.tuples(ENTRY, st.lists(ENTRY, max_size=2)).map(lambda two: {**two[0], "parts": two[1]}),
            max_size=3,
        ),
        "fluids": LEAVES
        | st.dictionaries(st.sampled_from(["water", "oil", ""]), ENTRY | SCALARS, max_size=2),
        "noise": st.dictionaries(st.just("readings"), LEAVES),
        "q": LEAVES,
    },
)


@given(data=WHOLE)
def test_any_declaration_survives_its_form(data: Any) -> None:
    assert same(told_by(dunlin_form(), data, sheet(data).filled).data, data)


@given(data=WHOLE, draw=st.data())
def test_another_way_to_tell_is_taken_without_the_first(data: Any, draw: st.DataObject) -> None:
    """What is then told is what stands in the fields of that way alone; all else stays."""
    filled = sheet(data).filled
    ways = [name for name in filled if name.endswith("|way")]
    if not ways:
        return
    name = draw.draw(st.sampled_from(ways))
    other = "1" if filled[name] == ["0"] else "0"
    told = told_by(dunlin_form(), data, {**filled, name: [other]})
    path = next(
        path for path, its in told.names.items() if its.partition("~")[0] == name.removesuffix("|way")
    )
    for edit in differences(data, told.data):
        assert edit.path[: len(path)] == path[: len(edit.path)]


@given(data=WHOLE, draw=st.data())
def test_a_change_in_the_form_changes_that_alone(data: Any, draw: st.DataObject) -> None:
    filled = sheet(data).filled
    fields = [name for name in filled if "|" not in name]
    name = draw.draw(st.sampled_from(fields))
    told = told_by(dunlin_form(), data, {**filled, name: ["1234"]})
    path = next(path for path, its in told.names.items() if its == name)
    for edit in differences(data, told.data):
        assert edit.path[: len(path)] == path[: len(edit.path)]
