from __future__ import annotations

from pathlib import Path

import pytest

from checker.pack.lint.everything import lint
from tests.examples import each_row
from tests.judged.cases import PACKS, Case, cases, differences

CASES = list(cases())


def called(case: Case) -> str:
    return f"{case.pack}: {case.name}"


@each_row("case", CASES[::4], ids=called)
def test_a_car_comes_to_what_the_rules_say(case: Case) -> None:
    assert differences(case.inspect(), case.given["expect"]) == []


@pytest.mark.deep
@each_row("case", [case for place, case in enumerate(CASES) if place % 4], ids=called)
def test_so_does_every_other(case: Case) -> None:
    assert differences(case.inspect(), case.given["expect"]) == []


@each_row("folder", sorted(PACKS.iterdir()), ids=lambda folder: folder.name)
def test_nothing_is_said_against_a_sound_pack(folder: Path) -> None:
    assert [problem.message for problem in lint(folder) if problem.code != "PK704"] == []
