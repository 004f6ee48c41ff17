"""The Dunlin Formula's own cases."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest

from checker.pack.editions.edition import Edition
from checker.pack.editions.finding import open_folder
from checker.studies.cases.casebook import read_cases
from checker.studies.cases.coverage import coverage_of
from checker.studies.cases.running import Run, run_cases
from checker.studies.cases.strength import strength_of
from tests.examples import quick_first
from tests.studies.casebooks import problems_of

EDITIONS = ("2025.1", "2026.1")
FOLDER = Path(__file__).parents[2] / "rulepacks/dunlin"


@cache
def judged(edition: str) -> tuple[Edition, list[Run]]:
    book = read_cases(Edition(open_folder(FOLDER), str(FOLDER / f"{edition}.yaml")))
    return book.edition, run_cases(book)


@pytest.mark.parametrize("edition", quick_first(reversed(EDITIONS), 0))
def test_every_case_comes_out_and_every_clause_has_one(edition: str) -> None:
    text, runs = judged(edition)
    first = text.pack_on(text.head.first)
    assert [problem.message for run in runs for problem in problems_of(run)] == []
    assert [item.words for item in coverage_of(first, runs).clauses.missing] == []


@pytest.mark.deep
@pytest.mark.parametrize("edition", EDITIONS)
def test_the_cases_would_notice_a_slip(edition: str) -> None:
    strength = strength_of(*judged(edition))
    assert strength.covered >= 0.95 * strength.total
    assert strength.total > 250
