"""A car for another text of the rules without reading it again: it is the one that would be read."""

from __future__ import annotations

import json
from dataclasses import fields
from random import Random
from typing import Any

import pytest

from checker.car.car import Car
from checker.car.declaration.another_text import AnotherText
from checker.car.declaration.loading import load_car
from checker.car.described.standard import WHEELS
from checker.pack.editions.loading import load_edition
from checker.pack.model import Pack
from checker.reading.document import Document
from checker.reading.problems import InputError
from checker.reading.strict_yaml import parse_document
from checker.verdict.filtered import told_by_floats
from checker.verdict.inspection import inspect_car
from tests import fleet
from tests.conftest import ROOT
from tests.examples import quick_first
from tests.studies.change.test_floats_first import spoilt
from tests.studies.packs import DAY, car_document, pack

EDITIONS = [load_edition(str(ROOT / f"rulepacks/dunlin/{name}.yaml")) for name in ("2025.1", "2026.1")]
SCALES: dict[str, Any] = {"instruments.pads": {"resolution": "0.5 kg", "permissible_error": "0.5 kg"}}
GEAR: dict[str, Any] = {"gear": {"weighed_with": "pads", "floor_out_of_level": "0.3 deg"}}
PADS = SCALES | GEAR
OUT = {"instruments.pads": {"resolution": "0.5 kg", "offset": {"front_left": "0.5 kg"}}}
TAPE = {'facts."frame.width"': {"unit": "mm", "measured_with": "tape", "range": ["1 m", "2 m"]}}


def carried(car: Document, now: Pack, then: Pack, audience: str = "entrant") -> tuple[Car | None, Car]:
    """The car as it is handed over, and the one it was read as, of which much has been worked out already."""
    read = load_car(car, now.vocabulary, audience=audience)
    inspect_car(now, read, DAY, audience)
    told_by_floats(now, read, DAY, audience)
    return AnotherText(now.vocabulary, then.vocabulary).car(read, car, audience), read


def held(car: Document, now: Pack, then: Pack, audience: str = "entrant") -> bool:
    """Whether a car was handed over; then it is the one that is read."""
    found, _ = carried(car, now, then, audience)
    if found is None:
        return False
    anew = load_car(car, then.vocabulary, audience=audience)
    for name in (
        field.name for field in fields(Car) if field.init and field.name not in ("notes", "all_entries")
    ):
        assert getattr(found, name) == getattr(anew, name), name
    assert [*found.facts] == [*anew.facts]
    assert found.notes() == anew.notes()
    for one, other in zip(
        *(inspect_car(then, its, DAY, audience).outcomes for its in (found, anew)), strict=True
    ):
        assert (one.outcome, one.assessment.margin, one.assessment.spread) == (
            other.outcome,
            other.assessment.margin,
            other.assessment.spread,
        )
    in_floats = [told_by_floats(then, its, DAY, audience) for its in (found, anew)]
    told = [{number: (one.outcome, one.bounds) for number, one in its.items()} for its in in_floats]
    assert told[0] == told[1]
    return True


@pytest.mark.parametrize("audience", ["entrant", "official"])
@pytest.mark.parametrize("seed", quick_first([*range(6)], 1))
def test_it_is_the_one_that_is_read(seed: int, audience: str) -> None:
    """Of the sample pack's editions: what is counted and measured otherwise, both ways."""
    number = 0
    for place, car in enumerate(fleet.cars(3, seed)):
        made = spoilt(car, Random(f"{seed} {place}")) if place else car
        document = parse_document(json.dumps(made).encode(), "fleet.jsonl", "CD")
        try:
            number += sum(held(document, now, then, audience) for now, then in (EDITIONS, EDITIONS[::-1]))
        except InputError:
            continue
    assert number


@pytest.mark.parametrize(
    ("now", "then", "car", "handed_over"),
    [
        ({}, TAPE, {}, True),
        (TAPE, {}, {}, True),
        (TAPE, {}, {"frame.width": {"value": "1390 mm", "with": "tape"}}, True),
        (TAPE, {}, {"frame.width": {"value": "1390 mm", "uncertainty": "1 mm"}}, False),
        ({}, TAPE, {"frame.width": "2.1 m"}, False),
        (SCALES, PADS, {}, True),
        (PADS, SCALES, {}, True),
        (PADS, SCALES, {"weighing.instrument": "pads"}, True),
        (SCALES, PADS, {"weighing.readings": None}, True),
        (OUT, OUT | GEAR, {}, False),
        (OUT | GEAR, OUT, {}, False),
        ({}, {'facts."frame.height"': {"unit": "mm"}}, {}, True),
        ({'facts."frame.height"': {"unit": "mm"}}, {}, {"frame.height": "1 m"}, False),
        ({}, {'facts."frame.height"': {"unit": "mm", "default": "1 m"}}, {}, False),
        ({}, {'facts."frame.length"': {"unit": "mm", "range": ["1 m", "2 m"]}}, {}, True),
        ({}, {'facts."engine.capacity".default': "110 cc"}, {}, False),
        ({'facts."wing.height"': {"unit": "mm"}}, {}, {"wing": {}}, False),
    ],
)
def test_what_differs_is_handed_over_where_it_is_read_alike(
    now: dict[str, Any], then: dict[str, Any], car: dict[str, Any], handed_over: bool
) -> None:
    assert held(car_document(car), pack(now), pack(then)) == handed_over


def test_checks_of_gear_are_read_again() -> None:
    checks: list[Any] = [
        {"instrument": "pads", "when": "2026-05-01 08:00", "zero": dict.fromkeys(WHEELS, "0 kg")}
    ]
    found, _ = carried(car_document({"checks": checks}), pack(PADS), pack(SCALES))
    assert found is None
