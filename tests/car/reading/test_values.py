"""How single values are read: what is accepted, and every way to be wrong with its code."""

from __future__ import annotations

from datetime import date
from fractions import Fraction
from typing import Any

import pytest

from checker.car.described.stated import DECLARED
from tests.car.cars import loaded, problems, varied
from tests.examples import each_row

BARE = {"formula": "dunlin", "car": {"number": "27"}}


def stated(path: str, value: Any) -> Any:
    found = loaded(varied({path: value}, BARE)).stated(path)
    assert found is not None
    return found


@each_row(
    ("path", "written", "value"),
    [
        ("engine.capacity", "1450 cc", Fraction(1450000)),
        ("engine.capacity", "1.45 L", Fraction(1450000)),
        ("dimensions.rear_width_over_tyres", "69 5/8 in", Fraction(1768475, 1000)),
        ("fuel.density", "0.745 kg/L", Fraction(745, 10**9)),
        ("engine.compression", 11, Fraction(11)),
        ("engine.cylinders", 4, Fraction(4)),
        ("engine.cylinders", 0, Fraction(0)),
        ("engine.position", "Mid", "mid"),
        ("body.share", "52.5 %", Fraction(21, 40)),
        ("body.share", "100 %", Fraction(1)),
        ("body.slope", "150 %", Fraction(3, 2)),
        ("body.panel", "2.2 mm", (Fraction(22, 10),)),
        ("body.panel", ["2.2 mm", "0.1 in"], (Fraction(22, 10), Fraction(254, 100))),
        ("body.panel", [], ()),
        ("engine.seals", ["A1", "B 7"], ("A1", "B 7")),
        ("engine.seals", "A1", ("A1",)),
        ("car.chassis_built", "2024-11-02", date(2024, 11, 2)),
        ("belts.made", "2021-05", date(2021, 5, 31)),
        ("seat.made", "2021", date(2021, 12, 31)),
        ("seat.made", 2021, date(2021, 12, 31)),
        ("seat.made", "2024-02", date(2024, 2, 29)),
        ("inspection.sound", True, True),
    ],
)
def test_a_value_is_read_exactly(path: str, written: Any, value: Any) -> None:
    assert stated(path, written).value == value


def test_an_unquoted_fraction_is_a_number() -> None:
    text = "formula: dunlin\ncar: {number: '27'}\nengine: {compression: 10 1/2}\n"
    assert loaded(text).value("engine.compression") == Fraction(21, 2)
    text = text.replace("10 1/2", "11.2")
    assert loaded(text).value("engine.compression") == Fraction(56, 5)


def test_a_value_keeps_what_was_written_and_where() -> None:
    mass = loaded('formula: dunlin\ncar: {number: "27"}\ndriver: {mass: 180 lb 4 oz}\n').stated("driver.mass")
    assert mass is not None
    assert mass.written == "180 lb 4 oz"
    assert mass.unit is not None
    assert mass.unit.name == "lb"
    assert mass.origin == DECLARED
    assert str(mass.span) == "car.yaml:3:16"
    assert mass.instrument == ""
    assert mass.uncertainty is None


def test_the_packs_instrument_and_uncertainty_go_with_a_bare_value() -> None:
    assert stated("engine.capacity", "1450 cc").instrument == "burette"
    assert stated("body.panel", "2.2 mm").uncertainty == Fraction(1, 10)


def test_a_value_may_name_its_instrument_and_uncertainty() -> None:
    found = stated("engine.capacity", {"value": "1450 cc", "with": "Tape", "uncertainty": "2 cc"})
    assert (found.value, found.instrument, found.uncertainty) == (1450000, "tape", 2000)
    panel = stated("body.panel", {"value": ["2.2 mm", "2.4 mm"], "with": "tape"})
    assert panel.value == (Fraction(22, 10), Fraction(24, 10))
    assert panel.uncertainty is None  # that of the pack was for the pack's own instrument


def test_an_unknown_material_is_kept_as_it_is() -> None:
    part = {"name": "bracket", "category": "Controls/Pedals", "materials": ["Steel", "unobtainium"]}
    (entry,) = loaded(varied({"components": [part]}, BARE)).lists["components"]
    assert entry.value("materials") == ("steel", "unobtainium")
    assert entry.value("category") == "controls/pedals"


WRONG: list[tuple[str, Any, int, str, str]] = [
    ("engine.capasity", "1450 cc", 201, "no fact 'capasity'", "'capacity'"),
    ("engin.capacity", "1450 cc", 201, "no section 'engin'", "'engine'"),
    ("engine.capacity", {"value": "1 L", "wth": "tape"}, 201, "no key 'wth'", "'with'"),
    ("engine.capacity", None, 202, "nothing is written", "take the line away"),
    ("engine.capacity", ["1 L", "2 L"], 202, "holds a list", "one value only"),
    ("engine.capacity", {"with": "tape"}, 202, "has no value", "add value:"),
    ("engine.position", {"value": "mid"}, 202, "holds a mapping; a word was wanted", ""),
    ("engine", "1450 cc", 202, "holds the text '1450 cc'; a mapping of facts was wanted", ""),
    ("body.panel", [["2 mm"]], 202, "holds a list", ""),
    ("engine.capacity", 1450, 203, "1450 has no unit", "1450 cc"),
    ("engine.capacity", "1450", 203, "1450 has no unit", "1450 cc"),
    ("engine.capacity", "1450 ccs", 203, "ccs is not a unit", "cc"),
    ("engine.capacity", "big", 203, "'big' is not a number", "12.5 kg"),
    ("engine.capacity", "", 203, "nothing is written", "write a value"),
    ("engine.capacity", "nan L", 203, "is not a number", ""),
    ("engine.capacity", "1,450 cc", 203, "cannot be read", "thousands"),
    ("engine.capacity", "1450 kg", 204, "a mass; a volume was wanted", "cc"),
    ("engine.capacity", "2026-03-01", 204, "a day; a volume was wanted", ""),
    ("engine.compression", "11.2 mm", 210, "'11.2 mm'", "quotes"),
    ("engine.compression", "11.2", 210, "the text '11.2'", "without quotes"),
    ("engine.position", "centre", 205, "allowed are front, mid, rear", "front, mid, rear"),
    ("engine.position", "frunt", 205, "'frunt'", "'front'"),
    ("engine.position", 3, 205, "'3'", ""),
    ("car.chassis_built", "2024-02-30", 206, "February 2024 has 29 days", ""),
    ("car.chassis_built", "02/11/2024", 206, "is not a day", ""),
    ("car.chassis_built", "2024-11", 206, "only a month; a day was wanted", "2024-11-01 to 2024-11-30"),
    ("car.chassis_built", 2024, 206, "only a year; a day was wanted", "2026-03-01"),
    ("car.chassis_built", True, 206, "'true' is not a day", ""),
    ("seat.made", "05/2021", 206, "is not a day", "a month will do, as in 2026-03"),
    ("belts.made", "2021-05-03", 206, "is a day; a month was wanted", "2026-03"),
    ("engine.capacity", "-1450 cc", 207, "cannot be below zero", ""),
    ("engine.cylinders", -4, 207, "a count is 0 or more", ""),
    ("engine.capacity", {"value": "1 L", "uncertainty": "-1 cc"}, 207, "below zero", ""),
    ("engine.compression", 112, 208, "taken for a slip: 5 to 20 was expected", ""),
    ("dimensions.wheelbase_left", "2.2 mm", 208, "500 mm to 6000 mm was expected", ""),
    ("fuel.density", "1 kg/L", 208, "0.6 kg/L to 0.95 kg/L was expected", ""),
    ("body.slope", "201 %", 208, "at most 200 %", ""),
    ("inspection.sound", "yes", 210, "true or false was wanted", "true or false"),
    ("inspection.sound", 1, 210, "the number 1", "true or false"),
    ("engine.seals", [12], 210, "a text was wanted", "quotes"),
    ("engine.seals", True, 210, "holds true", ""),
    ("engine.seals", " ", 202, "a text was wanted", "take the line away"),
    ("engine.cylinders", "4", 210, "a whole number was wanted", "whole number"),
    ("engine.capacity", True, 210, "holds true; a volume was wanted", ""),
    ("engine.capacity", {"value": "1 L", "with": "tpe"}, 216, "no instrument 'tpe'", "'tape'"),
    ("engine.capacity", {"value": "1 L", "with": 3}, 210, "the name of an instrument", ""),
]


@each_row(("path", "value", "number", "message", "hint"), WRONG)
def test_a_wrong_value_is_named_with_its_cure(
    path: str, value: Any, number: int, message: str, hint: str
) -> None:
    (problem,) = problems(varied({path: value}, BARE))
    assert problem.code == f"CD{number}"
    assert message in problem.message
    assert hint in problem.hint
    assert problem.span is not None


def test_numbers_that_are_not_plain_are_refused_in_yaml_too() -> None:
    text = (
        "formula: dunlin\ncar: {number: '27'}\nengine: {cylinders: 3.5, compression: 11 mm, capacity: 1e3}\n"
    )
    assert [problem.code for problem in problems(text)] == ["CD210", "CD204", "CD203"]


@pytest.mark.parametrize(
    ("path", "written", "message", "hint"),
    [
        ("engine.capacity", 1298, "engine.capacity: 1298 has no unit", "write 1298 cc, or"),
        ("engine.capacity", "12 kg", "12 kg is a mass; a volume was wanted", "write it in cc, or"),
        ("car.chassis_built", "2024-11", "is only a month", "write the day too, 2024-11-01 to 2024-11-30"),
        ("car.name", " ", "nothing is written for car.name", "state a value, or take the line away"),
    ],
)
def test_the_cure_fits_what_is_wanted(path: str, written: Any, message: str, hint: str) -> None:
    (problem,) = [p for p in problems(varied({path: written}, BARE)) if path in p.message]
    assert message in problem.message
    assert problem.hint.startswith(hint)


def test_gear_that_the_file_does_not_name_is_told_apart() -> None:
    assert not stated("fuel.density", "0.745 kg/L").names_instrument
