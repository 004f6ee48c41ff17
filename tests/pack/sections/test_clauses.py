"""Clauses: their days, older checks for older cars, one in another's place, penalties, and what is wrong with one."""

from __future__ import annotations

from typing import Any

import pytest

from checker.report.words.acts import act_words
from checker.report.words.findings import found_words, penalty_words
from tests.examples import each_row
from tests.kinds.workbench import HEAD, inspect, pack_of, problems, problems_in, read_pack, shown

FACTS = "{a.wall: {unit: mm}, a.sort: {one_of: [x, y]}, a.cost: {unit: GBP}, a.grade: {grades: [C, B]}, a.raced: {type: date}}"
WALL = "{limit: a.wall, at_least: 2 mm}"


def outcomes(clauses: str, car: dict[str, Any], more: str = "{}") -> dict[str, str]:
    pack = read_pack(f"{{{HEAD}, facts: {FACTS}, {more[1:-1]} clauses: {clauses}}}")
    return {o.clause.number: o.outcome for o in inspect(pack, car).outcomes}


def one(clause: str, car: dict[str, Any], check: str = WALL) -> Any:
    return inspect(pack_of(check, FACTS, clause=clause), car).outcomes[0]


THIN = {"a": {"wall": "1 mm"}}


@pytest.mark.parametrize(
    ("days", "outcome"),
    [
        ("since: 2026-05-03", "fail"),
        ("since: 2026-05-04", "not_applicable"),
        ("until: 2026-05-03", "fail"),
        ("until: 2026-05-02", "not_applicable"),
        ("since: 2026-01-01, until: 2026-12-31", "fail"),
    ],
)
def test_a_clause_has_a_first_and_a_last_day(days: str, outcome: str) -> None:
    assert one(days, THIN).outcome == outcome


OLDER = "earlier: [{before: 2021-01-01, until: 2026-12-31, check: {limit: a.wall, at_least: 1.5 mm}}]"
EXEMPT = "earlier: [{before: 2021-01-01, until: 2026-12-31, check: none}]"
TWO = """earlier: [{before: 2010-01-01, check: none}, {before: 2021-01-01, check: {limit: a.wall, at_least: 1.5 mm}}]"""


@each_row(
    ("clause", "built", "wall", "expected"),
    [
        (OLDER, "2020-12-31", "1.5 mm", ("pass", "0 mm")),
        (OLDER, "2021-01-01", "1.5 mm", ("fail", "-0.5 mm")),
        (OLDER, "2020-12-31", "1.4 mm", ("fail", "-0.1 mm")),
        (OLDER, None, "2.5 mm", ("pass", "+0.5 mm")),  # both pass: the margin of the present check
        (OLDER, None, "1.8 mm", ("not_shown", None)),
        (OLDER, None, "1.4 mm", ("fail", "-0.6 mm")),
        (OLDER.replace("2026-12-31", "2026-05-02"), "2020-12-31", "1.5 mm", ("fail", "-0.5 mm")),
        (OLDER.replace("2026-12-31", "2026-05-03"), "2020-12-31", "1.5 mm", ("pass", "0 mm")),
        (EXEMPT, "2020-12-31", "1 mm", ("not_applicable", None)),
        (EXEMPT, "2021-01-01", "1 mm", ("fail", "-1 mm")),
        (EXEMPT, None, "1 mm", ("not_shown", None)),
        (EXEMPT, None, "3 mm", ("not_shown", None)),
        (TWO, "2009-12-31", "1 mm", ("not_applicable", None)),
        (TWO, "2010-01-01", "1.5 mm", ("pass", "0 mm")),
        (TWO, "2022-01-01", "1.5 mm", ("fail", "-0.5 mm")),
        (TWO, None, "1.4 mm", ("not_shown", None)),
        (OLDER.replace("before:", "by: a.raced, before:"), "2020-12-31", "1.5 mm", ("not_shown", None)),
    ],
)
def test_older_checks_are_kept_for_older_cars(
    clause: str, built: str | None, wall: str, expected: tuple[str, str | None]
) -> None:
    car: dict[str, Any] = {"a": {"wall": wall}, "car": {"chassis_built": built} if built else {}}
    assert shown(one(clause, car).assessment) == expected


def test_the_day_that_says_how_old_a_car_is_may_be_another() -> None:
    clause = OLDER.replace("before:", "by: a.raced, before:")
    car = {"a": {"wall": "1.5 mm", "raced": "2020-06-01"}, "car": {"chassis_built": "2025-01-01"}}
    assert one(clause, car).outcome == "pass"


GENERAL = f'"7.3": {{check: {WALL}}}'
SPECIAL = '"7.4": {instead_of: ["7.3"], check: {when: a.sort == \'x\', limit: a.wall, at_least: 1 mm}}'


@pytest.mark.parametrize(
    ("sort", "wall", "general", "special"),
    [
        ("x", "1 mm", "not_applicable", "pass"),
        ("x", "0.5 mm", "not_applicable", "fail"),
        ("y", "1 mm", "fail", "not_applicable"),
        (None, "1 mm", "not_shown", "pass"),  # which of the two speaks is not known
        (None, "3 mm", "pass", "pass"),
        (None, "0.5 mm", "not_shown", "not_shown"),
    ],
)
@pytest.mark.parametrize("order", [(GENERAL, SPECIAL), (SPECIAL, GENERAL)])
def test_one_clause_in_anothers_place(
    order: tuple[str, str], sort: str | None, wall: str, general: str, special: str
) -> None:
    car = {"a": {"wall": wall, **({"sort": sort} if sort else {})}}
    assert outcomes(f"{{{', '.join(order)}}}", car) == {"7.3": general, "7.4": special}


def test_the_clause_that_speaks_instead_is_named() -> None:
    pack = read_pack(f"{{{HEAD}, facts: {FACTS}, clauses: {{{GENERAL}, {SPECIAL}}}}}")
    found = inspect(pack, {"a": {"wall": "1 mm", "sort": "x"}}).outcomes[0]
    assert found_words(found.assessment.finding) == "clause 7.4 applies instead"


def test_a_clause_whose_check_is_not_shown_still_takes_the_others_place() -> None:
    assert outcomes(f"{{{GENERAL}, {SPECIAL}}}", {"a": {"sort": "x"}}) == {
        "7.3": "not_applicable",
        "7.4": "not_shown",
    }


def test_a_combination_that_applies_for_certain_takes_the_others_place() -> None:
    either = '"7.4": {instead_of: ["7.3"], check: {all_of: [{when: a.sort == \'x\', limit: a.wall, at_least: 1 mm}, {limit: a.cost, at_most: 9 GBP}]}}'
    found = outcomes(f"{{{GENERAL}, {either}}}", {"a": {"wall": "1 mm", "cost": "5 GBP"}})
    assert found == {"7.3": "not_applicable", "7.4": "pass"}


def test_an_advisory_breach_is_advice() -> None:
    inspection = inspect(pack_of(WALL, FACTS, clause="severity: advisory"), THIN)
    assert inspection.outcomes[0].outcome == "fail"
    assert inspection.complies is None
    assert inspect(pack_of(WALL, FACTS), THIN).complies is False


@each_row(
    ("check", "penalty", "car", "told"),
    [
        (
            "{limit: a.cost, at_most: 100 GBP}",
            '{amount: "round_up(excess / 20 GBP, 1)", unit: laps}',
            {"cost": "141 GBP"},
            "3 laps",
        ),
        (
            "{limit: a.cost, at_most: 100 GBP}",
            '{amount: "round_up(excess / 20 GBP, 1)", unit: laps}',
            {"cost": "100 GBP"},
            "",
        ),
        ("{limit: a.wall, at_least: 2 mm}", "{amount: 5 * excess}", {"wall": "1.5 mm"}, "2.5 mm"),
        ("{limit: a.wall, at_least: 2 mm}", "{amount: 12, unit: points}", {"wall": "1.5 mm"}, "12 points"),
        ("{limit: a.wall, at_least: 2 mm}", "a lap", {"wall": "1.5 mm"}, "a lap"),
        ("{limit: a.grade, at_least: B}", "{amount: 2 * excess, unit: laps}", {"grade": "C"}, "2 laps"),
        ("{valid: a.raced}", "{amount: excess / 1 days, unit: laps}", {"raced": "2026-05-01"}, "2 laps"),
        (
            "{none_of: [{limit: a.wall, at_most: 2 mm}, {limit: a.cost, at_least: 1 GBP}]}",
            "{amount: 3 * excess, unit: laps}",
            {"wall": "1 mm", "cost": "2 GBP"},
            "6 laps",
        ),
        ("{limit: a.sort, exactly: x}", "{amount: excess, unit: laps}", {"sort": "y"}, "1 laps"),
        (
            "{all_of: [{limit: a.wall, at_least: 2 mm}, {limit: a.wall, at_most: 9 mm}]}",
            "{amount: excess}",
            {"wall": "1 mm"},
            "1 mm",
        ),
    ],
)
def test_a_penalty_grows_with_the_excess(check: str, penalty: str, car: dict[str, Any], told: str) -> None:
    assert penalty_words(one(f"penalty: {penalty}", {"a": car}, check).penalty) == told


def test_a_breach_without_a_margin_has_no_excess() -> None:
    check = "{any_of: [{when: a.sort == 'x', limit: a.wall, at_least: 2 mm}]}"
    found = one("penalty: {amount: excess}", {"a": {"sort": "y", "wall": "1 mm"}}, check)
    assert found.outcome == "fail"
    assert penalty_words(found.penalty) == "cannot be worked out: this breach has no margin"


def test_a_clauses_own_act_goes_before_that_of_the_kind() -> None:
    assert act_words(one("act: Thicken it.", THIN).assessment.act) == "Thicken it."
    assert one("act: Thicken it.", {"a": {"wall": "2 mm"}}).assessment.act is None


def test_texts_are_kept() -> None:
    clause = pack_of(
        WALL,
        FACTS,
        clause="title: T, text: X, consequence: C, interpretation: I, formerly: '2.1', severity: mandatory",
    ).clauses["1"]
    assert (clause.title, clause.text, clause.consequence) == ("T", "X", "C")
    assert (clause.interpretation, clause.formerly, clause.severity) == ("I", "2.1", "mandatory")


@each_row(
    ("clause", "code", "text"),
    [
        ("titel: T", "PK101", "titel"),
        ("severity: mild", "PK108", "mild"),
        ("title: 5", "PK108", "5"),
        ("since: 2026-02-30", "PK106", "2026-02-30"),
        ("since: 2026-05-03, until: 2026-05-02", "PK601", "2026-05-02"),
        ("instead_of: ['9']", "PK602", "'9'"),
        ("instead_of: ['1']", "PK603", "['1']"),
        ("instead_of: [1]", "PK102", "1"),
        ("earlier: {before: 2021-01-01, check: none}", "PK108", "{before: 2021-01-01, check: none}"),
        ("earlier: [{before: 2021-01-01}]", "PK604", "{before: 2021-01-01}"),
        ("earlier: [{check: none}]", "PK604", "{check: none}"),
        ("earlier: [{before: 2021-01-01, check: nothing}]", "PK501", "nothing"),
        ("earlier: [{before: 2021-01-01, by: a.wall, check: none}]", "PK302", "a.wall"),
        ("earlier: [{before: 2021-02-30, check: none}]", "PK106", "2021-02-30"),
        ("earlier: [{before: 2021-01-01, til: 2022-01-01, check: none}]", "PK101", "til"),
        ("earlier: [{before: 2021-01-01, check: {limit: a.wall, at_least: 1 kg}}]", "PK301", "1 kg"),
        ("penalty: 5", "PK108", "5"),
        ("penalty: {unit: laps}", "PK108", "{unit: laps}"),
        ("penalty: {amount: a.sort}", "PK302", "a.sort"),
        ("penalty: {amount: excess, per: lap}", "PK101", "per"),
    ],
)
def test_mistakes_are_told_at_their_place(clause: str, code: str, text: str) -> None:
    found = problems(WALL, FACTS, clause=clause)
    assert found[0].code == code
    span = found[0].span
    assert span is not None
    assert span.source_line[span.column - 1 : span.end_column - 1] == text


def test_margins_of_different_kinds_have_no_excess() -> None:
    check = "{all_of: [{limit: a.wall, at_least: 2 mm}, {limit: a.cost, at_most: 9 GBP}]}"
    (found,) = problems(check, FACTS, clause="penalty: {amount: 2 * excess}")
    assert found.code == "PK302"
    assert problems(check, FACTS, clause="penalty: {amount: 2, unit: laps}") == ()


def test_a_check_for_many_cannot_take_anothers_place() -> None:
    clauses = (
        f'{{{GENERAL}, "7.4": {{instead_of: ["7.3"], check: {{each: ballast, limit: mass, at_most: 9 kg}}}}}}'
    )
    (found,) = problems_in(f"{{{HEAD}, facts: {FACTS}, clauses: {clauses}}}")
    assert found.code == "PK605"
    assert "unless" in found.hint


def test_clauses_that_stand_in_each_others_place_in_a_circle_are_refused() -> None:
    clauses = f'{{"1": {{check: {WALL}, instead_of: ["2"]}}, "2": {{check: {WALL}, instead_of: ["1"]}}}}'
    (found,) = problems_in(f"{{{HEAD}, facts: {FACTS}, clauses: {clauses}}}")
    assert found.code == "PK603"


@pytest.mark.parametrize(
    ("clauses", "code"),
    [
        ('{"1": {title: T}}', "PK501"),
        ('{"1": 5}', "PK108"),
        ('{" ": {check: {holds: true}}}', "PK102"),
        ("{}", "PK108"),
        ("5", "PK108"),
    ],
)
def test_what_is_no_clause(clauses: str, code: str) -> None:
    assert problems_in(f"{{{HEAD}, clauses: {clauses}}}")[0].code == code


def test_mistakes_in_a_clause_do_not_hide_each_other() -> None:
    found = problems("{limit: a.wal, at_least: 2 mm}", FACTS, clause="titel: T, severity: mild")
    assert sorted(p.code for p in found) == ["PK101", "PK108", "PK201"]
    assert {p.clause for p in found} == {"1"}
