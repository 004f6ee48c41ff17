"""Every tyre set means every one that the formula runs."""

from __future__ import annotations

import pytest

from checker.reading.problems import InputError
from tests.building import car_of, outcome_of, pack_of_check

CHECK = "{limit: weight.total, at_most: 605 kg, condition: any_without_driver}"
SETS = "tyre_sets: [dry, wet]"
DRY = "  dry: {front: {mass: 14 kg, section: 215 mm}, rear: {mass: 15 kg, section: 225 mm}}"
WET = "  wet: {front: {mass: 18 kg, section: 215 mm}, rear: {mass: 19 kg, section: 225 mm}}"
CAR = """
weighing: {fuel: 6 L, driver: out, tyres: dry, readings: [{total: 590 kg}]}
fuel: {capacity: 10 L, density: 0.75 kg/L}
wear: {front_left: 0 kg, front_right: 0 kg, rear_left: 0 kg, rear_right: 0 kg}
tyres:
"""


def test_leaving_a_set_out_does_not_make_a_car_comply() -> None:
    pack = pack_of_check(CHECK, SETS)
    assert outcome_of(pack, f"{CAR}{DRY}\n{WET}").outcome == "fail"
    without = outcome_of(pack, f"{CAR}{DRY}")
    assert without.outcome == "not_shown"
    assert "tyres.wet.front.mass" in str(without)
    assert outcome_of(pack_of_check(CHECK), f"{CAR}{DRY}").outcome == "pass"


def test_the_set_that_was_fitted_may_be_described_last() -> None:
    """While a form is filled in the others may stand there first: then it is missing, and nothing is met."""
    found = outcome_of(pack_of_check(CHECK, SETS), f"{CAR}{WET}")
    assert found.outcome == "not_shown"
    assert "tyres.dry.front.mass" in str(found)


@pytest.mark.parametrize(
    ("sections", "told"),
    [
        (f"{CAR}{DRY}\n{WET.replace('wet', 'wte')}", "wte"),
        (f"{CAR.replace('tyres: dry', 'tyres: slick')}{DRY}\n{WET}", "slick"),
    ],
)
def test_a_set_that_the_formula_does_not_run_is_an_error(sections: str, told: str) -> None:
    with pytest.raises(InputError) as caught:
        car_of(pack_of_check(CHECK, SETS), sections)
    assert told in caught.value.problems[0].message


@pytest.mark.parametrize("sets", ["dry", "[]", "[dry, Dry]", "[dry, 3]"])
def test_the_sets_are_a_list_of_names_each_once(sets: str) -> None:
    with pytest.raises(InputError) as caught:
        pack_of_check(CHECK, f"tyre_sets: {sets}")
    assert [problem.code for problem in caught.value.problems] == ["PK108"]


def test_a_condition_names_a_set_that_is_run() -> None:
    with pytest.raises(InputError) as caught:
        pack_of_check(CHECK, f"{SETS}\nconditions: {{soaked: {{tyres: wte}}}}")
    assert [problem.code for problem in caught.value.problems] == ["PK504"]
