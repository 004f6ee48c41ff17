"""What a plan cannot be made of, or not wholly, is said: never a plan that holds by chance, never silence."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Any

from checker.car.declaration.loading import load_car
from checker.kinds.judging.assessment import DISPENSATION
from checker.pack.editions.approvals import read_register
from checker.reading.strict_yaml import parse_document
from checker.report.one_car.plan import plan_document
from checker.report.one_car.plan_text import plan_text
from checker.report.page import Page
from checker.report.words.remarks import car_warnings
from checker.studies.planning.planner import WeightPlan
from checker.studies.planning.program import Status
from checker.studies.planning.request import with_its_shelf
from tests.building import DAY
from tests.report.documents import valid
from tests.studies.planning.cars import M11, at, car, done, planned, rules

TOTAL = "{limit: weight.total, at_least: 645 kg, condition: as_weighed}"
FRONT = "{limit: percentage.front, at_least: 60 %, condition: as_weighed}"
THINGS: dict[str, Any] = {
    "places": [{"name": "nose", "at": at(300)}],
    "shelf": [{"label": "S", "mass": "2.5 kg", "count": 4}],
}


def told(plan: WeightPlan) -> str:
    page = Page(80)
    plan_text(valid(plan_document(plan)), page)
    return " ".join(page.text().split())


def test_a_clause_that_an_approval_frees_is_not_held_to_and_is_named() -> None:
    pack = rules(TOTAL, FRONT)
    register = b'approvals: [{reference: A-1, clauses: ["2"], cars: ["7"], until: 2026-12-31, reason: Old}]'
    free = replace(pack, approvals=read_register(parse_document(register, "approvals.yaml", "PK"), pack, DAY))
    bound = planned(free, car(THINGS))
    assert bound.status is Status.INFEASIBLE  # 60 % on the front is beyond any ballast there is
    found = planned(free, car(THINGS, approvals=["A-1"]))
    assert done(found) == [("add", "S", "nose", 2.0)]
    assert [(o.clause.number, o.outcome) for o in found.freed] == [("2", DISPENSATION)]
    assert "clause 2 is freed by approval A-1 and not held to" in told(found)
    assert [one["clause"] for one in plan_document(found)["clauses"]] == ["1", "2"]


def test_places_of_a_shelf_that_lie_off_the_car_are_warned_of(tmp_path: Path) -> None:
    document = car({})
    shelf = tmp_path / "shelf.yaml"
    shelf.write_text("places: [{name: trailer, at: {behind_front_axle: 6000 mm, left_of_centre: 1200 mm}}]")
    loaded = with_its_shelf(document, load_car(document, rules(TOTAL).vocabulary), str(shelf))
    found = car_warnings(loaded)
    assert [one.code for one in found] == ["SH219", "SH219"]
    assert all("trailer" in one.message and one.span and one.span.file == str(shelf) for one in found)


def test_a_cap_that_is_broken_already_is_told_as_what_is_at_odds() -> None:
    ballast = [{"label": "B1", "mass": "20 kg", "at": at(1200)}]
    cap = "{limit: sum(b.mass for b in ballast), at_most: 15 kg}"
    found = planned(rules(TOTAL, cap), car(THINGS, ballast=ballast))
    assert (found.status, found.conflict) == (Status.INFEASIBLE, ("clause 2",))
    assert "Clause 2 cannot be met by anything that may be done." in told(found)
    mended = planned(rules(TOTAL, cap), car({**THINGS, "may_come_off": ["B1"]}, ballast=ballast))
    assert mended.status is Status.INFEASIBLE  # 20 kg off and 10 kg on are less than 645 kg
    assert mended.conflict == ("clause 1", "clause 2")


def test_a_window_that_the_gear_cannot_resolve_is_told() -> None:
    window = "{limit: weight.total, at_least: 642 kg, at_most: 643 kg, condition: as_weighed}"
    gear = {
        "instruments": {"pads": {"resolution": "5 kg"}},
        "weighing": {**M11["weighing"], "instrument": "pads"},
    }
    found = planned(rules(window), car(THINGS, **gear))
    assert found.status is Status.INFEASIBLE
    assert [one.clause for one in found.unresolvable] == ["1"]
    assert "clause 1: the window is narrower than measuring error to both sides" in told(found)


def test_no_piece_is_placed_where_a_piece_may_not_be() -> None:
    heavy = {**THINGS, "places": [{"name": "nose", "at": at(300), "most": "2 kg"}]}
    found = planned(rules(TOTAL), car(heavy))
    assert found.status is Status.INFEASIBLE
    assert "It would be enough for nose to carry 5 kg, 3 kg more, and then to bolt 2 x S" in told(found)
    assert "Or it would be enough to carry 5 kg at nose beyond what is said to be there." in told(found)
