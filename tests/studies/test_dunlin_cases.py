"""The Dunlin Formula's own cases."""

from __future__ import annotations

from pathlib import Path

import pytest

from checker.pack.editions.edition import Edition
from checker.pack.editions.finding import open_folder
from checker.studies.cases.casebook import read_cases
from checker.studies.cases.coverage import coverage_of
from checker.studies.cases.running import run_cases
from checker.studies.cases.strength import strength_of

FOLDER = Path(__file__).parents[2] / "rulepacks/dunlin"


@pytest.mark.parametrize("edition", ["2025.1", "2026.1"])
def test_every_case_comes_out_and_would_notice_a_slip(edition: str) -> None:
    book = read_cases(Edition(open_folder(FOLDER), str(FOLDER / f"{edition}.yaml")))
    runs = run_cases(book)
    assert [problem.message for run in runs for problem in run.problems] == []
    first = book.edition.pack_on(book.edition.head.first)
    coverage, strength = coverage_of(first, runs), strength_of(first, runs)
    assert [item.words for item in coverage.clauses.missing] == []
    assert strength.count >= 0.95 * strength.total
    assert strength.total > 250
