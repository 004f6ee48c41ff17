"""Which parts of a clause a report lists."""

from __future__ import annotations

from checker.report.one_car.clause_parts import concerning, parts
from tests.building import outcome_of, pack_of_check

FACTS = """
facts: {body.a: {unit: mm}, body.b: {unit: mm}, body.c: {unit: mm}}
lists: {rods: {known_by: name, fields: {name: {type: text}, bore: {unit: mm}, wall: {unit: mm}}}}
"""
A, B, C = (f"{{limit: body.{name}, at_most: 10 mm}}" for name in "abc")


def told(check: str, car: str, *, every: bool = False) -> list[tuple[str, str, str]]:
    outcome = outcome_of(pack_of_check(check, FACTS), car)
    assert outcome.check is not None
    found = (parts if every else concerning)(outcome.check, outcome.assessment)
    return [(p.item, p.check.sentence().partition(" ")[0], p.assessment.outcome) for p in found]


def test_a_single_limit_is_its_own_part() -> None:
    assert told(A, "body: {a: 11 mm}") == [("", "body.a", "fail")]
    assert told(A, "body: {a: 9 mm}") == []
    assert told(A, "body: {a: 9 mm}", every=True) == [("", "body.a", "pass")]


def test_branches_are_parts_and_those_met_do_not_concern() -> None:
    check = f"{{all_of: [{A}, {B}, {C}]}}"
    car = "body: {a: 11 mm, b: 9 mm}"
    assert told(check, car) == [("", "body.a", "fail"), ("", "body.c", "not_shown")]
    assert len(told(check, car, every=True)) == 3


def test_a_way_that_is_not_taken_does_not_concern() -> None:
    check = f"{{all_of: [{{any_of: [{A}, {B}]}}, {C}]}}"
    assert told(check, "body: {a: 11 mm, b: 9 mm, c: 12 mm}") == [("", "body.c", "fail")]
    assert told(check, "body: {a: 11 mm, b: 12 mm, c: 9 mm}") == [
        ("", "body.a", "fail"),
        ("", "body.b", "fail"),
    ]


def test_of_what_must_not_be_met_the_whole_is_one_part() -> None:
    check = f"{{at_most_of: {{count: 1, of: [{A}, {B}, {C}]}}}}"
    (part,) = told(check, "body: {a: 9 mm, b: 9 mm, c: 12 mm}")
    assert part[2] == "fail"


def test_parts_of_a_list_carry_the_entry() -> None:
    check = "{each: rods, all_of: [{limit: bore, at_most: 10 mm}, {limit: wall, at_least: 2 mm}]}"
    car = "rods: [{name: left, bore: 11 mm, wall: 2 mm}, {name: right, bore: 11 mm, wall: 1 mm}]"
    assert told(check, car) == [
        ("left", "bore", "fail"),
        ("right", "bore", "fail"),
        ("right", "wall", "fail"),
    ]


def test_an_entry_of_one_branch_is_not_taken_for_that_of_another() -> None:
    check = f"{{all_of: [{{each: rods, limit: bore, at_most: 10 mm}}, {A}]}}"
    car = "body: {a: 11 mm}\nrods: [{name: left, bore: 11 mm}]"
    assert told(check, car) == [("left", "bore", "fail"), ("", "body.a", "fail")]


def test_a_part_knows_what_stands_round_it() -> None:
    check = "{each: rods, where: wall > 1 mm, all_of: [{when: bore > 5 mm, limit: bore, at_most: 10 mm}]}"
    outcome = outcome_of(pack_of_check(check, FACTS), "rods: [{name: left, bore: 11 mm, wall: 2 mm}]")
    assert outcome.check is not None
    (part,) = parts(outcome.check, outcome.assessment)
    assert [role for role, _ in part.frame] == ["where", "when"]


def test_an_empty_list_is_one_part_that_does_not_apply() -> None:
    check = "{each: rods, limit: bore, at_most: 10 mm}"
    assert [outcome for _, _, outcome in told(check, "rods: []", every=True)] == ["not_applicable"]
