from __future__ import annotations

from pathlib import Path

from checker.pack.lint.everything import lint
from tests.examples import each_row
from tests.judged.cases import PACKS, Case, cases, differences

CASES = list(cases())


@each_row("case", CASES, ids=[f"{case.pack}: {case.name}" for case in CASES])
def test_a_car_comes_to_what_the_rules_say(case: Case) -> None:
    assert differences(case.inspect(), case.given["expect"]) == []


@each_row("folder", sorted(PACKS.iterdir()), ids=lambda folder: folder.name)
def test_nothing_is_said_against_a_sound_pack(folder: Path) -> None:
    assert [problem.message for problem in lint(folder) if problem.code != "PK704"] == []
