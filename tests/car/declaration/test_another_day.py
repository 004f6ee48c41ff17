"""A car for a later day without reading it again: it is the one that would be read."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

import pytest

from checker.car.car import Car
from checker.car.declaration.another_day import on_later_day
from checker.car.declaration.loading import load_car
from checker.car.described.stated import DAY_JUDGED
from checker.pack.editions.loading import load_edition
from checker.reading.document import Document, Edit, Plain
from checker.reading.strict_yaml import read_document
from checker.verdict.inspection import inspect_car
from checker.verdict.run import dated
from tests.conftest import ROOT
from tests.examples import quick_first

PACK = load_edition(str(ROOT / "rulepacks/dunlin/2026.1.yaml"))
DAY = date(2026, 5, 3)
LEGAL = "samples/cars/legal.yaml"
CARS = sorted(file.relative_to(ROOT) for file in (ROOT / "samples" / "cars").glob("*.yaml"))


def read(file: Any, on: date, *edits: Edit) -> tuple[Car, Document]:
    document = read_document(ROOT / file, "CD").edited(edits, "CD199")
    return load_car(dated(document, on), PACK.vocabulary), document


def judged(car: Car, on: date) -> list[Any]:
    found = inspect_car(PACK, car, on, "entrant").outcomes
    return [(one.clause.number, one.outcome, one.assessment.margin, one.assessment.finding) for one in found]


@pytest.mark.parametrize("file", quick_first(CARS))
@pytest.mark.parametrize("days", quick_first([60, 1, 400], 1))
def test_it_is_judged_as_the_one_that_is_read(file: Any, days: int) -> None:
    """Also where much has been worked out of the first car already."""
    own = date.fromisoformat(str(read_document(ROOT / file, "CD").get(("event", "date"))))
    (now, document), then = read(file, own), own + timedelta(days=days)
    judged(now, own)
    later = on_later_day(now, document, then)
    dated_gear = any(gear.calibrated or gear.calibrated_until for gear in now.instruments.values())
    assert (later is None) == (document.has(("checks",)) or dated_gear)
    if later is None:
        return
    anew, _ = read(file, then)
    assert judged(later, then) == judged(anew, then)
    others = [{name: one for name, one in car.facts.items() if name != DAY_JUDGED} for car in (later, anew)]
    assert others[0] == others[1]
    assert (later.notes(), later.warnings) == (anew.notes(), anew.warnings)
    assert later.value(DAY_JUDGED) == then


def test_an_earlier_day_is_read() -> None:
    assert on_later_day(*read(LEGAL, DAY), DAY - timedelta(days=1)) is None


def test_what_has_not_happened_yet_is_read_again() -> None:
    tomorrow = Edit(("car", "chassis_built"), (DAY + timedelta(days=1)).isoformat())
    assert on_later_day(*read(LEGAL, DAY, tomorrow), DAY + timedelta(days=2)) is None


def test_calibration_that_may_run_out_is_looked_at_again() -> None:
    scales: Plain = {"calibrated_until": "2026-05-04", "resolution": "0.5 kg"}
    pads = Edit(("instruments",), {"my pads": scales})
    assert on_later_day(*read(LEGAL, DAY, pads), DAY + timedelta(days=2)) is None


def test_a_check_of_gear_may_be_of_a_day_to_come() -> None:
    checks: Plain = [{"instrument": "home pads", "when": "2026-05-04", "loads": {}}]
    car, document = read(LEGAL, DAY)
    stated = document.edited([Edit(("checks",), checks)], "CD199")
    assert on_later_day(car, stated, DAY + timedelta(days=2)) is None
