"""What is not stated is never planned around: a clause that cannot be judged is named, with what it lacks."""

from __future__ import annotations

import json
from typing import Any

import pytest

from checker.car.declaration.loading import load_car
from checker.reading.strict_yaml import parse_document
from checker.report.one_car.plan import plan_document
from checker.report.one_car.plan_text import plan_text
from checker.report.one_car.reach import reach_document, reach_figure, reach_text
from checker.report.page import Page
from checker.studies.planning.mending import mending
from checker.studies.planning.planner import WeightPlan
from checker.studies.planning.program import Status
from checker.studies.planning.reach import reach
from tests.building import DAY
from tests.examples import quick_first
from tests.report.documents import valid
from tests.studies.planning.cars import M11, at, car, planned, rules

THINGS: dict[str, Any] = {
    "places": [{"name": "nose", "at": at(300)}],
    "shelf": [{"label": "lead", "mass": "1 kg", "count": 30}],
    "may_come_off": ["B1"],
}
BALLAST = [{"label": "B1", "mass": "2 kg", "at": at(1000)}]
ANY = rules(
    "{limit: weight.total, at_least: 640 kg, condition: any_without_driver}",
    "{limit: percentage.left, at_most: 55 %, condition: any}",
    "{limit: percentage.front, at_most: 50 %, condition: any}",
)


def without(path: str) -> WeightPlan:
    """The plan of the car whose declaration lacks one thing."""
    data: dict[str, Any] = json.loads(json.dumps({**M11, "ballast": BALLAST, "planning": THINGS}))
    *sections, last = path.split(".")
    part = data
    for name in sections:
        part = part[name]
    del part[last]
    return planned(ANY, parse_document(json.dumps(data).encode(), "car.yaml", "CD"))


def words_of(plan: WeightPlan) -> str:
    page = Page(80)
    plan_text(valid(plan_document(plan)), page)
    return " ".join(page.text().split())


FACTS = (
    "fuel.capacity",
    "fuel.density",
    "fuel.at",
    "tyres",
    "tyres.dry",
    "driver",
    "driver.mass",
    "driver.at",
)


@pytest.mark.parametrize("path", quick_first(FACTS, 2))
def test_no_plan_rests_on_what_is_not_stated(path: str) -> None:
    plan = without(path)
    lacking = [one.clause for one in plan.declined if one.not_shown]
    assert lacking
    assert (plan.found, plan.status, plan.is_lacking) == (None, Status.NOT_SHOWN, True)
    words = words_of(plan)
    assert "cannot be planned for: " in words
    assert (
        path.partition(".")[0] in words.partition("cannot be planned for: ")[2].partition("State what is")[0]
    )
    for never in ("Nothing: the car meets", "whatever is moved", "was not planned by"):
        assert never not in words
    found = reach(plan, 10)
    assert (found.legal, found.planned) == ((), None)
    assert found.possible
    page = Page(80)
    reach_text(valid(reach_document(found)), page)
    assert "LEGAL, CLEAR OF MEASURING ERROR Not known. " in " ".join(page.text().split())
    assert "what of it is legal is not known" in reach_figure(reach_document(found)).svg


def test_with_everything_stated_it_is_planned_for() -> None:
    plan = planned(ANY, car(THINGS, ballast=BALLAST))
    assert plan.found is not None
    assert plan.found.inspection.complies


@pytest.mark.parametrize(
    "check",
    [
        "{limit: percentage.cross, at_most: 40 %, condition: as_weighed}",
        "{limit: weight.front * weight.rear / 1 kg, at_least: 900000 kg, condition: as_weighed}",
    ],
)
def test_what_no_plan_can_follow_is_neither_met_nor_beyond_mending(check: str) -> None:
    document = car({"places": THINGS["places"], "shelf": THINGS["shelf"]})
    plan = planned(rules(check), document)
    words = words_of(plan)
    assert (
        "Nothing: the car meets every clause that could be planned for as it is, but not clause 1." in words
    )
    assert "clause 1 was not planned by: " in words
    assert "whatever is moved" not in words
    page = Page(80)
    reach_text(valid(reach_document(reach(plan, 10))), page)
    told = " ".join(page.text().split())
    assert "clause 1 could not be followed" in reach_figure(reach_document(reach(plan, 10))).svg
    assert "LEGAL BY WHAT CAN BE PLANNED FOR, CLEAR OF MEASURING ERROR" in told
    assert "clause 1 was not planned by: " in told
    pack = rules(check)
    assert mending(pack, document, load_car(document, pack.vocabulary), DAY) is None


def test_what_is_left_out_for_what_is_not_stated_is_not_said_to_be_of_no_use() -> None:
    pack = rules("{limit: weight.total, at_most: 639 kg, condition: as_weighed}")
    things = {"may_come_off": ["B1"]}
    assert planned(pack, car(things, ballast=BALLAST)).found is not None
    plan = planned(pack, car(things, ballast=[{"label": "B1", "at": at(1000)}]))
    words = words_of(plan)
    assert "NOTHING THAT COULD BE RECKONED WITH IS ENOUGH" in words
    assert "B1 is left out: B1: mass is not stated" in words
    assert "that may be done" not in words
    page = Page(80)
    reach_text(valid(reach_document(reach(plan, 10))), page)
    told = " ".join(page.text().split())
    assert "BY ALL THAT COULD BE RECKONED WITH" in told
    assert "B1 is left out: B1: mass is not stated" in told
