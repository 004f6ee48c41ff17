"""From the text of one edition to a pack that can judge cars.

Sections are read in the order in which they build on each other: words, facts, tables, derived values,
clauses. Every mistake is noted on the way and all are raised together.
"""

from __future__ import annotations

import hashlib
from collections.abc import Collection, Sequence

from checker.car.described.vocabulary import Vocabulary
from checker.kinds.reading.reader import Surroundings
from checker.pack.model import Clause, Pack
from checker.pack.reading.source import PackSource
from checker.pack.sections.clauses import read_clauses
from checker.pack.sections.defaults import read_default_condition, read_tolerances
from checker.pack.sections.facts import FactReader
from checker.pack.sections.gear import read_assumptions, read_conditions, read_instruments
from checker.pack.sections.header import read_header
from checker.pack.sections.names import read_names, scope_again
from checker.pack.sections.table_lookup import Watch, refuse_strange_words
from checker.pack.sections.word_lists import read_categories, read_materials
from checker.quantities.formula.scope import Scope
from checker.reading.document import Document
from checker.reading.problems import InputError
from checker.reading.quick_dataclasses import replace
from checker.reading.strict_yaml import read_document


def read_pack_document(file: str) -> Document:
    """The text of a pack; a key that is a number is told as a clause number without quotes (102).

    Raises:
        InputError: It cannot be read as YAML.
    """
    try:
        return read_document(file, "PK")
    except InputError as error:
        renamed = [
            replace(p, code="PK102") if p.code == "PK119" and p.message.startswith("key ") else p
            for p in error.problems
        ]
        raise InputError(renamed) from None


def load_edition(file: str) -> Pack:
    """The pack in one file, without bulletins.

    Raises:
        InputError: With every mistake found (codes PKxxx).
    """
    return build_pack(read_pack_document(file))


def build_pack(
    document: Document,
    others: Sequence[Document] = (),
    only: Collection[str] | None = None,
    watch: Watch | None = None,
) -> Pack:
    """The pack that a document describes.

    Args:
        document: An edition, or what bulletins made of it.
        others: Other files that it was made from, for the digest.
        only: Numbers of the clauses to read, for a question about these alone; None: all.
        watch: Told of each row that is found in a table while cars are judged.

    Raises:
        InputError: With every mistake found (codes PKxxx).
    """
    source = PackSource(document)
    if not isinstance(document.data, dict):
        source.problem(108, "a pack is a mapping of sections", hint="begin with pack: and the formula's name")
        source.problems.raise_if_any()
    header = read_header(source)
    categories, materials = read_categories(source), read_materials(source)
    instruments = read_instruments(source)
    assumptions = read_assumptions(source, instruments)
    conditions = read_conditions(source, header.tyre_sets)
    names = read_names(FactReader(source, categories, materials), watch)
    around = Surroundings(
        scope=names.scope,
        problems=source.problems,
        conditions=conditions,
        tolerances=read_tolerances(source, names.scope),
        default_condition=read_default_condition(source, conditions),
        known_by={name: type_.known_by for name, type_ in names.lists.items() if type_.known_by},
    )
    clauses = read_clauses(source, around, only)
    if only is None:
        for table in names.tables.values():
            refuse_strange_words(source, table.table, table.text.read, table.asked)
    if not source.problems.errors and not clauses:
        source.problem(108, "the pack has no clauses", "clauses")
    source.problems.found.sort(
        key=lambda p: (p.span.file != document.name, p.span.line, p.span.column) if p.span else (True, 0, 0)
    )
    source.problems.raise_if_any()
    vocabulary = Vocabulary(
        header.name,
        source.currency,
        header.course,
        names.facts,
        lists=names.lists,
        categories=categories,
        materials=materials,
        conditions=conditions,
        instruments=instruments,
        assumptions=assumptions,
        tyre_sets=header.tyre_sets,
    )
    cases = source.get("cases")
    return Pack(
        name=header.name,
        edition=header.edition,
        title=header.title,
        first_day=header.first_day,
        last_day=header.last_day,
        vocabulary=vocabulary,
        scope=names.scope,
        decision=header.decision,
        clauses=clauses,
        derived=names.derived,
        tables={name: table.text for name, table in names.tables.items()},
        document=document,
        surroundings=around,
        warnings=source.problems.warnings,
        sha256=digest([document, *others, *source.files]),
        files={made_of.name: made_of.sha256 for made_of in (document, *others, *source.files)},
        cases=cases if isinstance(cases, str) else None,
    )


def clauses_of(pack: Pack, document: Document, numbers: Collection[str]) -> dict[str, Clause]:
    """Clauses of an edited copy of a pack's document; what the edit left alone is not read again.

    Args:
        pack: The pack that the document was made from.
        document: The edited copy.
        numbers: The clauses wanted.

    Raises:
        InputError: With every mistake found in them (codes PKxxx).
    """
    return read_again(pack, document, numbers)[0]


def read_again(pack: Pack, document: Document, numbers: Collection[str]) -> tuple[dict[str, Clause], Scope]:
    """The same, with what their formulas may name.

    Raises:
        InputError: As `clauses_of`.
    """
    old, new = pack.document.data, document.data
    assert isinstance(old, dict)
    assert isinstance(new, dict)
    edited = {key for key in new if key not in old or new[key] is not old[key]}
    source = PackSource(document, currency=pack.vocabulary.currency)
    scope = scope_again(pack.scope, pack.document, source) if edited <= _READ_AGAIN else None
    if scope is None or old.keys() != new.keys():
        built = build_pack(document, only=numbers)
        return dict(built.clauses), built.scope
    around = replace(pack.surroundings, problems=source.problems, scope=scope)
    if scope is not pack.scope:
        around = replace(around, tolerances=read_tolerances(source, scope))
    if "conditions" in edited:
        conditions = read_conditions(source, pack.vocabulary.tyre_sets)
        default = read_default_condition(source, conditions)
        around = replace(around, conditions=conditions, default_condition=default)
    found = read_clauses(source, around, numbers)
    source.problems.raise_if_any()
    return found, scope


_READ_AGAIN = {"clauses", "tables", "derived", "conditions"}
"""Sections on which nothing rests but one another, and clauses."""


def digest(documents: list[Document]) -> str:
    """SHA-256 of the one file, or over the digests of all files that the rules come from."""
    if len(documents) == 1:
        return documents[0].sha256
    return hashlib.sha256("".join(d.sha256 for d in documents).encode()).hexdigest()
