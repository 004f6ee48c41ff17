"""Runs a pack's cases: does the rulebook say of each car what its author meant it to say?

Values are taken as exactly what is declared, and facts that officials or the organiser state are believed, because a
case tests the text of the rules and not anybody's gear.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from fractions import Fraction
from typing import Any

from checker.car.car import Car
from checker.car.described.vocabulary import ENTRANT
from checker.kinds.judging.assessment import Amount, Assessment
from checker.pack.model import Pack
from checker.quantities.display import show_margin
from checker.quantities.kind import NUMBER
from checker.quantities.literal import as_meant, parse_literal, parse_quantity
from checker.quantities.misread import LiteralError
from checker.reading.nearest import named_with
from checker.reading.problems import InputError, Problem
from checker.reading.quick_dataclasses import dataclass, replace
from checker.studies.cases.casebook import Case, Casebook, Expectation
from checker.verdict.inspection import Outcome, inspect_car


@dataclass(frozen=True, slots=True)
class Run:
    """One case, judged."""

    case: Case
    pack: Pack | None
    """The pack in force on its day; None where there is none that can be used."""
    car: Car | None
    """None where its declaration cannot be read."""
    outcomes: Mapping[str, Outcome]
    """Of the clauses looked at, by number."""
    problems: tuple[Problem, ...] = ()
    """Why it, or a part of it, could not be judged."""
    differences: tuple[Difference, ...] = ()
    """Where something came out otherwise."""

    @property
    def came_out(self) -> bool:
        """Every clause says what was expected."""
        return self.judged and not self.differences

    @property
    def judged(self) -> bool:
        """It could be judged, whatever came out."""
        return not self.problems


@dataclass(frozen=True, slots=True)
class Difference:
    """What came out otherwise than a case expects."""

    case: Case
    expected: Expectation
    found: Assessment
    unreadable: LiteralError | None = None
    """Why the margin that the case expects cannot be read."""

    @property
    def of_outcome(self) -> bool:
        """The outcome is another (701); else the margin is (702)."""
        return self.found.outcome != self.expected.outcome


def run_cases(book: Casebook) -> list[Run]:
    """Judge every case, in the order written."""
    return [run_case(book, case) for case in book.cases]


def run_case(book: Casebook, case: Case) -> Run:
    """Judge one case by the rules in force on its day."""
    ready = prepared(book, case)
    if ready.pack is None or ready.car is None:
        return ready
    pack = ready.pack
    outcomes: dict[str, Outcome] = {}
    differences: list[Difference] = []
    for expected in case.expectations:
        if expected.clause not in pack.clauses:
            continue
        outcome = judge(pack, ready.car, case, expected.clause)
        outcomes[expected.clause] = outcome
        other = difference(case, expected, outcome, pack.vocabulary.currency)
        if other is not None:
            differences.append(other)
    return replace(ready, outcomes=outcomes, differences=tuple(differences))


def prepared(book: Casebook, case: Case) -> Run:
    """A case ready to be judged, with why it, or a part of it, cannot be."""
    pack: Pack | None = None
    days = book.edition.head
    if not days.covers(case.on):
        message = f"case '{case.name}' is of {case.on.isoformat()}; edition {days.edition} covers {days.days}"
        hint = "give it another day with `on`; of a file that two editions name, give each its own"
        problem = Problem("PK620", message, case.span, hint)
        return Run(case, None, None, {}, (problem,))
    try:
        pack = book.edition.pack_on(case.on)
        car = book.car(case, pack)
    except InputError as error:
        return Run(case, pack, None, {}, tuple(p for p in error.problems if not p.warning))
    return Run(case, pack, car, {}, tuple(_not_in_force(case, pack)))


def _not_in_force(case: Case, pack: Pack) -> Iterator[Problem]:
    for expected in case.expectations:
        if expected.clause not in pack.clauses:
            message = f"case '{case.name}' expects something of clause {expected.clause}, which is not in force then"
            hint = named_with(expected.clause, pack.titles)
            yield Problem("PK602", message, expected.span, hint, expected.clause)


def judge(pack: Pack, car: Car, case: Case, number: str) -> Outcome:
    """What one clause says of the car of a case."""
    (outcome,) = inspect_car(pack, car, case.on, ENTRANT, exact=True, only=(number,)).outcomes
    return outcome


def difference(
    case: Case, expected: Expectation, outcome: Outcome, currency: str | None
) -> Difference | None:
    """How what came out differs from what was expected; None: it does not."""
    found = outcome.assessment
    if found.outcome != expected.outcome:
        return Difference(case, expected, found)
    if expected.margin is None:
        return None
    if found.margin is None:
        return Difference(case, expected, found)
    try:
        same = same_margin(expected.margin, found.margin, currency)
    except LiteralError as error:
        return Difference(case, expected, found, error)
    return None if same else Difference(case, expected, found)


def same_margin(written: Any, margin: Amount, currency: str | None) -> bool:
    """Whether a margin is the one written: exactly, or as a report shows it.

    Raises:
        LiteralError: What is written cannot be read as an amount.
    """
    if isinstance(written, (int, Fraction)):
        value, kind = Fraction(written), NUMBER
    else:
        literal = parse_literal(str(written), currency)
        literal = as_meant(literal, margin.kind) or literal
        if not isinstance(literal.value, Fraction):
            return False
        value, kind = literal.value, literal.kind
    if not kind.same_measure(margin.kind):
        return False
    if value == margin.value:
        return True
    shown = show_margin(Fraction(margin.value), margin.unit).removeprefix("+")
    return parse_quantity(shown, margin.kind, currency).value == value
