"""What an inspection tells by a plan: the plan's own acts, at every clause that they mend, and where they take the car."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from checker.cli.planned import as_planned
from checker.report.html.one_car import figures, inspection_page
from checker.report.one_car.document import inspection_document
from checker.report.one_car.layout_data import layout_data
from checker.report.one_car.plan import plan_document
from checker.report.one_car.text import inspection_text
from checker.report.page import Page
from checker.studies.one_car.layout import layout
from checker.studies.planning.looking import Asked
from checker.studies.planning.request import plan_request
from checker.verdict.run import Request, inspect_request
from tests.building import pack_document
from tests.examples import quick_first
from tests.report.documents import valid
from tests.studies.planning.cars import M11, at

pytestmark = pytest.mark.usefixtures("at_root")

CREEPING, LIGHT = (f"samples/cars/{name}.yaml" for name in ("creeping-inside", "light-at-the-flag"))
CLAUSES = """
"1": {title: Total, text: T, check: {limit: weight.total, at_least: 648 kg, condition: as_weighed}}
"2": {title: Front, text: T, check: {limit: percentage.front, at_least: 46.9 %, condition: as_weighed}}
"3": {title: Cross, text: T, check: {limit: percentage.cross, at_least: 48 %, condition: as_weighed}}
"""


def inspected(request: Request, *, draw: bool = False) -> dict[str, Any]:
    inspection = inspect_request(request)
    document = inspection_document(inspection, layout_data(layout(inspection)))
    found: dict[str, Any] = valid(as_planned(document, inspection, request, draw=draw))
    return found


def of(tmp_path: Path, planning: dict[str, Any], **more: Any) -> Request:
    pack, car = tmp_path / "pack.yaml", tmp_path / "car.yaml"
    pack.write_text(pack_document(CLAUSES).text)
    car.write_text(json.dumps({**M11, "planning": planning, **more}))
    return Request(str(car), str(pack))


@pytest.mark.parametrize(("car", "clause"), quick_first([(CREEPING, "3.3"), (LIGHT, "3.1")], 0))
def test_a_clause_tells_what_the_plan_tells(car: str, clause: str) -> None:
    request = Request(car)
    plan = plan_document(plan_request(request, None, Asked()))
    document = inspected(request)
    (failing,) = [o for o in document["outcomes"] if o["outcome"] == "fail"]
    assert failing["clause"] == clause
    told = [(act["do"], act["what"], act["to"], act["amount"]) for act in failing["acts"]]
    assert told == [(act["do"], act["what"], act["place"], act["mass"]) for act in plan["acts"]]
    before = {one["clause"]: one["before"] for one in plan["clauses"]}
    for outcome in document["outcomes"]:
        if outcome["clause"] in before:
            judged = before[outcome["clause"]]
            assert (judged["outcome"], judged["margin"]) == (outcome["outcome"], outcome["margin"])


def test_a_what_if_says_why_no_plan_is_told(tmp_path: Path) -> None:
    things = {"places": [{"name": "nose", "at": at(200), "most": "30 kg"}]}
    request = of(tmp_path, things)
    asked = Request(request.car, request.pack, what_if=("weighing.readings[0].front_left=149 kg",))
    document = inspected(asked)
    page = Page(80)
    inspection_text(document, page)
    assert "a plan with the places and pieces under planning begins at" in " ".join(page.text().split())
    assert document["unplanned"].partition("'")[0] in inspection_page([document])
    enough = Request(request.car, request.pack, what_if=("weighing.readings[0].front_left=170 kg",))
    assert "unplanned" not in inspected(request) | inspected(enough)


def test_several_clauses_are_mended_together_and_what_only_weighing_tells_is_named(tmp_path: Path) -> None:
    things = {"places": [{"name": "nose", "at": at(200), "most": "30 kg"}]}
    document = inspected(of(tmp_path, things))
    together = document["together"]
    assert (together["enough"], together["clauses"], together["not_shown"]) == (True, ["1", "2"], ["3"])
    assert together["text"] == "bolt 8 kg of ballast at nose"
    assert [o["act"] for o in document["outcomes"][:2]] == [together["text"]] * 2


def test_what_no_plan_mends_is_told_as_ever(tmp_path: Path) -> None:
    things = {"places": [{"name": "nose", "at": at(200), "most": "3 kg"}]}
    bare = inspected(of(tmp_path, {}))
    document = inspected(of(tmp_path, things))
    assert [o["act"] for o in document["outcomes"]] == [o["act"] for o in bare["outcomes"]]
    assert document["together"] == bare["together"]


def test_only_an_entrants_own_car_is_planned_for(tmp_path: Path) -> None:
    things = {"places": [{"name": "nose", "at": at(200), "most": "30 kg"}]}
    request = of(tmp_path, things)
    for asked in (
        Request(request.car, request.pack, audience="official"),
        Request(request.car, request.pack, what_if=("car.number='8'",)),
    ):
        assert "ballast" not in inspected(asked)["outcomes"][0]["act"]


@pytest.mark.deep
def test_the_pictures_show_where_the_plan_leads() -> None:
    document = inspected(Request(CREEPING), draw=True)
    drawn = document["layout"]
    assert {key: float(drawn["planned"][key]["value"]) for key in ("inside", "rear")} == {
        "inside": 51.8992,
        "rear": 48.588,
    }
    assert drawn["reach"]["possible"]
    assert drawn["reach"]["legal"]
    above, window = figures(document)[:2]
    assert ">B1 7.5 kg<" in above.svg
    assert ">planned<" in window.svg
    assert any("planned" in row[0] for row in window.rows)
    assert "move B1, 7.5 kg, to right rail" in inspection_page([document])
