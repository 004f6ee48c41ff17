"""A run of cases as a document and as text."""

from __future__ import annotations

from pathlib import Path

from checker.report.amounts import Data
from checker.report.change.cases import cases_document, cases_text
from checker.report.page import Page
from checker.studies.cases.coverage import coverage_of
from checker.studies.cases.running import run_cases
from checker.studies.cases.strength import strength_of
from tests.report.documents import validator
from tests.studies.casebooks import book

CASES = """
- {name: fine, from: car.yaml, set: {frame.width: 1400 mm}, expect: {"1": {outcome: pass, margin: 0 mm}}}
- {name: wrong, from: car.yaml, expect: {"2": fail}}
- {name: lost, from: car.yaml, on: 2025-01-01, expect: {"2": fail}}
"""


def document_of(folder: Path, cases: str) -> Data:
    found = book(folder, cases)
    first = found.edition.pack_on(found.edition.head.first)
    runs = run_cases(found)
    document = cases_document(first, runs, coverage_of(first, runs), strength_of(found.edition, runs))
    validator("cases").validate(document)
    return document


def test_the_document_tells_what_came_out_and_what_is_missing(tmp_path: Path) -> None:
    document = document_of(tmp_path, CASES)
    assert [case["result"] for case in document["cases"]] == ["as_expected", "otherwise", "not_judged"]
    assert document["counts"] == {"as_expected": 1, "otherwise": 1, "not_judged": 1}
    assert document["cases"][0]["clauses"] == [
        {"clause": "1", "outcome": "pass", "margin": {"value": "0", "exact": "0/1", "unit": "mm"}}
    ]
    assert [problem["code"] for problem in document["cases"][1]["problems"]] == ["PK701"]
    clauses = document["coverage"]["clauses"]
    assert (clauses["covered"], clauses["total"]) == (2, 3)
    assert [item["words"] for item in clauses["missing"]] == ["clause 3"]
    strength = document["strength"]
    assert 0 < strength["noticed"] < strength["total"]
    assert len(strength["unnoticed"]) == strength["total"] - strength["noticed"]


def test_the_text_says_it_in_words(tmp_path: Path) -> None:
    page = Page(100)
    cases_text(document_of(tmp_path, CASES), page)
    text = " ".join(page.text().split())
    assert (
        "wrong, judged for 2026-01-01 PK701 case 'wrong': clause 2 was to be fail; it is pass by +100 mm"
        in text
    )
    assert "1 of 3 cases come out as expected, 1 otherwise, 1 cannot be judged." in text
    assert "clause 3, branch 2" in text
    assert "SLIPS THAT NO CASE WOULD NOTICE" in text


def test_a_pack_without_cases_says_so(tmp_path: Path) -> None:
    page = Page(80)
    cases_text(document_of(tmp_path, "[]"), page)
    assert "The pack has no cases." in page.text()
