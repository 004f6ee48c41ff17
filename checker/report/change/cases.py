"""A pack's own cases as one document: what came out, what is never decided, and which slips nobody would notice."""

from __future__ import annotations

from collections.abc import Sequence

from checker.kinds.judging.assessment import Assessment
from checker.pack.model import Pack
from checker.reading.excerpt import as_data
from checker.reading.problems import Problem, Span
from checker.report.amounts import Data, begun, margin_data
from checker.report.one_car.identity import pack_data
from checker.report.page import DIM, GREEN, RED, YELLOW, Page
from checker.report.wording import rules_words
from checker.report.words.amounts import margin_words
from checker.report.words.findings import found_words, unknown_words
from checker.studies.cases.coverage import Count, Coverage
from checker.studies.cases.running import Difference, Run

_SORTS = ("clauses", "branches", "rows")
_SORT_WORDS = {"clauses": "clauses", "branches": "branches of checks", "rows": "rows of tables"}


def cases_document(pack: Pack, runs: Sequence[Run], coverage: Coverage, strength: Count) -> Data:
    """The document of a run of cases, ready for JSON.

    Args:
        pack: The edition, as on its first day.
        runs: Its cases, judged.
    """
    return {
        **begun("cases"),
        "pack": pack_data(pack),
        "cases": [_case(run) for run in runs],
        "counts": {
            "as_expected": sum(run.came_out for run in runs),
            "otherwise": sum(not run.came_out and run.judged for run in runs),
            "not_judged": sum(not run.judged for run in runs),
        },
        "coverage": {sort: _count(getattr(coverage, sort)) for sort in _SORTS},
        "strength": {
            "noticed": strength.covered,
            "total": strength.total,
            "unnoticed": [{"words": one.words, **_place(one.span)} for one in strength.missing],
        },
    }


def _case(run: Run) -> Data:
    case = run.case
    return {
        "name": case.name,
        "on": case.on.isoformat(),
        **_place(case.span),
        "result": "as_expected" if run.came_out else "otherwise" if run.judged else "not_judged",
        "clauses": [
            {"clause": number, "outcome": outcome.outcome, "margin": margin_data(outcome.assessment.margin)}
            for number, outcome in run.outcomes.items()
        ],
        "problems": [as_data(problem) for problem in (*run.problems, *map(as_problem, run.differences))],
    }


def as_problem(difference: Difference) -> Problem:
    """What came out otherwise, with its place: 701 another outcome, 702 another margin."""
    expected, found = difference.expected, difference.found
    name, number = f"case '{difference.case.name}'", expected.clause
    hint = ""
    if difference.of_outcome:
        message = f"{name}: clause {number} was to be {_said(expected.outcome)}; it is {_came_out(found)}"
    elif found.margin is None:
        message = f"{name}: clause {number} has no margin; {expected.margin} was expected"
    elif difference.unreadable is not None:
        message, hint = f"{name}: {difference.unreadable.message}", difference.unreadable.hint
    else:
        shown = margin_words(found.margin)
        message = f"{name}: the margin of clause {number} was to be {expected.margin}; it is {shown}"
    code = "PK701" if difference.of_outcome else "PK702"
    return Problem(code, message, expected.span, hint, number)


def _said(outcome: str) -> str:
    return outcome.replace("_", " ")


def _came_out(found: Assessment) -> str:
    margin = "" if found.margin is None else f" by {margin_words(found.margin)}"
    why = found_words(found.finding) or "; ".join(unknown_words(found.unknown))
    return f"{_said(found.outcome)}{margin}" + (f": {why}" if why else "")


def _count(count: Count) -> Data:
    return {
        "covered": count.covered,
        "total": count.total,
        "missing": [{"words": item.words, **_place(item.span)} for item in count.missing],
    }


def _place(span: Span) -> Data:
    return {"file": span.file, "line": span.line, "column": span.column}


def cases_text(document: Data, page: Page) -> None:
    """Print a run of cases on a page: what came out otherwise first."""
    page.heading("Cases")
    page.labelled("rules", rules_words(document), 9, 2)
    for case in document["cases"]:
        if case["result"] == "as_expected":
            continue
        page.blank()
        page.put(f"{_where(case)} {case['name']}, judged for {case['on']}", 0, 2, RED)
        for problem in case["problems"]:
            page.put(f"{problem['code']} {problem['message']}", 2, 4)
            if problem["hint"]:
                page.put(problem["hint"], 4, 4, DIM)
    _missing(document["coverage"], page)
    _unnoticed(document["strength"], page)
    page.heading("Result")
    _result(document, page)


def _missing(coverage: Data, page: Page) -> None:
    if any(coverage[sort]["missing"] for sort in _SORTS):
        page.heading("Never decided by a case")
    for sort in _SORTS:
        for item in coverage[sort]["missing"]:
            page.put(f"{_where(item)} {item['words']}", 2, 4, YELLOW)


def _unnoticed(strength: Data, page: Page) -> None:
    if strength["unnoticed"]:
        page.heading("Slips that no case would notice")
    for slip in strength["unnoticed"]:
        page.put(f"{_where(slip)} {slip['words']}", 2, 4, YELLOW)


def _result(document: Data, page: Page) -> None:
    counts, coverage, strength = document["counts"], document["coverage"], document["strength"]
    total = len(document["cases"])
    if not total:
        page.put("The pack has no cases.", 2, style=YELLOW)
        return
    fine = counts["as_expected"] == total
    told = [f"{counts['as_expected']} of {total} cases come out as expected"]
    if counts["otherwise"]:
        told.append(f"{counts['otherwise']} otherwise")
    if counts["not_judged"]:
        told.append(f"{counts['not_judged']} cannot be judged")
    page.put(f"{', '.join(told)}.", 2, style=GREEN if fine else RED)
    decided = [
        f"{coverage[sort]['covered']} of {coverage[sort]['total']} {_SORT_WORDS[sort]}"
        for sort in _SORTS
        if coverage[sort]["total"]
    ]
    page.put(f"They decide {', '.join(decided)}.", 2)
    if strength["total"]:
        share = 100 * strength["noticed"] // strength["total"]
        page.put(
            f"They would notice {strength['noticed']} of {strength['total']} slips of the pen ({share} %).", 2
        )


def _where(item: Data) -> str:
    return f"{item['file']}:{item['line']}:"
