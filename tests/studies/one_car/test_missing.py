"""One list of all that a car's file lacks."""

from __future__ import annotations

from pathlib import Path

import pytest

from checker.report.one_car.document import inspection_document
from checker.report.one_car.text import inspection_text
from checker.report.page import Page
from checker.studies.one_car.missing import OF_WEIGHTS, missing, nearest
from checker.verdict.inspection import Inspection
from checker.verdict.run import Request, inspect_request
from tests.building import inspection_of, pack_of
from tests.report.documents import valid

ONLY_WHEELS = (
    "weighing: {readings: [{front_left: 158 kg, front_right: 139 kg, rear_left: 152 kg, rear_right: 138 kg}]}"
)
FACTS = "facts: {" + ", ".join(f"body.part{n}: {{unit: mm}}" for n in range(9)) + "}"
CLAUSES = "\n".join(
    [
        *(
            f'"1.{n}": {{title: Part {n}, text: W, check: {{limit: body.part{n}, at_least: 1 mm}}}}'
            for n in range(9)
        ),
        '"2": {title: Inside, text: W, check: {limit: percentage.inside, at_most: 53 %, condition: any}}',
        '"3": {title: Least, text: W, check: {limit: weight.total, at_least: 500 kg, condition: any_without_driver}}',
    ]
)


def bare(sections: str = ONLY_WHEELS) -> Inspection:
    return inspection_of(pack_of(CLAUSES, FACTS), sections)


def printed(inspection: Inspection, *, every_clause: bool = False) -> str:
    page = Page(80)
    inspection_text(valid(inspection_document(inspection)), page, every_clause=every_clause)
    return page.text()


def test_each_thing_is_named_once_and_what_the_weights_need_comes_first() -> None:
    found = missing(bare())
    names = [one.name for one in found]
    assert len(names) == len(set(names))
    sections = [one.section for one in found if one.is_of_weights]
    assert sections == sorted(sections, key=OF_WEIGHTS.index)
    assert [one.is_of_weights for one in found] == sorted((one.is_of_weights for one in found), reverse=True)
    assert next(one for one in found if one.name == "weighing.fuel").clauses == ("2", "3")


def test_what_to_state_next_settles_the_weight_clause_that_lacks_least() -> None:
    found = nearest(bare())
    assert found is not None
    assert found.clause.number == "3"


def test_nothing_is_missing_of_a_car_that_states_all() -> None:
    parts = "body: {" + ", ".join(f"part{n}: 2 mm" for n in range(9)) + "}"
    found = inspection_of(pack_of("\n".join(CLAUSES.splitlines()[:9]), FACTS), parts)
    assert missing(found) == ()
    assert nearest(found) is None


def test_a_car_of_which_only_the_wheels_are_known_gets_one_screen() -> None:
    """What is known, what is not, and what to state next."""
    text = printed(bare())
    assert len(text.splitlines()) <= 45
    text = " ".join(text.split())
    assert "weighed total 587 kg, inside 52.8109 %" in text
    assert "as far as known: inside 52.8109 % is 0.18 % below the maximum of 53 %" in text
    assert "weighing fuel, driver, tyres" in text
    assert "fuel density, at (behind_front_axle, left_of_centre), capacity" in text
    assert "settle 3, Least" in text
    assert "is not stated " not in text.partition("TAKEN AS GIVEN")[0]


def test_with_all_every_clause_says_what_it_lacks() -> None:
    assert "body.part3 is not stated" in printed(bare(), every_clause=True)


@pytest.mark.usefixtures("at_root")
def test_by_the_dunlin_formula_it_fits_a_screen_too(tmp_path: Path) -> None:
    car = tmp_path / "bare.yaml"
    car.write_text(f'formula: dunlin\ncar: {{number: "5"}}\nevent: {{date: 2026-05-03}}\n{ONLY_WHEELS}\n')
    text = printed(inspect_request(Request(str(car))))
    assert len(text.splitlines()) <= 62
    assert "57 clauses; --all tells of each." in text
