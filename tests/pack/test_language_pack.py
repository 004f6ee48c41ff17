"""Every shape of rule that the language reference lists, as a clause with a case on its limit and one beyond it."""

from __future__ import annotations

from pathlib import Path

from checker.pack.editions.edition import Edition
from checker.pack.editions.finding import open_folder
from checker.pack.lint.everything import lint
from checker.studies.cases.casebook import Case, read_cases
from checker.studies.cases.running import run_case
from tests.examples import each_row
from tests.studies.casebooks import problems_of

FOLDER = Path(__file__).parent / "packs" / "language"
BOOK = read_cases(Edition(open_folder(FOLDER), str(FOLDER / "rules.yaml")))


@each_row("case", BOOK.cases, ids=[case.name for case in BOOK.cases])
def test_a_case_comes_out(case: Case) -> None:
    assert [problem.message for problem in problems_of(run_case(BOOK, case))] == []


def test_the_pack_lints_clean() -> None:
    """But for one warning: it asks for the second reading as declared, which an entrant may choose."""
    assert [(problem.code, problem.clause) for problem in lint(FOLDER)] == [("PK510", "32.11")]


def test_every_clause_passes_on_its_limit_and_fails_beyond_it() -> None:
    expected = [e for case in BOOK.cases for e in case.expectations]
    clauses = set(BOOK.edition.pack_on(BOOK.cases[0].on).clauses)
    assert {e.clause for e in expected if e.outcome == "pass"} == clauses
    assert {e.clause for e in expected if e.outcome == "fail"} == clauses
