"""Conditions: where a check must hold, what is refused over a range, and which condition decides."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from checker.quantities.intervals import Interval
from tests.car.cars import COMPLETE, varied
from tests.examples import each_row
from tests.kinds.workbench import codes, inspect, judge, pack_of, problems, shown

FACTS = "{a.wet: {type: truth}, a.capacity: {unit: cc}, a.place: {one_of: [front, mid]}}"
MORE = """{
  course: anticlockwise,
  conditions: {
    presented: {fuel: 4 L, driver: aboard, wear: new}, sets: {fuel: 4 L, driver: out or aboard, tyres: every set, wear: new},
    burning: {fuel: unusable to full}, wearing: {wear: new to worn}
  },
  derived: {nose: {formula: weight.front / weight.total}, lean: {formula: weight.inside - weight.outside, unit: kg}},
  tables: {lightest: {by: mass, rows: [{mass: up to 500 kg, value: 1 kg}, {mass: above 500 kg, value: 2 kg}]}},
  lists: {weights: {known_by: name, fields: {name: {type: text}, mass: {unit: kg}}}}
}"""
PADS = {"front_left": "150 kg", "front_right": "140 kg", "rear_left": "155 kg", "rear_right": "145 kg"}
CAR = {k: v for k, v in varied({"weighing.readings": [PADS]}).items() if k not in ("formula", "car")}
"""590 kg with 6 L on board, the driver out, on dry tyres, new."""


def told(check: str, more: str = MORE, **changes: Any) -> tuple[str, str | None]:
    return shown(judge(check, {**CAR, **changes}, FACTS, more))


@each_row(
    ("check", "expected"),
    [
        ("{limit: weight.total, at_least: 580 kg, condition: as_weighed}", ("pass", "+10 kg")),
        ("{limit: weight.total, at_least: 580 kg, condition: presented}", ("pass", "+90.51 kg")),
        ("{limit: weight.total, at_least: 580 kg, condition: [as_weighed, presented]}", ("pass", "+10 kg")),
        ("{limit: weight.total, at_most: 600 kg, condition: [as_weighed, presented]}", ("fail", "-70.51 kg")),
        ("{limit: percentage.front, at_most: 50 %, condition: as_weighed}", ("pass", "+0.84 %")),
        ("{limit: weight.cross, at_least: 290 kg, condition: as_weighed}", ("pass", "+5 kg")),
        ("{limit: percentage.cross, at_least: 50 %, condition: as_weighed}", ("pass", "0 %")),
        ("{limit: weight.front_inside, at_least: 149 kg, condition: as_weighed}", ("pass", "+1 kg")),
        ("{limit: lean, at_most: 20 kg, condition: as_weighed}", ("pass", "0 kg")),
        ("{limit: nose, at_most: 1/2, condition: as_weighed}", None),
    ],
)
def test_a_check_holds_in_the_conditions_it_names(
    check: str, expected: tuple[str, str | None] | None
) -> None:
    if expected is None:
        assert told(check)[0] == "pass"
    else:
        assert told(check) == expected


def test_the_least_margin_counts_and_its_condition_is_named() -> None:
    found = judge(
        "{limit: weight.total, at_least: 580 kg, condition: [presented, any_without_driver]}",
        CAR,
        FACTS,
        MORE,
    )
    assert found.condition == "any_without_driver"
    assert found.state is not None
    assert found.state.words == "0.5 L on board, driver out, dry tyres, worn"
    assert all(line.holds == (line.asked,) for line in found.legal_fuel)
    assert len(found.branches) == 0


def test_where_a_check_stops_holding_as_fuel_is_burnt() -> None:
    found = judge("{limit: weight.total, at_least: 590 kg, condition: burning}", CAR, FACTS, MORE)
    assert found.outcome == "fail"
    (line,) = found.legal_fuel
    assert line.fails == (Interval(Fraction(500_000), Fraction(6_000_000), high_in=False),)
    assert line.holds == (Interval(Fraction(6_000_000), Fraction(22_000_000)),)


def test_the_packs_condition_is_taken_where_a_check_names_none() -> None:
    more = MORE[:-1] + ", defaults: {condition: presented}}"
    found = judge("{limit: weight.total, at_least: 580 kg}", CAR, FACTS, more)
    assert found.condition == "presented"
    found = judge(
        "{all_of: [{limit: weight.total, at_least: 580 kg}, {limit: weight.front, at_least: 1 kg, condition: as_weighed}]}",
        CAR,
        FACTS,
        more,
    )
    assert [b.condition for b in found.branches] == ["presented", "as_weighed"]
    assert (
        judge("{limit: a.capacity, at_most: 5 cc}", {"a": {"capacity": "4 cc"}}, FACTS, more).condition == ""
    )


def test_the_whole_of_a_combination_is_judged_in_each_condition() -> None:
    check = "{condition: [as_weighed, presented], any_of: [{limit: weight.total, at_most: 600 kg}, {limit: weight.total, at_least: 650 kg}]}"
    assert told(check) == ("pass", "+10 kg")
    check = "{condition: [as_weighed, presented], all_of: [{limit: weight.total, at_most: 600 kg}]}"
    assert told(check)[0] == "fail"


def test_a_branchs_own_condition_goes_before() -> None:
    check = "{condition: presented, all_of: [{limit: weight.total, at_most: 700 kg}, {limit: weight.total, at_most: 600 kg, condition: as_weighed}]}"
    found = judge(check, CAR, FACTS, MORE)
    assert found.outcome == "pass"
    assert [b.condition for b in found.branches] == ["", "as_weighed"]
    assert found.margin is not None
    assert found.margin.value == 10


def test_a_check_for_many_is_judged_in_each_condition() -> None:
    weights = [{"name": "one", "mass": "80 kg"}, {"name": "two", "mass": "90 kg"}]
    check = "{each: weights, condition: [as_weighed, presented], limit: weight.total - mass, at_most: 600 kg}"
    found = judge(check, {**CAR, "weights": weights}, FACTS, MORE)
    assert found.outcome == "pass"
    assert (found.item, found.condition) == ("one", "presented")


def test_what_a_condition_asks_for_and_the_car_lacks_is_not_shown() -> None:
    bare = {"weighing": {"fuel": "6 L", "driver": "out", "tyres": "dry", "readings": [PADS]}}
    check = "{limit: weight.total, at_least: 580 kg, condition: any_without_driver}"
    found = judge(check, bare, FACTS, MORE)
    assert found.outcome == "not_shown"
    assert "fuel.capacity" in found.unknown.absent
    assert (
        judge("{limit: weight.total, at_least: 580 kg, condition: as_weighed}", bare, FACTS, MORE).outcome
        == "pass"
    )


def test_a_fail_in_a_known_condition_is_a_fail_though_another_is_unknown() -> None:
    bare = {"weighing": {"fuel": "6 L", "driver": "out", "tyres": "dry", "readings": [PADS]}}
    check = "{limit: weight.total, at_least: 600 kg, condition: [as_weighed, any]}"
    found = judge(check, bare, FACTS, MORE)
    assert found.outcome == "fail"
    assert found.unknown.absent


def test_several_weighings() -> None:
    light = {wheel: kg.replace("0 kg", "1 kg").replace("5 kg", "6 kg") for wheel, kg in PADS.items()}
    car = {**CAR, "weighing": {**CAR["weighing"], "readings": [PADS, light]}}
    check = "{limit: weight.total, at_most: 592 kg, condition: as_weighed}"
    assert shown(judge(check, car, FACTS, MORE)) == ("pass", "0 kg")
    check = "{limit: weight.total, at_most: 592 kg, condition: as_weighed, of_several: mean}"
    assert shown(judge(check, car, FACTS, MORE)) == ("pass", "0 kg")
    check = "{limit: weight.total, at_most: 592 kg, condition: as_weighed, of_several: worst}"
    assert shown(judge(check, car, FACTS, MORE)) == ("fail", "-2 kg")


RANGE = "condition: any"


@each_row(
    "check",
    [
        f"{{limit: weight.total, at_least: 1 kg, {RANGE}}}",
        f"{{limit: percentage.inside, at_most: 99 %, {RANGE}}}",
        f"{{limit: percentage.inside, at_least: 1 %, at_most: 99 %, {RANGE}}}",
        f"{{limit: percentage.rear, nominal: 50 %, plus_minus: 9 %, {RANGE}}}",
        f"{{limit: abs(percentage.left - percentage.right), at_most: 99 %, {RANGE}}}",
        f"{{limit: abs(weight.left - weight.right), at_most: 99 kg, {RANGE}}}",
        f'{{limit: "max(weight.left, weight.right)", at_most: 999 kg, {RANGE}}}',
        f'{{limit: "min(weight.left, weight.right)", at_least: 9 kg, {RANGE}}}',
        f"{{limit: weight.front / weight.rear, at_most: 9, {RANGE}}}",
        f"{{limit: weight.front, at_most: 60 % * weight.total, {RANGE}}}",
        f"{{limit: weight.front, at_most: weight.rear + 99 kg, {RANGE}}}",
        f"{{limit: a.capacity, at_most: 9 cc, {RANGE}}}",
        f"{{limit: nose, at_most: 9, {RANGE}}}",
        f"{{limit: weight.total / (9 kg), at_most: 99, {RANGE}}}",
        f"{{limit: weight.total, at_most: 900 kg, rounded: {{to: 1 kg, mode: half_up}}, {RANGE}}}",
        f"{{limit: weight.total, at_most: 900 kg if a.wet else 800 kg, {RANGE}}}",
        f"{{when: a.wet, limit: weight.total, at_most: 900 kg, {RANGE}}}",
        f"{{{RANGE}, all_of: [{{limit: weight.total, at_most: 900 kg}}, {{limit: weight.front, at_most: 900 kg}}]}}",
        f"{{{RANGE}, any_of: [{{limit: weight.total, at_most: 900 kg}}, {{holds: a.wet}}]}}",
        f"{{{RANGE}, none_of: [{{limit: weight.total, at_most: 900 kg}}, {{holds: a.wet}}]}}",
        f"{{{RANGE}, none_of: [{{all_of: [{{limit: weight.total, at_most: 9 kg}}, {{holds: a.wet}}]}}]}}",
        "{limit: weight.front ** 2, at_most: (9 kg) ** 2, condition: presented}",
        "{limit: weight.total, at_most: lightest(weight.front), condition: as_weighed}",
        "{when: weight.front > 9 kg, limit: weight.total, at_most: 9 kg, condition: presented}",
        "{when: weight.front > 9 kg, limit: weight.total, at_most: 9 kg, condition: sets}",
        "{holds: weight.front > weight.rear, condition: presented}",
        "{condition: sets, any_of: [{limit: weight.total, at_most: 900 kg}, {limit: weight.front, at_most: 9 kg}]}",
    ],
)
def test_what_can_be_judged(check: str) -> None:
    assert codes(check, FACTS, MORE) == []


@each_row(
    "check",
    [
        f"{{limit: abs(weight.left - weight.right), at_least: 9 kg, {RANGE}}}",
        f'{{limit: "max(weight.left, weight.right)", at_least: 9 kg, {RANGE}}}',
        f'{{limit: "min(weight.left, weight.right)", at_most: 9 kg, {RANGE}}}',
        f"{{limit: abs(weight.left - weight.right), at_least: 1 kg, at_most: 9 kg, {RANGE}}}",
        f"{{limit: abs(weight.left - weight.right), exactly: 9 kg, {RANGE}}}",
        f"{{limit: weight.front ** 2, at_most: (9 kg) ** 2, {RANGE}}}",
        f"{{limit: weight.front * weight.rear, at_most: (9 kg) ** 2, {RANGE}}}",
        f"{{limit: weight.front / weight.rear + weight.left / weight.right, at_most: 9, {RANGE}}}",
        f'{{limit: "round_up(weight.total, 1 kg)", at_most: 9 kg, {RANGE}}}',
        f"{{limit: weight.total, at_most: 9 kg, tolerance: 1 % * weight.total, {RANGE}}}",
        f"{{limit: weight.total, at_most: lightest(weight.total), {RANGE}}}",
        f"{{limit: weight.total, at_most: 9 kg if weight.front > 9 kg else 8 kg, {RANGE}}}",
        f"{{when: weight.front > 9 kg, limit: weight.total, at_most: 9 kg, {RANGE}}}",
        f"{{each: weights, where: weight.front > mass, limit: weight.total, at_most: 9 kg, {RANGE}}}",
        f"{{holds: weight.front > weight.rear, {RANGE}}}",
        f"{{{RANGE}, any_of: [{{limit: weight.total, at_most: 900 kg}}, {{limit: weight.front, at_most: 9 kg}}]}}",
        f"{{{RANGE}, none_of: [{{limit: weight.total, at_least: 9 kg, at_most: 900 kg}}]}}",
        f"{{{RANGE}, none_of: [{{all_of: [{{limit: weight.total, at_most: 9 kg}}, {{limit: weight.front, at_most: 9 kg}}]}}]}}",
        f"{{{RANGE}, none_of: [{{limit: abs(weight.left - weight.right), at_most: 9 kg}}]}}",
        f"{{{RANGE}, at_least_of: {{count: 1, of: [{{limit: weight.total, at_most: 9 kg}}, {{limit: weight.rear, at_most: 9 kg}}]}}}}",
        f"{{limit: weight.front_left, at_most: 9 kg, {RANGE}}}",
        "{limit: weight.front_left, at_most: 9 kg, condition: presented}",
        "{limit: percentage.rear_outside, at_most: 9 %, condition: presented}",
        "{limit: percentage.cross, at_most: 9 %, condition: [as_weighed, presented]}",
        "{condition: presented, all_of: [{holds: a.wet}, {limit: weight.cross, at_most: 9 kg}]}",
        f"{{limit: weight.front, at_most: weight.rear, rounded: {{to: 1 kg, mode: half_up}}, {RANGE}}}",
        "{limit: weight.front ** 2, at_most: (9 kg) ** 2, condition: burning}",
        "{limit: weight.front ** 2, at_most: (9 kg) ** 2, condition: wearing}",
    ],
)
def test_what_cannot_be_judged_over_a_range_is_refused(check: str) -> None:
    assert codes(check, FACTS, MORE) == ["PK505"]


@each_row(
    ("check", "code", "text"),
    [
        ("{limit: weight.total, at_least: 1 kg}", "PK504", "weight.total"),
        ("{limit: lean, at_least: 1 kg}", "PK504", "lean"),
        (
            "{limit: a.capacity, at_least: 1 cc * weight.total / (1 kg)}",
            "PK504",
            "1 cc * weight.total / (1 kg)",
        ),
        ("{limit: weight.total, at_least: 1 kg, condition: anny}", "PK504", "anny"),
        ("{limit: weight.total, at_least: 1 kg, condition: [any, anny]}", "PK504", "anny"),
        ("{limit: weight.total, at_least: 1 kg, condition: []}", "PK504", "[]"),
        ("{limit: weight.total, at_least: 1 kg, condition: 3}", "PK504", "3"),
        ("{holds: weight.front > weight.rear}", "PK504", "weight.front > weight.rear"),
        ("{when: weight.total > 3 kg, holds: a.wet}", "PK504", "weight.total > 3 kg"),
        ("{limit: weight.middle, at_least: 1 kg, condition: any}", "PK201", "weight.middle"),
        ("{limit: percentage.total, at_least: 1 %, condition: any}", "PK201", "percentage.total"),
        ("{limit: weight.front_left, at_most: 9 kg, condition: any}", "PK505", "weight.front_left"),
    ],
)
def test_mistakes_are_told_at_their_place(check: str, code: str, text: str) -> None:
    found = problems(check, FACTS, MORE)
    assert [p.code for p in found] == [code]
    span = found[0].span
    assert span is not None
    assert span.source_line[span.column - 1 : span.end_column - 1] == text


def test_a_divisor_that_passes_through_zero_in_the_range_is_not_shown() -> None:
    check = "{limit: weight.front / (weight.total - 590 kg), at_most: 9, condition: burning}"
    assert judge(check, CAR, FACTS, MORE).outcome == "not_shown"
    check = "{limit: weight.front / (weight.total - 90 kg), at_most: 9, condition: burning}"
    assert judge(check, CAR, FACTS, MORE).outcome == "pass"


def test_inside_follows_the_course() -> None:
    check = "{limit: weight.inside, at_least: 1 kg, condition: as_weighed}"
    left = inspect(pack_of(check, FACTS, "{course: anticlockwise}"), CAR).outcomes[0].assessment
    right = inspect(pack_of(check, FACTS, "{course: clockwise}"), CAR).outcomes[0].assessment
    assert (left.value and left.value.value, right.value and right.value.value) == (305, 285)


def test_a_complete_car_is_complete() -> None:
    assert COMPLETE["weighing"]["fuel"] == "6 L"
    assert told("{limit: percentage.inside, at_most: 53 %, condition: any}")[0] in ("pass", "fail")
