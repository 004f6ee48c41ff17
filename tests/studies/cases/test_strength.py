from __future__ import annotations

from pathlib import Path

import pytest

from checker.studies.cases.coverage import Count, Coverage, coverage_of
from checker.studies.cases.running import run_cases
from checker.studies.cases.strength import strength_of
from tests.examples import quick_first
from tests.pack.folders import bulletin
from tests.studies.casebooks import PACK, book


def studied(folder: Path, cases: str, pack: str = PACK) -> tuple[Coverage, Count]:
    found = book(folder, cases, pack)
    first = found.edition.pack_on(found.edition.head.first)
    runs = run_cases(found)
    return coverage_of(first, runs), strength_of(found.edition, runs)


def case(name: str, sets: str, clause: str, outcome: str, margin: str, on: str = "2026-05-03") -> str:
    expect = f'{{"{clause}": {{outcome: {outcome}, margin: {margin}}}}}'
    return f"- {{name: {name}, from: car.yaml, on: {on}, set: {{{sets}}}, expect: {expect}}}\n"


LONG = case("on the long length", "engine.capacity: 101 cc, frame.length: 1900 mm", "2", "pass", "0 mm")
FULL = "".join(
    [
        case("on the width", "frame.width: 1400 mm", "1", "pass", "0 mm"),
        case("on the short length", "frame.length: 1800 mm", "2", "pass", "0 mm"),
        LONG,
        case("two stroke", "engine.capacity: 125 cc", "3", "pass", "0 cc"),
        case("four stroke", "engine.kind: four stroke, engine.capacity: 130 cc", "3", "pass", "0 cc"),
        case("large two stroke", "engine.capacity: 130 cc", "3", "fail", "-5 cc"),
        case("small four stroke", "engine.kind: four stroke, engine.capacity: 125 cc", "3", "fail", "-5 cc"),
    ]
)


def test_what_no_case_decides_is_named(tmp_path: Path) -> None:
    coverage, _ = studied(tmp_path, '- {name: x, from: car.yaml, expect: {"2": pass, "3": pass}}')
    assert (coverage.clauses.covered, coverage.clauses.total) == (2, 3)
    assert [item.words for item in coverage.clauses.missing] == ["clause 1"]
    assert [item.words for item in coverage.branches.missing] == ["clause 3, branch 1"]
    assert [item.words for item in coverage.rows.missing] == ["row 2 of table longest"]
    row = coverage.rows.missing[0].span
    assert row.source_line.strip() == "- {capacity: above 100 cc, value: 1900 mm}"


def test_only_a_pass_or_a_fail_decides(tmp_path: Path) -> None:
    coverage, _ = studied(tmp_path, '- {name: x, expect: {"1": not_shown, "2": not_shown, "3": not_shown}}')
    assert (coverage.clauses.covered, coverage.branches.covered, coverage.rows.covered) == (0, 0, 0)


def test_cases_on_every_limit_notice_every_slip(tmp_path: Path) -> None:
    coverage, strength = studied(tmp_path, FULL)
    assert [count.missing for count in (coverage.clauses, coverage.branches, coverage.rows)] == [[], [], []]
    assert [one.words for one in strength.missing] == []
    assert strength.covered == strength.total > 20


def test_a_slip_that_no_case_notices_is_named_with_its_place(tmp_path: Path) -> None:
    _, strength = studied(tmp_path, FULL.replace(LONG, ""))
    told = {(one.words, one.span.source_line.strip()) for one in strength.missing}
    second = "- {capacity: above 100 cc, value: 1900 mm}"
    assert ("row 2, value: 1900 mm as 1901 mm", second) in told
    assert ("capacity: 100 cc as 101 cc", "- {capacity: up to 100 cc, value: 1800 mm}") in told
    assert all("1900 mm" in words or "100 cc" in words for words, _ in told)


def test_a_pass_without_a_margin_notices_less_than_one_with(tmp_path: Path) -> None:
    _, loose = studied(tmp_path, '- {name: x, from: car.yaml, expect: {"1": pass}}')
    _, tight = studied(
        tmp_path / "tight", '- {name: x, from: car.yaml, expect: {"1": {outcome: pass, margin: 100 mm}}}'
    )
    assert "at_most: 1400 mm as 1399 mm" in [one.words for one in loose.missing]
    assert "at_most: 1400 mm as 1399 mm" not in [one.words for one in tight.missing]


def test_a_case_that_fails_counts_for_nothing(tmp_path: Path) -> None:
    _, strength = studied(
        tmp_path, '- {name: x, from: car.yaml, expect: {"1": {outcome: pass, margin: 1 mm}}}'
    )
    assert strength.covered == 0


def test_what_a_bulletin_wrote_is_to_be_noticed_too(tmp_path: Path) -> None:
    change = bulletin('{change: "1", at: check.at_most, for: 1400 mm, read: 1380 mm}')
    (tmp_path / "B1.yaml").write_text(change, encoding="utf-8")
    late = '- {name: x, from: car.yaml, on: 2026-06-01, expect: {"2": pass}}\n'
    _, strength = studied(tmp_path, FULL + late)
    told = [(one.words, one.span.file) for one in strength.missing]
    assert ("at_most: 1380 mm as 1381 mm", str(tmp_path / "B1.yaml")) in told
    on_it = case("y", "frame.width: 1380 mm", "1", "pass", "0 mm", "2026-06-01")
    _, strength = studied(tmp_path, FULL + on_it)
    assert [one.words for one in strength.missing] == [
        "B1 from: 2026-06-01 as 2026-05-31",
    ]
    edges = [
        case(f"edge {day}", "frame.width: 1390 mm", "1", "pass" if day < "2026-06" else "fail", margin, day)
        for day, margin in (("2026-05-31", "10 mm"), ("2026-06-01", "-10 mm"))
    ]
    _, strength = studied(tmp_path, "\n".join([FULL + on_it, *edges]))
    assert strength.missing == []


def test_a_slip_that_reading_finds_is_not_counted(tmp_path: Path) -> None:
    pack = PACK.replace("at_most: 1400 mm}", "at_least: 1399 mm, at_most: 1400 mm}")
    _, strength = studied(tmp_path, '- {name: x, from: car.yaml, expect: {"1": fail}}', pack)
    told = [one.words for one in strength.every]
    assert "at_most: 1400 mm as 1401 mm" in told
    assert "at_least: 1399 mm as 1401 mm" not in told


REGISTER = """\
approvals:
  - reference: A1
    clauses: ["1"]
    cars: ["5"]
    when: frame.length < 1800 mm
    from: 2026-02-01
    until: 2026-11-30
    reason: Out of production
    changes: [{change: "1", at: check.at_most, for: 1400 mm, read: 1410 mm}]
"""


def cited(name: str, on: str, width: str, outcome: str, more: str = "", margin: str = "") -> str:
    told = f"{{outcome: {outcome}, margin: {margin}}}" if margin else outcome
    sets = f"approvals: [A1], frame.width: {width}{more}"
    return f'- {{name: {name}, on: {on}, from: car.yaml, set: {{{sets}}}, expect: {{"1": {told}}}}}\n'


CITED = (
    cited("first day", "2026-02-01", "1410 mm", "pass", margin="0 mm")
    + cited("day before", "2026-01-31", "1410 mm", "fail")
    + cited("last day", "2026-11-30", "1410 mm", "pass")
    + cited("day after", "2026-12-01", "1410 mm", "fail")
    + cited("another car", "2026-05-03", "1410 mm", "fail", ', car.number: "6"')
    + cited("too long for it", "2026-05-03", "1410 mm", "fail", ", frame.length: 1800 mm")
)


@pytest.mark.parametrize(
    ("left_out", "unnoticed"),
    quick_first(
        [
            ("", []),
            ("first day", ["A1 from: 2026-02-01 as 2026-02-02", "A1 read: 1410 mm as 1411 mm"]),
            ("day before", ["A1 from: 2026-02-01 as 2026-01-31"]),
            ("last day", ["A1 until: 2026-11-30 as 2026-11-29"]),
            ("day after", ["A1 until: 2026-11-30 as 2026-12-01"]),
            ("another car", ["A1 without cars"]),
            ("too long for it", ["A1 without when"]),
        ],
        2,
    ),
)
def test_every_part_of_an_approval_has_a_case_or_is_told(
    tmp_path: Path, left_out: str, unnoticed: list[str]
) -> None:
    cases = "".join(
        line + "\n" for line in CITED.splitlines() if not left_out or f"name: {left_out}," not in line
    )
    tmp_path.mkdir(exist_ok=True)
    (tmp_path / "approvals.yaml").write_text(REGISTER, encoding="utf-8")
    _, strength = studied(tmp_path, cases)
    told = [one.words for one in strength.missing if one.span.file.endswith("approvals.yaml")]
    assert told == unnoticed


@pytest.mark.deep
def test_the_days_of_a_bulletin_are_to_be_noticed(tmp_path: Path) -> None:
    change = bulletin(
        '{change: "1", at: check.at_most, for: 1400 mm, read: 1380 mm}',
        days="from: 2026-06-01, until: 2026-08-31",
    )
    tmp_path.mkdir(exist_ok=True)
    (tmp_path / "b.yaml").write_text(change, encoding="utf-8")
    days = {"2026-05-31": "pass", "2026-06-01": "fail", "2026-08-31": "fail", "2026-09-01": "pass"}
    lines = [
        case(day, "frame.width: 1390 mm", "1", says, "10 mm" if says == "pass" else "-10 mm", day)
        for day, says in days.items()
    ]
    asked = [
        "B1 from: 2026-06-01 as 2026-06-02", "B1 from: 2026-06-01 as 2026-05-31",
        "B1 until: 2026-08-31 as 2026-09-01", "B1 until: 2026-08-31 as 2026-08-30",
    ]  # fmt: skip
    noticed_by = {
        "2026-06-01": asked[0],
        "2026-05-31": asked[1],
        "2026-09-01": asked[2],
        "2026-08-31": asked[3],
    }
    for left_out in ("", *days):
        kept = [line for line, day in zip(lines, days, strict=True) if day != left_out]
        _, strength = studied(tmp_path, "\n".join(kept))
        told = [one.words for one in strength.missing if one.words in asked]
        assert told == ([noticed_by[left_out]] if left_out else [])
        assert {one.words for one in strength.every} >= set(asked)


def test_conditions_are_to_be_noticed(tmp_path: Path) -> None:
    pack = PACK.replace(
        "clauses:\n", "conditions: {presented: {fuel: 4 L, driver: aboard, wear: new}}\nclauses:\n"
    ).replace(
        "cases:\n",
        '  "4": {title: Weight, check: {limit: weight.total, at_least: 150 kg, condition: presented}}\ncases:\n',
    )
    loads = "weighing: {fuel: 2 L, driver: out, tyres: dry, wear: new, readings: [{total: 100 kg}]}, fuel: {density: 0.75 kg/L}, driver: {mass: 50 kg}"
    _, none = studied(tmp_path, '- {name: x, from: car.yaml, expect: {"1": pass}}', pack)
    told = {one.words for one in none.missing}
    assert {
        "fuel: 4 L as 5 L",
        "driver: aboard as out",
        "wear: new as worn",
        "condition: presented as any",
    } <= told
    _, some = studied(
        tmp_path, f'- {{name: x, set: {{{loads}}}, expect: {{"4": {{outcome: pass, margin: 1.5 kg}}}}}}', pack
    )
    left = {one.words for one in some.missing}
    assert (
        not {
            "fuel: 4 L as 5 L",
            "fuel: without fuel",
            "driver: aboard as out",
            "condition: presented as as_weighed",
        }
        & left
    )
