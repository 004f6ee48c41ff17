"""A plan for a race: fuel to start with so that the car is legal from start to flag, held to the race as it is followed."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.car.declaration.loading import load_car
from checker.pack.model import Pack
from checker.reading.document import Document
from checker.reading.problems import InputError
from checker.reading.strict_yaml import parse_document
from checker.report.one_car.plan import plan_document
from checker.report.one_car.plan_text import plan_text
from checker.report.page import Page
from checker.studies.one_car.race import Plan, race
from checker.studies.planning.aims import Aim
from checker.studies.planning.planner import WeightPlan
from checker.studies.planning.program import Status
from checker.verdict.inspection import inspect_car
from tests.building import DAY
from tests.examples import examples
from tests.report.documents import valid
from tests.studies.planning.cars import at, car, done, planned, rules

LITRE = 10**6
RACE = {"fuel_per_lap": "0.2 L", "laps": 20}
REAR = rules("{limit: percentage.rear, at_least: 53.3 %, condition: any_without_driver}")
NOSE: dict[str, Any] = {
    "places": [{"name": "tail", "at": at(2300)}],
    "shelf": [{"label": "lead", "step": "0.5 kg", "most": "20 kg"}],
}


def legal_all_the_way(pack: Pack, text: str, start: Fraction) -> bool | None:
    """By the race followed lap by lap."""
    document = parse_document(text.encode(), "car.yaml", "CD")
    judged = inspect_car(pack, load_car(document, pack.vocabulary), DAY, "entrant")
    return race(judged, Plan(Fraction(LITRE, 5), 20, start)).legal


def start_of(found: WeightPlan) -> Fraction:
    assert found.found is not None
    assert found.found.run is not None
    return found.found.run.start


def test_the_least_fuel_to_start_with_is_that_of_the_race_followed() -> None:
    document = car({"race": RACE})
    found = planned(REAR, document, race=True)
    assert done(found) == []
    start = start_of(found)
    assert legal_all_the_way(REAR, document.text, start)
    assert not legal_all_the_way(REAR, document.text, start - LITRE // 10)
    told = valid(plan_document(found))
    assert float(told["race"]["start"]["value"]) == pytest.approx(float(start / LITRE))
    page = Page(80)
    plan_text(told, page)
    assert "are left at the flag" in page.text()
    assert "from start to flag alone" in " ".join(page.text().split())


def test_a_start_within_limits_takes_ballast_instead_of_fuel() -> None:
    free = planned(REAR, car({**NOSE, "race": RACE}), Aim.FEWEST_MOVES, race=True)
    assert done(free) == []
    held = planned(REAR, car({**NOSE, "race": {**RACE, "start_at_most": "5 L"}}), race=True)
    assert start_of(held) <= 5 * LITRE
    assert [what for _, what, *_ in done(held)] == ["lead"]
    whole = planned(REAR, car({**NOSE, "race": RACE}))
    assert whole.found is not None
    assert whole.found.run is None
    assert done(whole) == [("add", "lead", "tail", 7.0)]  # 3.23 kg make 53.3 % of the empty car's 632.5 kg


@examples(15)
@given(
    at_least=st.sampled_from(["53.2 %", "53.35 %", "53.6 %", "54.5 %"]),
    total=st.sampled_from([630, 638, 645]),
    most=st.sampled_from(["6 L", "12 L", "20 L"]),
    aim=st.sampled_from([Aim.LEAST, Aim.FEWEST_MOVES, Aim.REAR]),
)
def test_what_is_planned_is_legal_from_start_to_flag(at_least: str, total: int, most: str, aim: Aim) -> None:
    pack = rules(
        f"{{limit: percentage.rear, at_least: {at_least}, at_most: 56 %, condition: any_without_driver}}",
        f"{{limit: weight.total, at_least: {total} kg, condition: any_without_driver}}",
    )
    found = planned(pack, car({**NOSE, "race": {**RACE, "start_at_most": most}}), aim, race=True)
    if found.found is None:
        assert found.status is Status.INFEASIBLE
    else:
        assert legal_all_the_way(pack, found.found.text, start_of(found))


@pytest.mark.parametrize(
    ("planning", "more", "code"),
    [
        ({}, {}, "PL306"),
        ({"race": {"fuel_per_lap": "1.5 L", "laps": 20}}, {}, "PL307"),
        ({"race": {**RACE, "start_at_most": "3 L"}}, {}, "PL307"),
        ({"race": RACE}, {"fuel": {"capacity": "20 L", "density": "0.75 kg/L"}}, "PL307"),
        ({"race": RACE}, {"fuel": {"at": at(2000)}}, "PL307"),
    ],
)
def test_what_cannot_be_run_is_said(planning: dict[str, Any], more: dict[str, Any], code: str) -> None:
    document: Document = car({**NOSE, **planning}, **more)
    with pytest.raises(InputError) as told:
        planned(REAR, document, race=True)
    assert [problem.code for problem in told.value.problems] == [code]
    assert all(problem.message for problem in told.value.problems)


def test_a_tank_that_moves_leaves_the_start_as_it_is_told() -> None:
    moves: dict[str, Any] = {
        "movable": [{"what": "fuel tank", "to": [{"name": "front", "at": at(300)}]}],
        "race": RACE,
    }
    free = planned(REAR, car(moves), race=True)
    assert [one.what for one in free.left_out] == ["fuel tank"]
    settled = {**moves, "race": {**RACE, "start_at_least": "20 L"}}
    assert planned(REAR, car(settled), race=True).left_out == ()
