"""Cases that cannot be judged, and cases that expect what no car can bring about: told without judging any.

A case that is never asked, or that can never come out, guards nothing. Whether it comes out is told by running it.
"""

from __future__ import annotations

import os
from collections.abc import Iterator
from fractions import Fraction
from pathlib import Path

from checker.kinds.contract.check import kinds_of_margins
from checker.kinds.judging.assessment import DISPENSATION, FAIL, NOT_APPLICABLE, NOT_SHOWN, PASS, TOO_CLOSE
from checker.pack.editions.edition import Edition
from checker.pack.editions.finding import PackFolder, open_folder
from checker.pack.editions.folder_files import EDITION, word_of
from checker.pack.lint.everything import in_order, lint
from checker.pack.model import Clause, Pack
from checker.quantities.kind import NUMBER, Kind, kind_in_words
from checker.quantities.literal import as_meant, parse_literal
from checker.quantities.misread import LiteralError
from checker.quantities.units import TEMPERATURE_STEP
from checker.reading.document import REMOVE, Edit
from checker.reading.problems import InputError, Problem
from checker.reading.quick_dataclasses import replace
from checker.studies.cases.casebook import Case, Expectation, readable_cases
from checker.studies.cases.running import prepared
from checker.studies.cases.sharing import shared_with

_SPOKEN_OF = (
    *("formula", "car", "event", "weighing", "fuel", "tyres", "fluids", "driver", "dimensions"),
    *("centre_of_gravity", "instruments", "checks", "ballast", "approvals", "unfinished"),
)
"""Sections of a declaration that others rest on or speak of."""


def lint_with_cases(place: str | os.PathLike[str]) -> tuple[Problem, ...]:
    """Everything that can be said against a pack and its cases before a car is seen.

    Args:
        place: As for `lint`.

    Raises:
        InputError: There is no pack there.
    """
    found = list(lint(place))
    places = {(p.code, p.span.file, p.span.line) for p in found if p.span is not None}
    for problem in _of_all_cases(Path(place)):
        span = problem.span
        if span is None or (problem.code, span.file, span.line) not in places:
            found.append(problem)
    return in_order(found)


def _of_all_cases(path: Path) -> Iterator[Problem]:
    try:
        alone = path.is_file() and word_of(str(path)) == EDITION
        folder = open_folder(path.parent if path.is_file() and not alone else path)
    except InputError:
        return  # told by lint
    shared: set[str] = set()
    for file in reversed(folder.editions):
        yield from _of_edition(folder, file, shared)


def _of_edition(folder: PackFolder, file: str, shared: set[str]) -> Iterator[Problem]:
    """What is wrong with the cases of an edition.

    Args:
        shared: Files of cases of which it was told that editions share them; the edition's is added.
    """
    try:
        edition = Edition(folder, file)
        edition.pack_on(edition.head.first)
        book, problems = readable_cases(edition)
    except InputError as error:
        yield from (problem for problem in error.problems if not problem.warning)
        return
    yield from problems.errors
    apart = {id(one) for one in book.cases if one.span.file == book.file and not edition.head.covers(one.on)}
    other = shared_with(edition) if apart else ""
    if other and book.file not in shared:
        shared.add(book.file)
        yield _sharing(edition, other, len(apart))
    for case in book.cases:
        if other and id(case) in apart:
            continue
        ready = prepared(book, _lightened(case))
        yield from ready.problems
        if ready.pack is not None:
            yield from _expecting_what_cannot_be(case, ready.pack)


def _sharing(edition: Edition, other: str, apart: int) -> Problem:
    many = "one is of a day" if apart == 1 else f"{apart} are of days"
    message = f"this edition shares its cases with {other}: {many} outside {edition.head.days}"
    hint = (
        "copy the file of cases for the new edition, give it days of that edition, and name it under `cases`"
    )
    return Problem("PK620", message, edition.document.span(("cases",)), hint)


def _lightened(case: Case) -> Case:
    """The case without what it leaves as it is of the car that it starts from: reading that anew each time takes long.

    What is wrong with that car itself is told where all of it is read, by running the cases.
    """
    data = case.declaration.data
    left: list[Edit] = []
    for name, value in data.items() if isinstance(data, dict) else ():
        here = [path for path in case.touched if path[:1] == (name,)]
        if name in _SPOKEN_OF or any(len(path) == 1 for path in here):
            continue
        if isinstance(value, list):
            entries = {path[1] for path in here}
            left += [Edit((name, at), REMOVE) for at in reversed(range(len(value))) if at not in entries]
        elif not here:
            left.append(Edit((name,), REMOVE))
    return replace(case, declaration=case.declaration.edited(left, "PK703"))


def _expecting_what_cannot_be(case: Case, pack: Pack) -> Iterator[Problem]:
    for expected in case.expectations:
        clause = pack.clauses.get(expected.clause)
        said = None if clause is None else cannot_be(expected, clause, pack)
        if said is not None:
            message = f"case '{case.name}' expects what cannot be of clause {expected.clause}: {said[0]}"
            yield Problem("PK705", message, expected.span, said[1], expected.clause)


def cannot_be(expected: Expectation, clause: Clause, pack: Pack) -> tuple[str, str] | None:
    """Why no car brings about what a case expects of a clause, and the cure; None where one may."""
    outcome = expected.outcome
    if outcome == TOO_CLOSE:
        return "a case is judged with every value exact, so nothing is too close", "expect pass or fail"
    if outcome == DISPENSATION and not any(
        expected.clause in approval.clauses and not approval.changed for approval in pack.approvals or ()
    ):
        return "no approval of the register excuses it", "expect what the clause says without one"
    return None if expected.margin is None else _margin_that_cannot_be(expected, clause, pack)


def _margin_that_cannot_be(expected: Expectation, clause: Clause, pack: Pack) -> tuple[str, str] | None:
    outcome = expected.outcome
    if outcome in (NOT_SHOWN, NOT_APPLICABLE):
        return f"what is {outcome.replace('_', ' ')} has no margin", "leave the margin out"
    try:
        value, kind = _amount(expected, pack)
    except LiteralError as error:
        return error.message, error.hint
    kinds = kinds_of_margins(clause.checks)
    if kinds is not None and not kinds:
        return "its check has no margin", "leave the margin out"
    if kinds and not any(kind.same_measure(one) for one in kinds):
        told = " or ".join(sorted({kind_in_words(one) for one in kinds}))
        return f"its margin is {told}, not {kind_in_words(kind)}", "write the amount that the car has in hand"
    if outcome == PASS and value < 0:
        return "what passes has a margin of 0 or more", "expect fail, or take the minus away"
    if outcome == FAIL and value > 0:
        return "what fails has a margin of 0 or less", "expect pass, or write a minus"
    return None


def _amount(expected: Expectation, pack: Pack) -> tuple[Fraction, Kind]:
    if isinstance(expected.margin, (int, Fraction)):
        return Fraction(expected.margin), NUMBER
    literal = parse_literal(str(expected.margin), pack.vocabulary.currency)
    if not isinstance(literal.value, Fraction):
        raise LiteralError(103, "a day is no margin", "write a number of days", 0, len(literal.text))
    literal = as_meant(literal, TEMPERATURE_STEP) or literal  # a margin is no temperature
    assert isinstance(literal.value, Fraction), "days are refused above"
    return literal.value, literal.kind
