"""A car read quickly, among others that said much the same, is the car read strictly by itself; so are its problems."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import fields
from typing import Any

import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st

from checker.car.car import Car
from checker.car.declaration.loading import load_car
from checker.car.described.stated import Entry
from checker.car.described.vocabulary import Vocabulary
from checker.pack.editions.loading import load_edition
from checker.quantities.days import parse_day
from checker.reading.marks import Whereabouts
from checker.reading.problems import InputError
from checker.reading.strict_yaml import parse_document, parse_quickly
from checker.verdict.run import dated
from tests import fleet
from tests.conftest import ROOT
from tests.examples import examples

FRESH, REMEMBERING = (
    load_edition(str(ROOT / "rulepacks" / "dunlin" / "2026.1.yaml")).vocabulary for _ in "ab"
)
CARS = sorted((ROOT / "samples" / "cars").glob("*.yaml"))
TEXTS = [
    *(file.read_text(encoding="utf-8") for file in CARS),
    *(json.dumps(car) for car in fleet.cars(4, seed=5)),
]
DAY = parse_day("2026-07-05")


def read(text: str, vocabulary: Vocabulary, parse: Any) -> Any:
    """All that a car is, or what is wrong with its file."""
    try:
        return _told(load_car(dated(parse(text.encode(), "car.yaml", "CD"), DAY), vocabulary))
    except InputError as error:
        return error.problems


def _told(part: Any) -> Any:
    """A car's parts with their kinds and places, without what is remembered of them."""
    if isinstance(part, Car | Entry):
        left_out = ("vocabulary", "_kept", "_own", "_any_day", "of_errors", "parent")
        return {
            field.name: _told(getattr(part, field.name))
            for field in fields(part)
            if field.name not in left_out
        }
    if isinstance(part, Whereabouts):
        return part.span
    if callable(part):
        return _told(part())  # what is to be told beside a verdict
    if isinstance(part, Mapping):
        return [(key, _told(value)) for key, value in part.items()]
    if isinstance(part, tuple | list):
        return type(part).__name__, *map(_told, part)
    return type(part).__name__, part


def is_same(text: str) -> bool:
    """Whether it makes no difference how it was read, nor what was read before."""
    FRESH.remembered.clear()
    strictly = read(text, FRESH, parse_document)
    return bool(read(text, REMEMBERING, parse_quickly) == strictly == read(text, REMEMBERING, parse_quickly))


@pytest.mark.parametrize("text", TEXTS, ids=[*(file.stem for file in CARS), *map(str, range(4))])
def test_a_sound_car_is_the_same(text: str) -> None:
    assert is_same(text)


ODD_VALUES: tuple[Any, ...] = (
    *(None, True, False, 0, 1, 16, 1.5, 1.0, -1, 10**6, "", " ", "0", "1", "true", "07", "1.5", "x" * 600),
    *(
        "0 kg",
        "12 kg",
        "-12 kg",
        "12",
        "12 kgs",
        "12 mm",
        "1 200 mm",
        "0.5 L",
        "3 %",
        "310.00 GBP",
        "9999999 kg",
    ),
    *(
        "2026-03-01",
        "2026-03",
        "2026",
        "2026-13-01",
        "2026-02-30",
        "2031-01-01",
        "dry",
        "Dry",
        "winter",
        "tape",
    ),
    *(
        [],
        {},
        ["12 mm"],
        ["12 mm", None],
        {"value": "12 mm"},
        {"value": "12 kg", "with": "tape"},
        {"with": "nothing"},
    ),
    *(
        {"value": "1700 mm", "uncertainty": "1 mm"},
        {"behind_front_axle": "1 m"},
        {"ahead_of_rear_axle": "300 mm"},
    ),
)


@st.composite
def slips(draw: st.DrawFn) -> Any:
    """A car of the fleet with a few things written wrongly, or otherwise."""
    made = json.loads(draw(st.sampled_from([text for text in TEXTS if text[0] == "{"])))
    for _ in range(draw(st.integers(1, 3))):
        inside = made
        while True:
            key = draw(st.sampled_from(list(inside) if isinstance(inside, dict) else range(len(inside))))
            if not isinstance(inside[key], dict | list) or not inside[key] or draw(st.integers(0, 7)) == 0:
                break
            inside = inside[key]
        match draw(st.sampled_from(["value", "value", "value", "gone", "key", "twice"])):
            case "value":
                inside[key] = draw(st.sampled_from(ODD_VALUES))
            case "gone" if len(inside) > 1:
                del inside[key]
            case "key" if isinstance(inside, dict):
                inside[draw(st.sampled_from([f"{key}s", key[1:], "mass", "at", "count", "unit"]))] = (
                    inside.pop(key)
                )
            case "twice" if isinstance(inside, list):
                inside.append(inside[key])
            case _:
                pass
    return made


@pytest.mark.deep
@given(slips())
@examples(400)
def test_a_car_with_slips_is_the_same_or_has_the_same_problems(car: Any) -> None:
    assert is_same(json.dumps(car))
    assert is_same(yaml.dump(car, Dumper=yaml.CSafeDumper, sort_keys=False, width=120))


def test_true_is_not_one_and_quotes_tell_text_from_numbers() -> None:
    one = {"formula": "dunlin", "car": {"number": "1", "novel_design": True}, "engine": {"capacity": "1 L"}}
    for novel in (True, 1, "true", 1.0, False, 0):
        for number in ("1", 1, True, 1.0):
            assert is_same(json.dumps({**one, "car": {"number": number, "novel_design": novel}}))
