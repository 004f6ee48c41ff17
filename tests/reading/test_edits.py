from __future__ import annotations

import copy
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.reading.document import REMOVE, Document, Edit, Plain
from checker.reading.paths import parse_path
from checker.reading.printer import to_yaml
from checker.reading.problems import InputError, Path
from tests.examples import each_row
from tests.reading.reading import read
from tests.reading.strategies import plain_data, same

CAR = """\
car: {number: "27"}
weighing:
  fuel: 6 L
  readings:
    - {front_left: 158.5 kg}
ballast:
"""
CASE = """\
set:
  weighing.fuel: 4 L
  new: {mass: [1 kg, 2 kg]}
remove: [car.number]
"""


def edit(
    document: Document, path: str, value: object, source: Document | None = None, *at: str | int
) -> Document:
    change = Edit(parse_path(path), value, source, tuple(at))  # type: ignore[arg-type]
    return document.edited([change], "XX199")


def test_setting_changes_the_copy_only() -> None:
    car = read(CAR)
    before = copy.deepcopy(car.data)
    edited = edit(car, "weighing.fuel", "4 L")
    assert edited.get(("weighing", "fuel")) == "4 L"
    assert car.data == before
    assert car.span(("weighing", "fuel")).line == 3
    assert (edited.name, edited.text, edited.sha256) == (car.name, car.text, car.sha256)


def test_a_new_value_is_placed_in_the_file_that_asks_for_it() -> None:
    car, case = read(CAR), read(CASE, "cases.yaml")
    edited = edit(car, "weighing.fuel", "4 L", case, "set", "weighing.fuel")
    assert str(edited.span(("weighing", "fuel"))) == "cases.yaml:2:18"
    assert str(edited.span_within(("weighing", "fuel"), 2, 3)) == "cases.yaml:2:20"
    assert edited.written(("weighing", "fuel")) == "4 L"
    assert edited.is_plain(("weighing", "fuel"))
    assert str(edited.key_span(("weighing", "fuel"))) == "car.yaml:3:3"
    assert str(edited.span(("weighing", "readings", 0, "front_left"))) == "car.yaml:5:20"


def test_what_lies_inside_a_new_value_is_placed_there_too() -> None:
    car, case = read(CAR), read(CASE, "cases.yaml")
    edited = edit(car, "driver.seat", case.get(("set", "new")), case, "set", "new")
    assert edited.get(("driver", "seat", "mass", 1)) == "2 kg"
    assert str(edited.span(("driver", "seat", "mass", 1))) == "cases.yaml:3:22"
    assert str(edited.span(("driver", "seat", "mass", 9))) == "cases.yaml:3:15"
    assert str(edited.key_span(("driver", "seat", "mass"))) == "cases.yaml:3:9"
    assert str(edited.key_span(("driver", "seat"))) == "cases.yaml:3:3"
    assert str(edited.span(("driver",))) == "cases.yaml:3:8"


def test_a_value_from_the_command_line_is_placed_in_its_own_text() -> None:
    edited = edit(read(CAR), "weighing.fuel", "4 LL")
    span = edited.span_within(("weighing", "fuel"), 2, 4)
    assert (span.file, span.line, span.column, span.source_line) == ("--set", 1, 3, "4 LL")
    quoted = edit(read(CAR), "weighing.fuel", "'x'")
    assert quoted.is_plain(("weighing", "fuel"))
    assert quoted.span_within(("weighing", "fuel"), 1, 2).column == 2


@each_row(
    ("value", "shown"),
    [
        (12, "12"),
        (Fraction(5, 2), "5/2"),
        (True, "true"),
        (None, "null"),
        (["a", 1], '["a", 1]'),
        ({"ä": Fraction(1, 3)}, '{"ä": "1/3"}'),
    ],
)
def test_any_value_from_the_command_line_has_a_text(value: Plain, shown: str) -> None:
    edited = edit(read(CAR), "x", value)
    assert str(edited.span(("x",))) == str(edited.key_span(("x",))) == "--set:1:1"
    assert edited.span(("x",)).source_line == shown
    assert edited.is_plain(("x",)) is not isinstance(value, dict | list)
    assert edited.span(("x", "inside", 0)).file == "--set"


def test_missing_mappings_and_lists_are_made() -> None:
    edited = edit(read(CAR), "driver.at.behind_front_axle", "1150 mm")
    assert edited.get(("driver",)) == {"at": {"behind_front_axle": "1150 mm"}}
    edited = edit(read(CAR), "ballast[0].mass", "6 kg")
    assert edited.get(("ballast",)) == [{"mass": "6 kg"}]
    assert str(edited.key_span(("ballast",))) == "car.yaml:6:1"
    assert edit(read(CAR), "ballast.mass", "6 kg").get(("ballast",)) == {"mass": "6 kg"}
    assert edit(read(CAR), "joints[0]", 1).get(("joints",)) == [1]


def test_one_past_the_end_of_a_list_appends() -> None:
    edited = edit(read(CAR), "weighing.readings[1]", {"front_left": "159 kg"})
    assert edited.get(("weighing", "readings")) == [{"front_left": "158.5 kg"}, {"front_left": "159 kg"}]
    assert edited.span(("weighing", "readings", 1)).file == "--set"
    assert str(edited.span(("weighing", "readings"))) == "car.yaml:5:5"


def test_an_entry_is_added_whole_or_not_at_all() -> None:
    """A position that is one too many would else make an entry of one field."""
    with pytest.raises(InputError, match="1 problem") as caught:
        edit(read(CAR), "weighing.readings[1].front_left", "159 kg")
    assert "to add one, give it whole" in caught.value.problems[0].message


def test_a_new_key_can_follow_another() -> None:
    document = read("clauses: {a: 1, b: 2, c: 3}\n")
    edited = document.edited([Edit(("clauses", "n"), 9, after="b")], "XX199")
    assert list(edited.data["clauses"]) == ["a", "b", "n", "c"]  # type: ignore[index,call-overload,arg-type]
    assert edited.span(("clauses", "c")) == document.span(("clauses", "c"))
    last = document.edited([Edit(("clauses", "n"), 9, after="absent")], "XX199")
    assert list(last.data["clauses"]) == ["a", "b", "c", "n"]  # type: ignore[index,call-overload,arg-type]


def test_taking_away() -> None:
    case = read(CASE, "cases.yaml")
    edited = edit(read(CAR), "car.number", REMOVE, case, "remove", 0)
    assert edited.data == {"car": {}, **{k: v for k, v in read(CAR).data.items() if k != "car"}}  # type: ignore[union-attr]
    assert str(edited.span(("car", "number"))) == "car.yaml:1:6"
    document = read("a: [1, 22, 333]")
    edited = edit(document, "a[1]", REMOVE)
    assert edited.data == {"a": [1, 333]}
    assert edited.span(("a", 1)) == document.span(("a", 2))


def test_changes_follow_each_other() -> None:
    car, case = read(CAR), read(CASE, "cases.yaml")
    edited = car.edited(
        [
            Edit(("new",), case.get(("set", "new")), case, ("set", "new")),
            Edit(("new", "mass", 0), "9 kg"),
            Edit(("new", "mass", 2), "3 kg"),
            Edit(("new", "more"), "x"),
            Edit(("weighing", "fuel"), REMOVE),
        ],
        "XX199",
    )
    assert edited.get(("new",)) == {"mass": ["9 kg", "2 kg", "3 kg"], "more": "x"}
    assert str(edited.span(("new", "mass", 0))) == "--set:1:1"
    assert str(edited.span(("new", "mass", 1))) == "cases.yaml:3:22"
    assert str(edited.key_span(("new", "mass"))) == "cases.yaml:3:9"
    assert not edited.has(("weighing", "fuel"))
    assert case.get(("set", "new", "mass")) == ["1 kg", "2 kg"]
    again = edited.edited([Edit(("new", "mass", 1), REMOVE)], "XX199")
    assert again.get(("new", "mass")) == ["9 kg", "3 kg"]
    assert again.span(("new", "mass", 0)).file == again.span(("new", "mass", 1)).file == "--set"


def test_the_whole_file_can_be_set() -> None:
    edited = edit(read(CAR), "", {"a": 1})
    assert edited.data == {"a": 1}


def test_an_alias_is_changed_at_one_place_only() -> None:
    edited = edit(read("a: &x {b: 1}\nc: *x\n"), "c.b", 2)
    assert edited.data == {"a": {"b": 1}, "c": {"b": 2}}


@each_row(
    ("path", "value", "message"),
    [
        ("weighing.fuel.x", 1, "weighing.fuel is a single value: nothing inside it can be changed"),
        ("weighing.fuel[0]", 1, "weighing.fuel is a single value: nothing inside it can be changed"),
        (
            "weighing.readings.x",
            1,
            "weighing.readings is a list: a position such as [0] comes after it, not 'x'",
        ),
        ("weighing[0]", 1, "weighing is a mapping: a key comes after it, not [0]"),
        ("[0]", 1, "the file is a mapping: a key comes after it, not [0]"),
        (
            "weighing.readings[2]",
            1,
            "there is no weighing.readings[2]: weighing.readings has 1 entry, counted from [0]"
            "; to add one, give it whole: weighing.readings[1]={...}",
        ),
        (
            "ballast[1]",
            1,
            "there is no ballast[1]: ballast is empty; to add one, give it whole: ballast[0]={...}",
        ),
        (
            "weighing.readings[1]",
            REMOVE,
            "there is no weighing.readings[1]: weighing.readings has 1 entry, counted from [0]",
        ),
        ("car.name", REMOVE, "there is no car.name to take away"),
        ("driver.seat.mass", REMOVE, "there is no driver to take away"),
        ("ballast.x", REMOVE, "ballast is a single value: nothing inside it can be changed"),
        ("", REMOVE, "the whole file cannot be taken away"),
    ],
)
def test_what_cannot_be_changed_is_said(path: str, value: object, message: str) -> None:
    case = read(CASE, "cases.yaml")
    with pytest.raises(InputError) as caught:
        edit(read(CAR), path, value, case, "set", "weighing.fuel")
    (problem,) = caught.value.problems
    assert problem.code == "XX199"
    assert problem.message == message
    assert str(problem.span) == "cases.yaml:2:3"


def test_all_changes_that_fail_are_reported() -> None:
    with pytest.raises(InputError) as caught:
        read(CAR).edited([Edit(("a", "b"), REMOVE), Edit(("ok",), 1), Edit((0,), 1)], "XX199")
    assert len(caught.value.problems) == 2
    assert {str(problem.span) for problem in caught.value.problems} == {"--set:1:1"}


def all_paths(data: object, path: Path = ()) -> list[Path]:
    inner: list[tuple[str | int, object]] = []
    if isinstance(data, dict):
        inner = list(data.items())
    if isinstance(data, list):
        inner = list(enumerate(data))
    return [path, *(p for key, value in inner for p in all_paths(value, (*path, key)))]


@given(plain_data, plain_data, st.data())
def test_setting_then_reading_gives_the_value_and_leaves_the_rest(
    old: Plain, new: Plain, choose: st.DataObject
) -> None:
    document, source = read(to_yaml({"x": old})), read(to_yaml({"y": new}), "cases.yaml")
    path = choose.draw(st.sampled_from(all_paths(document.data)))
    edited = document.edited([Edit(path, source.get(("y",)), source, ("y",))], "XX199")
    assert same(edited.get(path), new)
    assert same(document.data, {"x": old})
    for inner in all_paths(new):
        assert edited.span((*path, *inner)) == source.span(("y", *inner))
    for other in all_paths(document.data):
        if other[: len(path)] != path and path[: len(other)] != other:
            assert edited.span(other) == document.span(other)
            assert same(edited.get(other), document.get(other))
