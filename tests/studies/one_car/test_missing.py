"""One list of all that a car's file lacks."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from checker.pack.editions.finding import open_folder
from checker.pack.keeping.kept import pack_on
from checker.reading.problems import InputError
from checker.report.one_car.blank import blank_declaration
from checker.report.one_car.document import inspection_document
from checker.report.one_car.text import inspection_text
from checker.report.page import Page
from checker.studies.one_car.missing import OF_WEIGHTS, missing, nearest, steps
from checker.verdict.inspection import Inspection
from checker.verdict.run import Request, inspect_request
from tests.building import inspection_of, pack_of
from tests.examples import quick_first
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
    assert len(text.splitlines()) <= 30
    text = " ".join(text.split())
    assert "weighed total 587 kg, inside 52.8109 %" in text
    assert "2 inside 52.8109 % is 0.18 % below the maximum of 53 %" in text
    assert "weighing, fuel, driver, tyres, wear, dimensions; then body" in text
    assert "MEASURE NEXT 3 Least: weighing fuel, driver, tyres; fuel density, capacity" in text
    assert "wear of each wheel" in text


def test_with_all_every_clause_says_what_it_lacks_and_each_thing_is_named_once() -> None:
    text = " ".join(printed(bare(), every_clause=True).split())
    assert "body.part3 is not stated" in text
    assert "fuel density, at (behind_front_axle, left_of_centre), capacity" in text


def test_what_the_steps_tell_settles_their_clauses() -> None:
    """What a step names beside those before it is all that its clause lacks."""
    told: set[str] = set()
    for step in steps(bare()):
        told.update(step.missing)
        assert set(step.outcome.assessment.unknown.absent) <= told


def test_a_car_of_which_most_is_known_is_not_told_in_a_sketch() -> None:
    many = "\n".join(
        f'"4.{n}": {{title: Wheelbase {n}, text: W, check: {{limit: dimensions.wheelbase_left, at_least: 1 m}}}}'
        for n in range(12)
    )
    text = printed(inspection_of(pack_of(f"{CLAUSES}\n{many}", FACTS), "dimensions: {wheelbase_left: 2 m}"))
    assert "CLOSEST TO THE LIMIT" in text
    assert "ASSUMED" in text
    assert "NOT STATED, WEIGHTS FIRST" in text
    assert "MEASURE NEXT" not in text


def test_a_sketch_too_names_what_is_closest_to_its_limit() -> None:
    """Who has stated weights alone learns that the next kilogram is one too many."""
    clause = '"4.0": {title: Wheelbase, text: W, check: {limit: dimensions.wheelbase_left, at_least: 1 m}}'
    text = printed(
        inspection_of(pack_of(f"{CLAUSES}\n{clause}", FACTS), "dimensions: {wheelbase_left: 1001 mm}")
    )
    assert "MEASURE NEXT" in text
    assert "4.0  Wheelbase" in text.partition("CLOSEST TO THE LIMIT")[2]


@pytest.mark.usefixtures("at_root")
def test_by_the_dunlin_formula_it_fits_a_screen_too(tmp_path: Path) -> None:
    car = tmp_path / "bare.yaml"
    car.write_text(f'formula: dunlin\ncar: {{number: "5"}}\nevent: {{date: 2026-05-03}}\n{ONLY_WHEELS}\n')
    text = printed(inspect_request(Request(str(car))))
    assert 24 <= len(text.splitlines()) <= 30
    assert "57 clauses are not declared" in " ".join(text.split())


@pytest.mark.usefixtures("at_root")
@pytest.mark.parametrize("on", quick_first(["2025-05-03", "2026-05-03", "2026-07-05"], 1))
def test_an_untouched_blank_is_judged(tmp_path: Path, on: str) -> None:
    """Nothing of it is shown, and one screen says what to measure first."""
    car = tmp_path / "blank.yaml"
    car.write_text(blank_declaration(pack_on(open_folder("rulepacks/dunlin"), date.fromisoformat(on))))
    found = inspect_request(Request(str(car), on=on))
    assert found.complies is None
    assert {o.outcome for o in found.outcomes if o.assessment.margin is None} == {
        "not_shown",
        "not_applicable",
    }
    text = printed(found)
    assert len(text.splitlines()) <= 30
    assert "CAR WITHOUT A NUMBER" in text
    assert "its number is not stated" in " ".join(text.split())
    with pytest.raises(InputError) as caught:
        inspect_request(Request(str(car), on=on, audience="official"))
    assert [problem.code for problem in caught.value.problems] == ["CD212"]


def test_a_car_without_a_number_never_complies() -> None:
    parts = "body: {" + ", ".join(f"part{n}: 2 mm" for n in range(9)) + "}"
    pack = pack_of("\n".join(CLAUSES.splitlines()[:9]), FACTS)
    assert inspection_of(pack, parts).complies
    nameless = inspection_of(pack, f'car: {{number: " "}}\n{parts}')
    assert nameless.complies is None
    assert "nothing fails, but its number is not stated" in " ".join(printed(nameless).split())
