from __future__ import annotations

from pathlib import Path

from checker.studies.cases.coverage import Coverage, coverage_of
from checker.studies.cases.running import run_cases
from checker.studies.cases.strength import Strength, strength_of
from tests.pack.folders import bulletin
from tests.studies.casebooks import PACK, book


def studied(folder: Path, cases: str, pack: str = PACK) -> tuple[Coverage, Strength]:
    found = book(folder, cases, pack)
    first = found.edition.pack_on(found.edition.head.first)
    runs = run_cases(found)
    return coverage_of(first, runs), strength_of(first, runs)


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
    assert [words for words, _ in strength.unnoticed] == []
    assert strength.count == strength.total > 20


def test_a_slip_that_no_case_notices_is_named_with_its_place(tmp_path: Path) -> None:
    _, strength = studied(tmp_path, FULL.replace(LONG, ""))
    told = {(words, span.source_line.strip()) for words, span in strength.unnoticed}
    second = "- {capacity: above 100 cc, value: 1900 mm}"
    assert ("row 2, value: 1900 mm as 1901 mm", second) in told
    assert ("capacity: 100 cc as 101 cc", "- {capacity: up to 100 cc, value: 1800 mm}") in told
    assert all("1900 mm" in words or "100 cc" in words for words, _ in told)


def test_a_pass_without_a_margin_notices_less_than_one_with(tmp_path: Path) -> None:
    _, loose = studied(tmp_path, '- {name: x, from: car.yaml, expect: {"1": pass}}')
    _, tight = studied(
        tmp_path / "tight", '- {name: x, from: car.yaml, expect: {"1": {outcome: pass, margin: 100 mm}}}'
    )
    assert "at_most: 1400 mm as 1399 mm" in [words for words, _ in loose.unnoticed]
    assert "at_most: 1400 mm as 1399 mm" not in [words for words, _ in tight.unnoticed]


def test_a_case_that_fails_counts_for_nothing(tmp_path: Path) -> None:
    _, strength = studied(
        tmp_path, '- {name: x, from: car.yaml, expect: {"1": {outcome: pass, margin: 1 mm}}}'
    )
    assert strength.count == 0


def test_what_a_bulletin_wrote_is_to_be_noticed_too(tmp_path: Path) -> None:
    change = bulletin('{change: "1", at: check.at_most, for: 1400 mm, read: 1380 mm}')
    (tmp_path / "B1.yaml").write_text(change, encoding="utf-8")
    late = '- {name: x, from: car.yaml, on: 2026-06-01, expect: {"2": pass}}\n'
    _, strength = studied(tmp_path, FULL + late)
    told = [(words, span.file) for words, span in strength.unnoticed]
    assert ("at_most: 1380 mm as 1381 mm", str(tmp_path / "B1.yaml")) in told
    on_it = case("y", "frame.width: 1380 mm", "1", "pass", "0 mm", "2026-06-01")
    _, strength = studied(tmp_path, FULL + on_it)
    assert strength.unnoticed == []


def test_a_slip_that_reading_finds_is_not_counted(tmp_path: Path) -> None:
    pack = PACK.replace("at_most: 1400 mm}", "at_least: 1399 mm, at_most: 1400 mm}")
    _, strength = studied(tmp_path, '- {name: x, from: car.yaml, expect: {"1": fail}}', pack)
    told = [words for words, _ in strength.noticed]
    assert "at_most: 1400 mm as 1401 mm" in told
    assert "at_least: 1399 mm as 1401 mm" not in told
