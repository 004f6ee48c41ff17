"""Every shape of rule that the language reference lists, as a clause with a case on its limit and one beyond it."""

from __future__ import annotations

from pathlib import Path

import pytest

from checker.pack.editions.edition import Edition
from checker.pack.lint.everything import lint
from checker.pack.reading.finding import open_folder
from checker.studies.cases.casebook import read_cases
from checker.studies.cases.running import Run, run_cases

FOLDER = Path(__file__).parent / "packs" / "language"
RUNS = run_cases(read_cases(Edition(open_folder(FOLDER), str(FOLDER / "rules.yaml"))))


@pytest.mark.parametrize("run", RUNS, ids=[run.case.name for run in RUNS])
def test_a_case_comes_out(run: Run) -> None:
    assert [problem.message for problem in run.problems] == []


def test_the_pack_lints_clean() -> None:
    assert lint(FOLDER) == ()


def test_every_clause_passes_on_its_limit_and_fails_beyond_it() -> None:
    expected = [e for run in RUNS for e in run.case.expectations]
    clauses = set(RUNS[0].pack.clauses) if RUNS[0].pack else set()
    assert {e.clause for e in expected if e.outcome == "pass"} == clauses
    assert {e.clause for e in expected if e.outcome == "fail"} == clauses
