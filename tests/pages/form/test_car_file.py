"""A car's file is written whole, says exactly what the form said, and keeps what nobody touched as it was written."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from checker.pages.form.car_file import CarFile, text_for
from checker.pages.form.filling import filled_in
from checker.pages.form.making import form_of
from checker.pages.form.parts import Group, Input
from checker.pages.form.taking import told_by
from checker.reading.differences import differences
from checker.reading.document import Document
from checker.reading.printer import to_yaml
from checker.reading.problems import InputError
from checker.reading.strict_yaml import parse_document
from checker.reading.whole_file import NotWrittenError
from checker.report.words.units import showing
from tests.examples import quick_first
from tests.pages.form.forms import CARS, car, dunlin, dunlin_form
from tests.pages.form.test_taking import WHOLE


def typed(state: Document, **fields: str) -> str:
    """The text of a file after these fields were typed over; `__` stands for a point."""
    filling = filled_in(dunlin_form().root, state.data)
    assert filling is not None
    filled = {**filling.filled, **{name.replace("__", "."): [text] for name, text in fields.items()}}
    return text_for(state, told_by(dunlin_form(), state.data, filled).data)


@pytest.mark.parametrize("file", quick_first(CARS, 3), ids=lambda file: file.stem)
def test_a_sample_survives_to_the_byte_and_changes_in_one_line(file: Path) -> None:
    state = car(file)
    assert typed(state) == state.text
    before, after = state.text.splitlines(), typed(state, engine__rev_cut="6543").splitlines()
    changed = [(old, new) for old, new in zip(before, after, strict=True) if old != new]
    assert len(changed) == 1
    assert "rev_cut: 6543 rpm" in changed[0][1]


@example(data={"formula": "dunlin", "fuel": {"at": {"behind_rear_axle": []}}}, name="engine__capacity")
@given(
    data=WHOLE, name=st.sampled_from(["engine__capacity", "car__number", "fuel__capacity", "noise__readings"])
)
def test_any_file_says_what_the_form_says(data: Any, name: str) -> None:
    state = parse_document(to_yaml(data).encode(), "car.yaml", "CD")
    assert typed(state) == state.text
    text = typed(state, **{name: "12 \u202e: # x"})
    told = parse_document(text.encode(), "car.yaml", "CD").data
    path = tuple(name.split("__"))
    for edit in differences(data, told):
        assert edit.path[:2] == path[: len(edit.path)]


def test_half_a_character_is_refused() -> None:
    state = car(CARS[0])
    assert isinstance(state.data, dict)
    with pytest.raises(InputError) as caught:
        text_for(state, {**state.data, "x": "\ud800"})
    assert caught.value.problems[0].code == "PG203"


def test_a_file_is_written_whole_or_not_at_all(tmp_path: Path) -> None:
    path = tmp_path / "car.yaml"
    file = CarFile(str(path), "formula: dunlin\n")
    assert file.is_new
    saved = file.save(file.opened, "formula: dunlin\ncar: {number: '7'}\n")
    assert path.read_text("utf-8") == saved.text
    assert not file.is_new
    with pytest.raises(InputError) as caught:
        file.save(saved, "formula: [\n")
    assert caught.value.problems
    assert path.read_text("utf-8") == saved.text
    assert [one.name for one in tmp_path.iterdir()] == ["car.yaml"]


def test_a_file_that_somebody_else_wrote_is_left_alone(tmp_path: Path) -> None:
    path = tmp_path / "car.yaml"
    file = CarFile(str(path), "formula: dunlin\n")
    path.write_text("formula: dunlin\n", "utf-8")
    with pytest.raises(InputError) as caught:
        file.save(file.opened, "formula: dunlin\ncar: {number: '7'}\n")
    assert caught.value.problems[0].code == "PG202"
    assert path.read_text("utf-8") == "formula: dunlin\n"
    path.unlink()
    gone = CarFile(str(tmp_path / "none" / "car.yaml"), "formula: dunlin\n")
    with pytest.raises(NotWrittenError):
        gone.save(gone.opened, "formula: dunlin\n")


def test_units_are_offered_in_the_system_asked_for() -> None:
    def first(key: str, inside: str) -> str:
        section = next(one for one in form_of(dunlin()).root.parts if one.key == inside)
        assert isinstance(section, Group)
        part = next(one for one in section.parts if one.key == key)
        assert isinstance(part, Input)
        return part.units[0]

    assert (first("mass", "driver"), first("wheelbase_left", "dimensions")) == ("kg", "mm")
    with showing("us"):
        assert (first("mass", "driver"), first("wheelbase_left", "dimensions")) == ("lb", "in")
        assert first("capacity", "engine") == "cc"


def test_a_field_that_is_emptied_is_taken_out() -> None:
    state = car(CARS[0])
    assert state.get(("car", "name"))
    emptied = parse_document(typed(state, car__name="").encode(), "car.yaml", "CD")
    assert not emptied.has(("car", "name"))
