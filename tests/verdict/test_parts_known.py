"""A part known is enough where it decides: a car that fails in any state within the range fails, whatever is lacking."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.kinds.judging.assessment import FAIL, NOT_SHOWN, PASS, TOO_CLOSE
from checker.verdict.run import Request, inspect_request
from checker.verdict.search import acts_of
from tests.car.cars import ABSENT, varied
from tests.conftest import ROOT
from tests.examples import examples, quick_first
from tests.kinds.workbench import judge

PADS = {"front_left": "140 kg", "front_right": "131.6 kg", "rear_left": "140 kg", "rear_right": "140 kg"}
CAR = {k: v for k, v in varied({"weighing.readings": [PADS]}).items() if k not in ("formula", "car")}
"""551.6 kg with 6 L of 22 on board, the driver out, on dry tyres, new."""
LIGHT = "{limit: weight.total, at_least: 560 kg, condition: any_without_driver}"
RANGE = (
    LIGHT,
    "{limit: weight.total, at_most: 640 kg, condition: any}",
    "{limit: percentage.inside, at_most: 50.5 %, condition: any}",
    "{limit: percentage.rear, at_least: 50 %, at_most: 52 %, condition: any}",
    "{condition: any, all_of: [{limit: weight.total, at_least: 540 kg}, {limit: percentage.rear, at_most: 50.7 %}]}",
)
LACKING = (
    *(
        "fuel.density",
        "fuel.capacity",
        "fuel.at",
        "fuel.unusable",
        "wear",
        "tyres.dry.front.mass",
        "driver.mass",
    ),
    *("driver.at", "dimensions.wheelbase_left", "weighing.fuel", "weighing.driver", "weighing.tyres"),
)


def told(check: str, *lacking: str) -> Any:
    return judge(check, varied(dict.fromkeys(lacking, ABSENT), CAR), more="{course: anticlockwise}")


@pytest.mark.parametrize("lacking", ["wear", "fuel.density", "fuel.capacity", "fuel"])
def test_a_car_that_is_light_as_weighed_fails_and_says_what_is_still_open(lacking: str) -> None:
    found = (
        told(LIGHT, lacking) if lacking != "fuel" else told(LIGHT, "fuel.density", "fuel.capacity", "wear")
    )
    assert found.outcome == FAIL
    assert found.margin.value <= Fraction("-8.4")
    assert found.state is not None
    assert found.unknown.absent


def test_a_state_that_does_not_lie_in_the_range_decides_nothing() -> None:
    """Weighed with the driver aboard it says nothing of the car without; drained below the unusable rest likewise."""
    aboard = varied({"weighing.driver": "aboard", "driver.mass": ABSENT}, CAR)
    assert judge(LIGHT, aboard, more="{course: anticlockwise}").outcome == NOT_SHOWN
    drained = varied({"weighing.fuel": "0 L", "fuel.density": ABSENT}, CAR)
    assert judge(LIGHT, drained, more="{course: anticlockwise}").outcome == NOT_SHOWN


def test_what_is_met_as_far_as_known_is_told_and_is_no_pass() -> None:
    found = told("{limit: weight.total, at_least: 540 kg, condition: any_without_driver}", "fuel.density")
    assert found.outcome == NOT_SHOWN
    assert found.finding is not None


@examples(60)
@given(check=st.sampled_from(RANGE), lacking=st.sets(st.sampled_from(LACKING), max_size=4))
def test_removing_facts_never_turns_a_fail_into_a_pass_nor_makes_one_up(
    check: str, lacking: set[str]
) -> None:
    """`fuel.unusable` has a default, so that its absence asks for more: only there may a fail be new."""
    whole, part = told(check).outcome, told(check, *sorted(lacking)).outcome
    assert part != PASS or whole == PASS
    if whole != FAIL and "fuel.unusable" not in lacking:
        assert part in (NOT_SHOWN, whole)
    if whole == FAIL:
        assert part in (FAIL, NOT_SHOWN)
    assert part != TOO_CLOSE or whole == TOO_CLOSE


@pytest.mark.parametrize("lacking", ["driver.mass", "driver.at", "fuel.at", "dimensions.wheelbase_left"])
@pytest.mark.parametrize("least", ["540", "560"])
def test_an_unknown_that_cannot_change_the_outcome_does_not_matter(lacking: str, least: str) -> None:
    """A total without the driver asks neither for the driver nor for places."""
    check = LIGHT.replace("560", least)
    assert told(check, lacking).margin == told(check).margin
    assert told(check).outcome == (FAIL if least == "560" else PASS)


@pytest.mark.parametrize("lacking", quick_first(["fuel: {", "wear: {", "driver: {"], 1))
def test_what_several_states_ask_for_is_told_once(tmp_path: Path, lacking: str) -> None:
    """Also where one of them rests on errors that nobody stated and the other does not."""
    told = (ROOT / "samples/cars/light-at-the-flag.yaml").read_text("utf-8").splitlines(keepends=True)
    file = tmp_path / "car.yaml"
    light = "".join(line for line in told if not line.startswith(lacking)).replace("158.5 kg", "136 kg")
    file.write_text(light, "utf-8")
    found = inspect_request(Request(str(file), str(ROOT / "rulepacks/dunlin"), None)).outcomes
    failing = [one for one in found if one.outcome == FAIL]
    assert {"3.1", "3.4"} <= {one.clause.number for one in failing}
    for one in failing:
        asked = [(act.do, act.amount, act.start, act.end, act.what) for act in acts_of(one.assessment.act)]
        assert len(asked) == len(set(asked)), one.clause.number


GEAR = """{course: anticlockwise, gear: {weighed_with: pads}, instruments: {pads: {permissible_error: ERROR kg},
  can: {permissible_error: ERROR L}, hydrometer: {permissible_error: ERROR kg/L}, tape: {permissible_error: ERROR mm}}}"""
MEASURED = """{weighing.fuel: {unit: L, measured_with: can}, fuel.capacity: {unit: L, measured_with: can},
  fuel.density: {unit: kg/L, measured_with: hydrometer}, dimensions.wheelbase_left: {unit: mm, measured_with: tape},
  dimensions.wheelbase_right: {unit: mm, measured_with: tape}}"""


def measured(check: str, error: str, *lacking: str) -> Any:
    """As `told`, with a stated error of every reading."""
    car = varied(dict.fromkeys(lacking, ABSENT), CAR)
    return judge(check, car, MEASURED, GEAR.replace("ERROR", error))


@pytest.mark.parametrize("lacking", quick_first(LACKING, 0))
@pytest.mark.parametrize("check", RANGE)
def test_a_reading_with_a_stated_error_decides_as_much_as_one_without(check: str, lacking: str) -> None:
    """What a reading's error comes to in the weights may be unknown; in the state as weighed nothing comes of it."""
    assert measured(check, "0.000001", lacking).outcome == told(check, lacking).outcome


@pytest.mark.parametrize("lacking", ["wear", "fuel.density", "fuel.capacity", "fuel.at"])
def test_a_car_light_by_more_than_its_gear_may_be_out_fails_whatever_is_lacking(lacking: str) -> None:
    assert measured(LIGHT, "0.1", lacking).outcome == FAIL
    assert measured(LIGHT.replace("560", "551.7"), "0.1", lacking).outcome != PASS
