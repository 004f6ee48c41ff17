"""The document and the text of a car in every condition."""

from __future__ import annotations

import json
from collections.abc import Callable
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest

from checker.report.one_car.condition_table import conditions_document
from checker.report.one_car.condition_text import conditions_text
from checker.report.page import Page
from checker.studies.one_car.condition_table import condition_table
from checker.studies.one_car.race import Plan, race
from checker.verdict.run import Request, inspect_request
from tests.examples import quick_first
from tests.report.documents import STORIES, sample, valid
from tests.studies.one_car.test_condition_table import FOUR, table_of
from tests.studies.one_car.test_race import followed

pytestmark = pytest.mark.usefixtures("at_root")
Golden = Callable[[str, str], None]
PLAN = Plan(Fraction(350_000), 40)


def document(name: str, plan: Plan | None = None) -> dict[str, Any]:
    inspection = sample(name)
    found = conditions_document(condition_table(inspection), race(inspection, plan) if plan else None)
    return valid(found)


def printed(found: dict[str, Any], width: int = 80, *, every_corner: bool = False) -> str:
    page = Page(width)
    conditions_text(found, page, every_corner=every_corner)
    return page.text()


@pytest.mark.parametrize("name", quick_first(STORIES, 1))
def test_every_sample_has_a_document_that_is_plain_data(name: str) -> None:
    found = document(name)
    assert json.loads(json.dumps(found)) == found
    assert len(found["corners"]) == 16


def test_the_stories_read_as_accepted(golden: Golden) -> None:
    golden("conditions-light-at-the-flag.txt", printed(document("light-at-the-flag", PLAN)))
    golden("conditions-creeping-inside.txt", printed(document("creeping-inside")))
    golden("conditions-all.txt", printed(document("legal"), every_corner=True))
    golden("conditions-narrow.txt", printed(document("creeping-inside", PLAN), 40))


def test_what_a_racer_sees_fits_a_screen_and_says_what_to_do() -> None:
    text = printed(document("light-at-the-flag"), 100)
    assert len(text.splitlines()) <= 45
    assert "fails with less than 4.61 L on board, driver out, dry tyres, worn" in text
    assert "do: add 4.5 kg" in text
    text = printed(document("creeping-inside"), 100)
    assert "fails with less than 11.25 L on board, driver out, dry tyres, worn" in text


def test_fuel_that_is_needed_is_rounded_up() -> None:
    """686/149 L are 4.604 L: with 4.60 L the car would be a gram light."""
    found = document("light-at-the-flag", PLAN)
    assert [f["fuel"]["value"] for f in found["finish"]] == ["4.61", "0.58"]
    assert found["crossings"][1]["fuel"] == {"value": "4.61", "exact": "686/149", "unit": "L"}
    assert found["race"]["least_start"]["value"] == "18.61"


def test_no_amount_and_what_is_not_shown_are_said() -> None:
    text = printed(conditions_document(table_of("651"), followed("0.4", 10, minimum="651")))
    assert "no amount of fuel is enough: clause 1" in text
    assert "However much is carried at the start, clause 1 fails on the way" in text
    text = printed(conditions_document(table_of(reading="{front: 298 kg, rear: 342 kg}")))
    assert "inside   not known in every condition: the weighing gives only front and rear" in text
    assert [line.split()[0] for line in text.splitlines() if line.endswith("  not declared")] == ["2"]


def test_each_weight_names_what_it_lacks_itself(tmp_path: Path) -> None:
    """A total needs no place of the tank."""
    text = Path("samples/cars/legal.yaml").read_text(encoding="utf-8")
    for taken in (", at: {behind_front_axle: 1760 mm, right_of_centre: 60 mm}", "front_left: 0.4 kg, "):
        assert taken in text
        text = text.replace(taken, "")
    (tmp_path / "car.yaml").write_text(text, encoding="utf-8")
    table = condition_table(inspect_request(Request(str(tmp_path / "car.yaml"))))
    told = " ".join(printed(valid(conditions_document(table))).split())
    total, _, rest = told.partition("inside not known in every condition: ")
    assert "1 wear.front_left 2 fuel.at.left_of_centre 3 fuel.at.behind_front_axle" in total
    assert "total not known in every condition: needs 1 of what is not stated" in total
    assert rest.startswith("needs 1 and 2 of what is not stated")
    assert "rear not known in every condition: needs 1 and 3 of what is not stated" in rest


def test_a_run_on_less_than_is_needed_is_said_to_be_one() -> None:
    text = printed(conditions_document(table_of("636"), followed("1", 20)))
    assert "Start with at least 23.34 L on dry tyres, or clause 1 fails on the way." in text
    assert "The run below starts with 20.00 L." in text
    text = printed(conditions_document(table_of("636"), followed("0.4", 10, "1")))
    assert "The fuel gives out on lap 3." in text


def test_a_pack_without_such_clauses_says_so() -> None:
    from tests.building import inspection_of, pack_of
    from tests.studies.one_car.test_condition_table import CAR, FOUR

    pack = pack_of(
        '"1": {title: T, text: W, check: {limit: weight.total, at_least: 1 kg, condition: as_weighed}}'
    )
    table = condition_table(inspection_of(pack, CAR.replace("READING", FOUR)))
    assert "No clause of this pack looks at weights in a range of conditions." in printed(
        conditions_document(table)
    )


def test_nothing_is_said_of_the_fuel_of_a_car_of_which_nothing_is_known() -> None:
    """No least amount, no start, no run of figures that are not known: what is lacking, in few words."""
    from tests.building import inspection_of, pack_of
    from tests.studies.one_car.test_condition_table import CLAUSES

    inspection = inspection_of(
        pack_of(CLAUSES.replace("MINIMUM", "600")), f"weighing: {{readings: [{FOUR}]}}"
    )
    found = valid(conditions_document(condition_table(inspection), race(inspection, PLAN)))
    assert found["finish"][0]["fuel"] is None
    assert found["finish"][0]["not_shown"]
    assert found["race"]["least_start"] is None
    assert found["race"]["legal"] is None
    text = printed(found)
    assert "as weighed   not known: " in text
    assert "With how much to start is not known" in text
    assert " L, " not in text.partition("FUEL TO FINISH")[2]
    assert "unusable rest" not in text
