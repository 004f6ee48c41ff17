"""What a list tells of a car is what the document of its whole inspection tells, where floats tell much and nothing."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest

from checker.car.declaration.loading import load_car
from checker.cli.editions import edition_named
from checker.reading.document import Document
from checker.reading.problems import InputError
from checker.reading.strict_yaml import read_document
from checker.report.one_car.document import inspection_document
from checker.report.one_car.fleet import row_document
from checker.report.words.remarks import car_warnings
from checker.studies.fleet.glance import glance
from checker.verdict.inspection import inspect_car
from checker.verdict.run import dated
from tests.conftest import ROOT
from tests.examples import quick_first
from tests.studies.change.test_floats_first import documents
from tests.studies.change.test_judged_once import dunlin_cars
from tests.unfiltered import filter_closed

DAY = date(2026, 7, 5)
SAMPLES = sorted((ROOT / "samples/cars").iterdir())


def held_to_the_whole(document: Document, audience: str) -> bool:
    """Whether the car can be read; then what is told of it at a glance is held to its whole document."""
    pack = edition_named(f"{ROOT}/rulepacks/dunlin@{DAY}", DAY)
    try:
        car = load_car(dated(document, DAY), pack.vocabulary, audience=audience)
    except InputError:
        return False
    seen = glance(pack, car, DAY, audience, ("a=1",))
    inspection = inspect_car(pack, car, DAY, audience, ("a=1",))
    assert (seen.complies, car_warnings(seen.car)) == (inspection.complies, car_warnings(inspection.car))
    told = row_document(seen)
    assert told == shortened(inspection_document(inspection), told)
    with filter_closed():
        again = load_car(dated(document, DAY), pack.vocabulary, audience=audience)
        assert row_document(glance(pack, again, DAY, audience, ("a=1",))) == told
    return True


def shortened(whole: Any, to: Any) -> Any:
    """The keys of a document that a shorter one has, with what is most pressing alone."""
    first = whole["most_pressing"][:1]
    outcomes = [outcome for outcome in whole["outcomes"] if outcome["clause"] in first]
    part = {**whole, "most_pressing": first, "car": {key: whole["car"][key] for key in to["car"]}}
    part["outcomes"] = [
        {key: outcome[key] for key in like} for outcome, like in zip(outcomes, to["outcomes"], strict=True)
    ]
    return {key: part[key] for key in to}


@pytest.mark.parametrize("audience", ["entrant", "official"])
@pytest.mark.parametrize("sample", quick_first(SAMPLES, quick=1))
def test_sample_cars(sample: Any, audience: str) -> None:
    assert held_to_the_whole(read_document(sample, "CD"), audience)


@pytest.mark.parametrize("seed", quick_first(range(4), quick=0))
def test_a_fleet_with_spoilt_cars(seed: int) -> None:
    read = [
        held_to_the_whole(car, audience)
        for audience in ("entrant", "official")
        for car in documents(2 if seed == 0 else 20, seed)
    ]
    assert any(read)


@pytest.mark.deep
def test_cars_that_cite_approvals() -> None:
    assert all(held_to_the_whole(car, "official") for car in dunlin_cars(20))
