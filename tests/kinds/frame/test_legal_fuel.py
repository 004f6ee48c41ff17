"""The legal levels of fuel: their stories, and the law that a dense sample of levels finds nothing else."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise
from typing import Any

import pytest
from hypothesis import assume, example, given
from hypothesis import strategies as st

from checker.car.described.standard import WHEELS
from checker.car.scene import Scene
from checker.car.weights.states import state_of
from checker.kinds.frame.framed import Framed
from checker.kinds.frame.legal_fuel import along, in_all, zeros
from checker.kinds.judging.assessment import FAIL, NOT_APPLICABLE, PASS, Assessment, LegalFuel, Verdict
from checker.kinds.judging.exact_rule import EXACTLY
from checker.quantities.intervals import Interval
from tests.car.cars import ABSENT, made_up_cars, varied
from tests.car.weights.test_fuel import shaped
from tests.examples import examples
from tests.kinds.workbench import inspect, judge, pack_of

LITRE = 10**6
FACTS = "{a.wet: {type: truth}, a.overlap: {unit: mm}}"
MORE = """{
  course: anticlockwise,
  conditions: {burning: {fuel: unusable to full}, narrow: {fuel: 3 L to 9 L, wear: new to worn}},
  lists: {weights: {known_by: name, fields: {name: {type: text}, mass: {unit: kg}}}}
}"""
WEIGHTS = [{"name": "one", "mass": "1 kg"}, {"name": "two", "mass": "3 kg"}]

CHECKS = (
    "{limit: weight.total, at_least: LOW kg, CONDITION}",
    "{limit: weight.total, above: LOW kg, CONDITION}",
    "{limit: weight.total, at_least: LOW kg, at_most: HIGH kg, CONDITION}",
    "{limit: weight.total, above: LOW kg, below: HIGH kg, CONDITION}",
    "{limit: weight.total, exactly: HIGH kg, tolerance: 2 kg, CONDITION}",
    "{limit: weight.total, exactly: HIGH kg, CONDITION}",
    "{limit: weight.total, at_most: HIGH kg, rounded: {to: 0.5 kg, mode: MODE}, CONDITION}",
    "{limit: weight.total, above: LOW kg, below: HIGH kg, rounded: {to: 1 kg, mode: MODE}, CONDITION}",
    "{limit: percentage.inside, at_most: SHARE %, CONDITION}",
    "{limit: percentage.rear, nominal: REAR %, plus_minus: 0.2 %, CONDITION}",
    "{limit: percentage.rear, at_most: REAR %, rounded: {to: 0.1 %, mode: MODE}, CONDITION}",
    "{limit: abs(percentage.left - SHARE %), at_most: 0.15 %, CONDITION}",
    '{limit: "max(weight.left, weight.right + 5 kg)", at_most: 54 % * weight.total, CONDITION}',
    '{limit: "min(weight.front / weight.rear, weight.rear / weight.front)", at_least: 0.9, CONDITION}',
    "{CONDITION, all_of: [{limit: weight.total, at_least: LOW kg}, {limit: percentage.inside, at_most: SHARE %}]}",
    "{CONDITION, any_of: [{limit: weight.total, at_least: LOW kg, at_most: HIGH kg}, {holds: a.wet}]}",
    "{CONDITION, any_of: [{limit: a.overlap, at_least: 45 mm}, {limit: weight.total, at_least: HIGH kg}]}",
    "{CONDITION, none_of: [{limit: weight.total, at_least: HIGH kg}]}",
    "{each: weights, limit: weight.total - mass, at_least: LOW kg, at_most: HIGH kg, CONDITION}",
    "{limit: weight.total, at_least: LOW kg, at_most: HIGH kg, of_several: worst, CONDITION}",
)


def at(found: LegalFuel, litres: Fraction) -> str:
    fuel = litres * LITRE
    return "holds" if any(fuel in one for one in found.holds) else "fails"


def framed_of(check: str, car: dict[str, Any]) -> tuple[Framed, Scene, Assessment]:
    inspection = inspect(pack_of(check, FACTS, MORE), car)
    outcome = inspection.outcomes[0]
    assert isinstance(outcome.check, Framed)
    return outcome.check, Scene(inspection.car), outcome.assessment


def told(outcome: Verdict) -> str:
    return {PASS: "holds", NOT_APPLICABLE: "holds", FAIL: "fails"}.get(outcome, "unknown")


@st.composite
def cases(draw: st.DrawFn) -> tuple[str, dict[str, Any]]:
    """A check whose limits lie near what a made-up car weighs, and that car."""
    declared = draw(made_up_cars())
    table = draw(st.none() | shaped())
    if table is not None:
        declared = varied({"fuel.at": table, "fuel.capacity": table[-1]["level"]}, declared)
    readings = declared["weighing"]["readings"]
    loads = {wheel: Fraction(readings[0][wheel].split()[0]) for wheel in WHEELS}
    total, left = sum(loads.values()), loads["front_left"] + loads["rear_left"]
    rear = loads["rear_left"] + loads["rear_right"]
    low = total + draw(st.integers(-200, 200)) / Fraction(10)
    values = {
        "LOW": low,
        "HIGH": low + draw(st.integers(1, 120)) / Fraction(10),
        "SHARE": round(100 * left / total + draw(st.integers(-20, 20)) / Fraction(20), 3),
        "REAR": round(100 * rear / total + draw(st.integers(-20, 20)) / Fraction(20), 3),
    }
    check = draw(st.sampled_from(CHECKS))
    for name, value in values.items():
        check = check.replace(name, f"{float(value):.3f}")
    check = check.replace("MODE", draw(st.sampled_from(["half_up", "half_even", "up", "down"])))
    check = check.replace("CONDITION", f"condition: {draw(st.sampled_from(['any', 'burning', 'narrow']))}")
    car = {key: value for key, value in declared.items() if key not in ("formula", "car")}
    return check, {**car, "weights": WEIGHTS, "a": {"wet": False, "overlap": "10 mm"}}


@examples(50)
@given(case=cases(), parts=st.lists(st.fractions(0, 1, max_denominator=999), min_size=3, max_size=12))
def test_a_dense_sample_of_levels_finds_what_the_legal_levels_say(
    case: tuple[str, dict[str, Any]], parts: list[Fraction]
) -> None:
    """Both ways: a level within is met, one without fails, to the last digit on both sides of every end."""
    check, scene, judged = framed_of(*case)
    assert judged.legal_fuel
    tiny = Fraction(1, 10**9)
    for line in judged.legal_fuel:
        assert line.asked is not None
        low, high = line.asked.low, line.asked.high
        ends = [end for one in (*line.holds, *line.fails) for end in (one.low, one.high)]
        levels = [low + part * (high - low) for part in parts] + [
            end + n * tiny for end in ends for n in (-1, 0, 1)
        ]
        for fuel in levels:
            if low <= fuel <= high:
                state = state_of(fuel, line.state.driver, line.state.tyres, line.state.wear)
                outcome = check.in_one_state(scene.in_state(state), EXACTLY).outcome
                assert at(line, fuel / LITRE) == told(outcome), state.words


@examples(50)
@given(case=cases(), parts=st.lists(st.fractions(0, 1, max_denominator=999), min_size=2, max_size=8))
def test_the_verdict_over_a_range_is_that_of_every_level_in_it(
    case: tuple[str, dict[str, Any]], parts: list[Fraction]
) -> None:
    """Also for valleys inside the range, as a tank by levels makes them: the corners see them all."""
    check, scene, _ = framed_of(*case)
    whole = check.assess(scene, EXACTLY)
    assert (whole.outcome == FAIL) == any(line.fails for line in whole.legal_fuel)
    for line in whole.legal_fuel:
        assert line.asked is not None
        for part in parts:
            fuel = line.asked.low + part * (line.asked.high - line.asked.low)
            state = state_of(fuel, line.state.driver, line.state.tyres, line.state.wear)
            if check.in_one_state(scene.in_state(state), EXACTLY).outcome == FAIL:
                assert whole.outcome == FAIL


@pytest.mark.deep
@examples(50)
@given(
    case=cases(),
    fuel=st.fractions(0, 1, max_denominator=999),
    parts=st.lists(st.fractions(0, 1), min_size=2, max_size=6),
)
def test_along_wear_and_fuel_together_the_same_holds(
    case: tuple[str, dict[str, Any]], fuel: Fraction, parts: list[Fraction]
) -> None:
    """As on the way of a race, within one layer of the tank."""
    assume(isinstance(case[1]["fuel"]["at"], dict))
    check, scene, judged = framed_of(*case)
    asked = judged.legal_fuel[0].asked
    assert asked is not None
    start = state_of(asked.high, "out", "dry", Fraction(0))
    end = state_of(asked.low + fuel * (asked.high - asked.low), "out", "dry", Fraction(1))
    way = along(check, start, end, scene)
    for part in parts:
        there = start.fuel + part * (end.fuel - start.fuel)  # type: ignore[operator]
        state = state_of(there, "out", "dry", part)
        outcome = told(check.in_one_state(scene.in_state(state), EXACTLY).outcome)
        assert outcome == ("holds" if any(part in one for one in way.holds) else "fails")


# -- pieces ------------------------------------------------------------------------------------------

PIECES = st.lists(
    st.tuples(st.integers(-9, 9), st.integers(-9, 9), st.integers(0, 3)).filter(lambda p: p[1] != 0),
    min_size=1,
    max_size=6,
)


@examples(200)
@given(pieces=PIECES, parts=st.lists(st.fractions(0, 1, max_denominator=999), min_size=4, max_size=20))
@example(pieces=[(-1, 3, 0), (1, -3, 0)], parts=[Fraction(1, 3)])
@example(pieces=[(-1, 2, 0), (1, -2, 0)], parts=[Fraction(1, 2)])
def test_every_change_of_sign_of_a_least_of_pieces_is_found(
    pieces: list[tuple[int, int, int]], parts: list[Fraction]
) -> None:
    """Of (a + b x) / (1 + d x), rising and falling in any number: between two zeros the sign stays."""

    def least(x: Fraction) -> Fraction:
        return min((a + b * x) / (1 + d * x) for a, b, d in pieces if a * d != b)

    assume(any(a * d != b for a, b, d in pieces))
    found = sorted(zeros(least))
    assert all(least(zero) == 0 for zero in found)
    for low, high in pairwise([Fraction(0), *found, Fraction(1)]):
        signs = {least(x) > 0 for x in parts if low < x < high and least(x) != 0}
        assert len(signs) <= 1


# -- stories -----------------------------------------------------------------------------------------

PADS = {"front_left": "150 kg", "front_right": "140 kg", "rear_left": "155 kg", "rear_right": "145 kg"}
BASE = {
    key: value
    for key, value in varied({"weighing.readings": [PADS]}).items()
    if key not in ("formula", "car")
}
"""590 kg with 6 L on board, 0.745 kg/L, the tank of 22 L, 0.5 L of them unusable."""


def test_a_tent_is_legal_between_two_levels_though_both_ends_fail() -> None:
    check = "{limit: weight.total, at_least: 588 kg, at_most: 600 kg, condition: burning}"
    (line,) = judge(check, BASE, FACTS, MORE).legal_fuel
    low, high = (
        6 * LITRE - Fraction(2 * LITRE) / Fraction("0.745"),
        6 * LITRE + Fraction(10 * LITRE) / Fraction("0.745"),
    )
    assert line.holds == (Interval(low, high),)
    assert [(one.low, one.high) for one in line.fails] == [(LITRE // 2, low), (high, 22 * LITRE)]


def valley() -> dict[str, Any]:
    """A tank whose lower half lies left and whose upper half lies right: half full the car leans most."""
    table = [
        {"level": "10 L", "behind_front_axle": "1100 mm", "left_of_centre": "700 mm"},
        {"level": "20 L", "behind_front_axle": "1100 mm", "left_of_centre": "0 mm"},
    ]
    return varied(
        {"fuel.at": table, "fuel.capacity": "20 L", "fuel.unusable": "0 L", "weighing.fuel": "0 L"}, BASE
    )


def test_a_tank_by_levels_makes_a_valley_in_which_the_car_fails() -> None:
    check = "{limit: percentage.inside, at_most: 51.9 %, condition: burning}"
    found = judge(check, valley(), FACTS, MORE)
    (line,) = found.legal_fuel
    assert found.outcome == FAIL
    assert [one.low for one in line.holds] == [0, line.fails[0].high]
    assert 0 < line.fails[0].low < 10 * LITRE < line.fails[0].high < 20 * LITRE


def test_a_strict_limit_leaves_its_own_level_out() -> None:
    (line,) = judge("{limit: weight.total, above: 590 kg, condition: burning}", BASE, FACTS, MORE).legal_fuel
    assert line.holds == (Interval(Fraction(6 * LITRE), Fraction(22 * LITRE), low_in=False),)
    assert line.fails == (Interval(Fraction(LITRE, 2), Fraction(6 * LITRE)),)


def test_what_touches_its_limit_is_legal_at_one_level() -> None:
    check = "{limit: weight.total, exactly: 590 kg, condition: burning}"
    (line,) = judge(check, BASE, FACTS, MORE).legal_fuel
    assert line.holds == (Interval(Fraction(6 * LITRE), Fraction(6 * LITRE)),)
    assert len(line.fails) == 2


@pytest.mark.parametrize("lacking", ["fuel.density", "wear", "tyres.wet"])
def test_levels_that_are_not_known_are_neither_legal_nor_failed(lacking: str) -> None:
    check = "{limit: weight.total, at_least: 588 kg, condition: any_without_driver}"
    found = judge(check, varied({lacking: ABSENT}, BASE), FACTS, MORE)
    whole = in_all(found.legal_fuel, state_of())
    if lacking == "tyres.wet":  # then dry is every set
        assert whole.unknown.told() == ()
    else:
        assert whole.holds == ()
        assert whole.unknown.told()


def test_a_tank_of_unknown_size_is_known_up_to_the_fuel_it_was_weighed_with() -> None:
    check = "{limit: weight.total, at_least: 588 kg, condition: burning}"
    (line,) = judge(check, varied({"fuel.capacity": ABSENT}, BASE), FACTS, MORE).legal_fuel
    assert line.asked == Interval(Fraction(LITRE, 2), Fraction(6 * LITRE))
    assert line.unknown.absent == ("fuel.capacity",)
    assert len(line.fails) == len(line.holds) == 1
