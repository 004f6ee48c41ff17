"""Clauses that no case expects anything of, and cases that expect something of a clause that is not there."""

from __future__ import annotations

from collections.abc import Sequence

from checker.pack.model import Pack
from checker.pack.reading.companion_files import BEGIN_CASES, read_beside
from checker.pack.reading.source import PackSource
from checker.reading.document import Document
from checker.reading.nearest import named_with
from checker.reading.problems import InputError, Path, Problem, Problems


def without_cases(pack: Pack, later: Sequence[str]) -> list[Problem]:
    """Clauses without a case (704, a warning), and cases of unknown clauses (602).

    Args:
        pack: An edition.
        later: The text of its bulletins, which may add a clause that cases speak of.
    """
    try:
        document, place = _cases_of(pack)
    except InputError as error:
        return list(error.problems)
    cases = document.get(place)
    if pack.cases is not None and not isinstance(cases, list):
        hint = '- {name: ..., from: car.yaml, expect: {"3.1": pass}}'
        return [Problem("PK108", "cases are a list", document.span(place), hint=hint)]
    if not isinstance(cases, list) or not cases:
        span = pack.document.key_span(("clauses",))
        hint = "add `cases:`, each clause once on its limit and once just beyond it"
        return [Problem("PK704", "the pack has no cases", span, hint=hint, warning=True)]
    expected: set[str] = set()
    problems = Problems()
    for at in range(len(cases)):
        where: Path = (*place, at, "expect")
        given = document.get(where)
        if not isinstance(given, dict) or not given:
            hint = 'expect: {"3.1": pass}'
            problems.add("PK108", "a case needs `expect`", document.span((*place, at)), hint=hint)
            continue
        expected.update(given)
        for number in given:
            if number not in pack.clauses and not _is_added(number, later):
                message, hint = f"there is no clause {number}", named_with(number, pack.titles)
                problems.add("PK602", message, document.key_span((*where, number)), hint=hint)
    for number, clause in pack.clauses.items():
        if number not in expected:
            message, hint = f"clause {number}, {clause.title}, has no case", _TO_ADD.format(number)
            problems.add("PK704", message, clause.span, hint=hint, clause=number, warning=True)
    return problems.found


_TO_ADD = (
    'write one on the limit and one just beyond it, expect: {{"{}": pass}} and fail; from a car that meets the rules'
    " `checker pack cases PACK --suggest CAR` makes them"
)


def _is_added(number: str, later: Sequence[str]) -> bool:
    return any(f'"{number}"' in text or f"'{number}'" in text for text in later)


def _cases_of(pack: Pack) -> tuple[Document, Path]:
    """Where the pack's cases stand.

    Raises:
        InputError: They are in a file that cannot be read, or that lies outside the pack's folder (109).
    """
    if pack.cases is None:
        return pack.document, ("cases",)
    source = PackSource(pack.document)
    document = read_beside(source, pack.cases, ("cases",), BEGIN_CASES.format(pack.cases))
    if document is None:
        raise InputError(source.problems.found)
    return document, ("cases",) if isinstance(document.data, dict) else ()
