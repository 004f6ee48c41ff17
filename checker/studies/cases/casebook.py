"""A pack's own cases: small stories of cars, each with what the clauses are to say of it.

A case is the declaration that it starts from, with some values set and some taken away. This module reads cases and
makes their cars; `cases` judges them.
"""

from __future__ import annotations

import os
from datetime import date
from typing import Any

from checker.car.car import Car
from checker.car.declaration.loading import load_car
from checker.car.described.vocabulary import ENTRANT
from checker.kinds.judging.assessment import OUTCOMES
from checker.pack.editions.edition import Edition
from checker.pack.editions.interpretations import belongs
from checker.pack.model import Pack
from checker.pack.reading.companion_files import BEGIN_CASES, read_beside
from checker.pack.reading.source import PackSource
from checker.reading.document import REMOVE, Document, Edit
from checker.reading.nearest import did_you_mean
from checker.reading.paths import parse_path
from checker.reading.problems import InputError, Path, Problem, Problems, Span
from checker.reading.quick_dataclasses import dataclass, field
from checker.reading.strict_yaml import parse_document, read_document
from checker.reading.values import Plain
from checker.studies.cases.sharing import named_cases
from checker.verdict.run import dated

_KEYS = ("name", "from", "on", "set", "remove", "expect")


@dataclass(frozen=True, slots=True)
class Expectation:
    """What a case expects of one clause."""

    clause: str
    outcome: str
    margin: Any = None
    """As written: text or a number; None: any margin will do."""
    span: Span | None = None


@dataclass(frozen=True, slots=True)
class Case:
    """One case as written."""

    name: str
    on: date
    expectations: tuple[Expectation, ...]
    declaration: Document
    """The car's declaration with what the case sets and takes away, dated."""
    span: Span
    touched: tuple[Path, ...] = ()
    """Where in the declaration it sets something or takes something away."""


@dataclass(slots=True)
class Casebook:
    """The cases of an edition."""

    edition: Edition
    file: str
    """Where the edition's own stand; "" where it has none."""
    cases: list[Case] = field(default_factory=list)

    @property
    def files(self) -> frozenset[str]:
        """Where they stand, those of interpretations too."""
        return frozenset(case.span.file for case in self.cases)

    def car(self, case: Case, pack: Pack) -> Car:
        """The car of a case, with reserved facts believed as when an entrant looks at home.

        Raises:
            InputError: Its declaration cannot be read: 703 where a path of the case is none that a declaration may
                have, else codes CDxxx, placed in the case where the case wrote the value.
        """
        try:
            return load_car(case.declaration, pack.vocabulary, audience=ENTRANT)
        except InputError as error:
            raise InputError([self._placed(problem) for problem in error.problems]) from None

    def _placed(self, problem: Problem) -> Problem:
        """A section, key or field that the pack does not know, named in the case: 703."""
        unknown = problem.code == "CD201" and problem.span is not None and problem.span.file in self.files
        if not unknown:
            return problem
        return Problem("PK703", problem.message, problem.span, problem.hint, related=problem.related)


def read_cases(edition: Edition, to_begin: str | None = None) -> Casebook:
    """The cases of an edition: in its own file, or in the file beside it that it names.

    Args:
        to_begin: A file in which cases are about to be written: where that is the one that the edition names, it need
            not be there yet.

    Raises:
        InputError: With every mistake found: 101, 102, 106, 108 in how cases are written, 109 a file of cases or a car
            to start from that cannot be read, 703 a path that leads nowhere.
    """
    book, problems = readable_cases(edition, to_begin)
    problems.raise_if_any()
    return book


def readable_cases(edition: Edition, to_begin: str | None = None) -> tuple[Casebook, Problems]:
    """The cases of an edition and of its interpretations that can be read, and what is wrong with the others.

    Raises:
        InputError: A file of cases cannot be read.
    """
    document, at = _where(edition, to_begin)
    book = Casebook(edition, "" if document is None else document.name)
    problems = Problems()
    if document is not None:
        source = PackSource(document, problems=problems)
        _read(book, _Reader(edition, source, edition.head.first), at)
    answers = edition.beside.answers
    for place, one in enumerate(edition.beside.interpretations if answers is not None else ()):
        at = ("interpretations", place, "cases")
        if answers is not None and answers.has(at) and belongs(one, edition.head.first, edition.head.last):
            _read(book, _Reader(edition, PackSource(answers, problems=problems), one.first_day), at)
    return book, problems


def _read(book: Casebook, reader: _Reader, at: Path) -> None:
    listed = reader.source.document.get(at)
    if not isinstance(listed, list):
        hint = '- {name: ..., from: car.yaml, expect: {"3.1": pass}}'
        reader.source.problem(108, "cases are a list", *at, hint=hint)
        return
    for place in range(len(listed)):
        case = reader.case((*at, place))
        if case is not None:
            book.cases.append(case)


def _where(edition: Edition, to_begin: str | None) -> tuple[Document | None, Path]:
    """The document that holds the cases, and where in it."""
    given = edition.document.get(("cases",))
    if given is None:
        return None, ()
    if not isinstance(given, str):
        return edition.document, ("cases",)
    source = PackSource(edition.document)
    begun = to_begin is None or os.path.lexists(to_begin)
    if not begun and os.path.realpath(str(to_begin)) == named_cases(edition.document):
        return None, ()
    document = read_beside(source, given, ("cases",), BEGIN_CASES.format(given))
    if document is None:
        raise InputError(source.problems.found)
    return document, ("cases",) if isinstance(document.data, dict) else ()


@dataclass(slots=True)
class _Reader:
    """Reads cases; a declaration that many start from is read once."""

    edition: Edition
    source: PackSource
    first_day: date
    """The day of a case that names none."""
    bases: dict[str, Document | None] = field(default_factory=dict)

    def case(self, path: Path) -> Case | None:
        given = self.source.mapping(*path)
        if not given:
            self.source.problem(108, "a case is a mapping", *path, hint='name: ..., expect: {"3.1": pass}')
            return None
        self.source.known_keys(_KEYS, *path, what="a case")
        if "name" not in given or "expect" not in given:
            self.source.problem(108, "a case needs `name` and `expect`", *path)
            return None
        expected = self._expectations((*path, "expect"))
        on = self._day(path)
        changes = self._changes(path, given)
        declaration = self._declaration(path, given, changes)
        if declaration is None or expected is None or on is None:
            return None
        span = self.source.document.span((*path, "name"))
        touched = tuple(change.path for change in changes or ())
        return Case(self.source.text(*path, "name"), on, expected, dated(declaration, on), span, touched)

    # --- what is expected ----------------------------------------------------------------------------------

    def _expectations(self, path: Path) -> tuple[Expectation, ...] | None:
        given = self.source.mapping(*path)
        if not given:
            self.source.problem(108, "`expect` names clauses", *path, hint='expect: {"3.1": pass}')
            return None
        found = [self._expectation(number, (*path, number)) for number in given]
        known = [one for one in found if one is not None]
        return tuple(known) if len(known) == len(found) else None

    def _expectation(self, number: str, path: Path) -> Expectation | None:
        given = self.source.get(*path)
        outcome, margin, where = given, None, path
        if isinstance(given, dict):
            if not self.source.known_keys(("outcome", "margin"), *path, what="an expectation"):
                return None
            outcome, margin, where = given.get("outcome"), given.get("margin"), (*path, "outcome")
        source = self.source.of_clause(number)
        if outcome not in OUTCOMES:
            hint = did_you_mean(str(outcome), OUTCOMES) or f"one of {', '.join(OUTCOMES)}"
            source.problem(108, f"'{outcome}' is no outcome", *where, hint=hint)
            return None
        if isinstance(margin, (bool, dict, list)):
            source.problem(108, "`margin` is an amount, as -1.5 kg", *path, "margin")
            return None
        return Expectation(number, str(outcome), margin, self.source.document.span(path))

    # --- the day and the car -------------------------------------------------------------------------------

    def _day(self, path: Path) -> date | None:
        """The day under `on`, else the one that the case sets, else the edition's first."""
        given = self.source.get(*path, "set", "event.date")
        if self.source.has(*path, "on"):
            return self.source.day(*path, "on")
        if given is not None:
            return self.source.day(*path, "set", "event.date")
        return self.first_day

    def _declaration(
        self, path: Path, given: dict[str, Plain], changes: list[Edit] | None
    ) -> Document | None:
        base = self._base((*path, "from")) if "from" in given else self._empty()
        if base is None or changes is None:
            return None
        try:
            return base.edited(changes, "PK703")
        except InputError as error:
            self.source.problems.found.extend(error.problems)
            return None

    def _changes(self, path: Path, given: dict[str, Plain]) -> list[Edit] | None:
        """What is set, then what is taken away; positions are those of the car that the case starts from."""
        document = self.source.document
        changes: list[Edit] = []
        gone: list[Edit] = []
        sound = True
        for key, value in self.source.mapping(*path, "set").items():
            where = self._path(key, (*path, "set", key))
            sound &= where is not None
            changes.append(Edit(where or (), value, document, (*path, "set", key)))
        removed = given.get("remove", [])
        if not isinstance(removed, list):
            self.source.problem(
                108, "`remove` needs a list of paths", *path, "remove", hint="remove: [fuel.capacity]"
            )
            return None
        for place, written in enumerate(removed):
            where = self._path(written, (*path, "remove", place))
            sound &= where is not None
            gone.append(Edit(where or (), REMOVE, document, (*path, "remove", place)))
        gone.sort(key=lambda change: [(isinstance(part, str), part) for part in change.path], reverse=True)
        return [*changes, *gone] if sound else None

    def _path(self, written: object, path: Path) -> Path | None:
        try:
            if not isinstance(written, str) or not written:
                raise ValueError(f"'{self.source.written(*path)}' is no path")
            return parse_path(written)
        except ValueError as error:
            self.source.key_problem(
                703, str(error), *path, hint='as in engine.capacity or "components[2].mass"'
            )
            return None

    def _base(self, path: Path) -> Document | None:
        named = self.source.get(*path)
        if not isinstance(named, str):
            self.source.problem(
                108, "`from` names a declaration", *path, hint="from: ../../samples/cars/legal.yaml"
            )
            return None
        if named not in self.bases:
            file = os.path.normpath(os.path.join(os.path.dirname(self.source.document.name), named))
            try:
                self.bases[named] = read_document(file, "CD")
            except InputError as error:
                self.bases[named] = None
                self.source.problem(109, f"'{named}' cannot be read: {error.problems[0].message}", *path)
                self.source.problems.found.extend(p for p in error.problems if p.span is not None)
        return self.bases[named]

    def _empty(self) -> Document:
        """A declaration that says nothing but which pack it is for."""
        pack = self.edition.document.get(("pack",), "")
        empty = parse_document(b'car: {number: "0"}\n', "an empty declaration", "CD")
        return empty.edited([Edit(("formula",), pack)], "PK703")
