"""Cases that cannot be judged or expect what cannot be are told by lint, all of them at once, and no other."""

from __future__ import annotations

from fractions import Fraction
from itertools import product
from pathlib import Path

import pytest

from checker.pack.editions.edition import newest
from checker.pack.editions.finding import open_folder
from checker.pack.model import Approval
from checker.studies.cases.casebook import Expectation, read_cases
from checker.studies.cases.running import run_cases
from checker.studies.cases.sound import cannot_be, lint_with_cases
from tests.building import outcome_of, pack_of
from tests.examples import each_row
from tests.pack.folders import EDITION, bulletin, write

ON = "on: 2026-05-01"


def told(folder: Path, case: str, **more: str) -> list[str]:
    write(folder, {"edition.yaml": f"{EDITION}cases:\n  - {case}\n", **more})
    return [f"{p.code} {p.message}" for p in lint_with_cases(folder) if not p.warning]


@pytest.mark.parametrize(
    ("case", "says"),
    [
        ('{name: a, set: {frame.widht: 1 mm}, expect: {"1": pass}}', "PK703 frame.widht: there is no fact 'widht'"),
        ('{name: a, set: {frme.width: 1 mm}, expect: {"1": pass}}', "PK703 frme"),
        ('{name: a, set: {"joints[0].wall": 1 mm}, expect: {"1": pass}}', "PK703 "),
        ('{name: a, remove: [frame.width], expect: {"1": pass}}', "PK703 there is no frame to take away"),
        ('{name: a, set: {frame.width: 1 kg}, expect: {"1": pass}}', "CD204 frame.width: 1 kg is a mass"),
        ('{name: a, on: 2027-01-01, expect: {"1": pass}}', "PK620 case 'a' is of 2027-01-01"),
        ('{name: a, from: none.yaml, expect: {"1": pass}}', "PK109 'none.yaml' cannot be read"),
        ('{name: a, expect: {"7": pass}}', "PK602 there is no clause 7"),
        ('{name: a, expect: {"1": ok}}', "PK108 'ok' is no outcome"),
        ('{name: a, expect: {"1": too_close}}', "PK705 case 'a' expects what cannot be of clause 1: a case is judged"),
        ('{name: a, expect: {"1": dispensation}}', "no approval of the register excuses it"),
        ('{name: a, expect: {"1": {outcome: pass, margin: -1 mm}}}', "what passes has a margin of 0 or more"),
        ('{name: a, expect: {"1": {outcome: fail, margin: 1 mm}}}', "what fails has a margin of 0 or less"),
        ('{name: a, expect: {"1": {outcome: pass, margin: 1 kg}}}', "its margin is a length, not a mass"),
        ('{name: a, expect: {"1": {outcome: pass, margin: 1}}}', "its margin is a length, not a plain number"),
        ('{name: a, expect: {"1": {outcome: pass, margin: far}}}', "'far' is not a number"),
        ('{name: a, expect: {"1": {outcome: not_shown, margin: 1 mm}}}', "what is not shown has no margin"),
    ],
)  # fmt: skip
def test_what_is_wrong_with_a_case(tmp_path: Path, case: str, says: str) -> None:
    (found,) = told(tmp_path, case)
    assert says in found


def test_editions_that_share_a_file_of_cases_are_told_so_once_with_what_to_do(tmp_path: Path) -> None:
    """And after that is done, nothing is told any more."""
    cases = "".join(
        f"- {{name: case {n}, on: 2026-05-0{n}, set: {{frame.width: 1 mm}}, expect: {{'1': fail}}}}\n"
        for n in range(1, 8)
    )
    edition = f"{EDITION}cases: old.cases.yaml\n"
    later = edition.replace('edition: "1"', 'edition: "2"').replace("2026-", "2027-")
    write(tmp_path, {"2026.yaml": edition, "old.cases.yaml": cases, "2027.yaml": later})
    (problem,) = [one for one in lint_with_cases(tmp_path) if not one.warning]
    assert (problem.code, problem.message) == (
        "PK620",
        "this edition shares its cases with 2026.yaml: 7 are of days outside 2027-01-01 to 2027-12-31",
    )
    assert problem.hint.startswith("copy the file of cases for the new edition")
    assert problem.span is not None
    assert problem.span.file == str(tmp_path / "2027.yaml")
    book = read_cases(newest(open_folder(tmp_path)))
    assert {one.hint for run in run_cases(book) for one in run.problems} == {
        "give it another day with `on`; of a file that two editions name, give each its own"
    }
    both = cases + cases.replace("2026-", "2027-")
    write(tmp_path, {"old.cases.yaml": both})
    (problem,) = [one for one in lint_with_cases(tmp_path) if not one.warning]
    assert "shares its cases" in problem.message
    done = {
        "2027.yaml": later.replace("old.cases", "new.cases"),
        "new.cases.yaml": cases.replace("2026-", "2027-"),
    }
    write(tmp_path, {"old.cases.yaml": cases, **done})
    assert [one for one in lint_with_cases(tmp_path) if not one.warning] == []


@pytest.mark.parametrize(
    "case",
    [
        '{name: a, set: {frame.width: 1400 mm}, expect: {"1": {outcome: pass, margin: 0 mm}}}',
        '{name: a, set: {frame.width: 1500 mm}, expect: {"1": {outcome: pass, margin: 0.1 m}}}',
        '{name: a, expect: {"1": not_shown}}',
        '{name: a, set: {components: [{name: x}]}, remove: ["components[0].name"], expect: {"1": not_shown}}',
    ],
)
def test_whether_a_sound_case_comes_out_is_not_asked(tmp_path: Path, case: str) -> None:
    assert told(tmp_path, case) == []


def test_all_is_told_at_once_and_each_thing_once(tmp_path: Path) -> None:
    cases = '{name: a, expect: {"7": pass}}\n  - {name: b}\n  - {name: c, set: {frame.widht: 1 mm}, expect: {"1": pass}}'
    assert [one[:5] for one in told(tmp_path, cases)] == ["PK602", "PK108", "PK703"]


def test_a_clause_is_there_on_the_days_of_its_bulletin(tmp_path: Path) -> None:
    change = bulletin('{withdraw: "2"}')
    assert told(tmp_path, f'{{name: a, {ON}, expect: {{"2": not_shown}}}}', **{"b.yaml": change}) == []
    (found,) = told(tmp_path, '{name: a, on: 2026-06-01, expect: {"2": not_shown}}')
    assert found.startswith("PK602 case 'a' expects something of clause 2, which is not in force then")


def test_an_approval_without_changes_brings_a_dispensation_about() -> None:
    pack = pack_of('"1": {title: T, check: {limit: a.b, at_most: 5 mm}}', "facts: {a.b: {unit: mm}}")
    expected = Expectation("1", "dispensation")
    assert cannot_be(expected, pack.clauses["1"], pack) is not None
    object.__setattr__(pack, "approvals", (Approval("A1", ("1",), (), None, last_day=None, reason="x"),))
    assert cannot_be(expected, pack.clauses["1"], pack) is None


CHECKS = [
    "{limit: a.b, at_most: 5 mm}",
    "{limit: a.b, at_least: 5 mm, at_most: 6 mm}",
    "{limit: a.b, exactly: 5 mm}",
    "{limit: a.b, above: 5 mm}",
    "{allowed: [5 mm, 7 mm], of: a.b}",
    "{banned: [5 mm, 7 mm], of: a.b}",
    "{any_of: [{limit: a.b, at_least: 7 mm}, {holds: a.t}]}",
    "{none_of: [{limit: a.b, at_least: 7 mm}, {holds: a.t}]}",
    "{at_least_of: {count: 1, of: [{limit: a.b, at_least: 7 mm}, {limit: a.m, at_least: 2 kg}]}}",
    "{at_most_of: {count: 1, of: [{limit: a.b, at_least: 5 mm}, {holds: a.t}]}}",
    "{when: a.t, limit: a.m, at_most: 2 kg}",
    "{holds: a.t}",
    "{valid: a.d}",
    "{each: ballast, limit: mass, at_most: 1 kg}",
    "{banned: [lead], of: a.w}",
]


@each_row("check, size, truth", product(CHECKS, ["4 mm", "5 mm", "7 mm"], ["true", "false"]))
def test_what_does_come_out_can_be(check: str, size: str, truth: str) -> None:
    """The law behind it: no outcome with its margin that a car brings about is refused."""
    facts = "facts: {a.b: {unit: mm}, a.t: {type: truth}, a.m: {unit: kg}, a.d: {type: date}, a.w: {one_of: [lead, tin]}}"
    pack = pack_of(f'"1": {{title: T, check: {check}}}', facts)
    car = (
        f"a: {{b: {size}, t: {truth}, m: 3 kg, d: 2026-05-01, w: lead}}\nballast: [{{label: x, mass: 2 kg}}]"
    )
    found = outcome_of(pack, car).assessment
    margin = None
    if found.margin is not None:
        unit = found.margin.unit
        margin = f"{found.margin.value / unit.factor} {unit.name}" if unit else Fraction(found.margin.value)
    assert cannot_be(Expectation("1", found.outcome, margin), pack.clauses["1"], pack) is None
