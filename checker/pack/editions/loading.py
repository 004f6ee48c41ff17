"""From the text of one edition to a pack that can judge cars.

Sections are read in the order in which they build on each other: words, facts, tables, derived values,
clauses. Every mistake is noted on the way and all are raised together.
"""

from __future__ import annotations

import hashlib
from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace
from typing import Any

from checker.car.described.standard import standard_facts
from checker.car.described.vocabulary import AS_WEIGHED, Condition, FactType, ListType, Vocabulary
from checker.car.described.word_trees import Tree
from checker.kinds.reading.reader import Surroundings
from checker.pack.model import Clause, Derived, Pack
from checker.pack.reading.scope import (
    OnDemand,
    derived_binding,
    fact_bindings,
    list_entries,
    worked_out_field,
)
from checker.pack.reading.source import PackSource
from checker.pack.reading.told_once import bind_weights, silence
from checker.pack.sections.clauses import read_clauses
from checker.pack.sections.facts import RESERVED_SECTIONS, FactReader, FormulaField
from checker.pack.sections.gear import read_assumptions, read_conditions, read_instruments
from checker.pack.sections.header import read_header
from checker.pack.sections.table_lookup import Watch, refuse_strange_words
from checker.pack.sections.tables import ReadTable, read_tables
from checker.pack.sections.word_lists import read_categories, read_materials
from checker.quantities.formula.expression import Expression
from checker.quantities.formula.functions import FUNCTIONS
from checker.quantities.formula.scope import Binding, Field, Scope
from checker.quantities.units import Unit
from checker.reading.document import Document
from checker.reading.nearest import did_you_mean
from checker.reading.problems import InputError, Path
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


@dataclass(slots=True)
class _Names:
    """What formulas may name, while it is put together."""

    facts: dict[str, FactType]
    lists: dict[str, ListType]
    bindings: OnDemand[Binding]
    tables: dict[str, ReadTable]
    scope: Scope
    taken: frozenset[str]
    """Names of derived values that mean something else already; nothing is bound to them."""


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
    reader = FactReader(source, categories, materials)
    facts = reader.facts()
    lists, formula_fields = reader.lists()
    conditions = read_conditions(source, header.tyre_sets)
    names = _names(source, facts, lists, formula_fields, categories, materials, reader.told, watch)
    derived = _derived(source, names)
    around = Surroundings(
        scope=names.scope,
        problems=source.problems,
        conditions=conditions,
        tolerances=_tolerances(source, names.scope),
        default_condition=_default_condition(source, conditions),
        known_by={name: type_.known_by for name, type_ in lists.items() if type_.known_by},
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
        facts,
        lists,
        categories,
        materials,
        conditions,
        instruments,
        assumptions,
        header.tyre_sets,
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
        derived=derived,
        tables={name: table.text for name, table in names.tables.items()},
        document=document,
        surroundings=around,
        warnings=source.problems.warnings,
        sha256=digest([document, *others, *source.files]),
        files=tuple(dict.fromkeys(made_of.name for made_of in (document, *others, *source.files))),
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
    old, new = pack.document.data, document.data
    assert isinstance(old, dict)
    assert isinstance(new, dict)
    if old.keys() != new.keys() or any(new[key] is not old[key] for key in new if key != "clauses"):
        return dict(build_pack(document, only=numbers).clauses)
    source = PackSource(document, currency=pack.vocabulary.currency)
    found = read_clauses(source, replace(pack.surroundings, problems=source.problems), numbers)
    source.problems.raise_if_any()
    return found


def digest(documents: list[Document]) -> str:
    """SHA-256 of the one file, or over the digests of all files that the rules come from."""
    if len(documents) == 1:
        return documents[0].sha256
    return hashlib.sha256("".join(d.sha256 for d in documents).encode()).hexdigest()


def _names(
    source: PackSource,
    facts: dict[str, FactType],
    lists: dict[str, ListType],
    formula_fields: list[FormulaField],
    categories: Tree,
    materials: Tree,
    told: dict[str, set[str]],
    watch: Watch | None,
) -> _Names:
    bindings = OnDemand(fact_bindings(facts))
    bind_weights(bindings, course_given=source.has("course"))
    entries = list_entries(lists)
    tables = read_tables(source, watch)
    callable_tables = OnDemand({name: table.table for name, table in tables.items()})
    silence(source, told, bindings, entries, callable_tables)
    scope = Scope(
        currency=source.currency,
        names=bindings,
        entries={name: made for name, (made, _) in entries.items()},
        tables=callable_tables,
        trees={"category": categories, "material": materials},
        known_sections=_sections(facts),
    )
    taken = _refuse_doubles(source, facts, lists, tables)
    for field in formula_fields:
        if field.name in lists[field.list_name].fields if field.list_name in lists else False:
            source.key_problem(
                202, f"'{field.name}' is a field of every {field.list_name} entry already", *field.path
            )
        elif field.list_name in entries:
            entries[field.list_name][1].later(field.name, _field_maker(source, scope, field))
    return _Names(facts, lists, bindings, tables, scope, taken)


def _sections(facts: dict[str, FactType]) -> frozenset[str]:
    """First parts of the names of facts."""
    return frozenset({name.partition(".")[0] for name in facts} | set(RESERVED_SECTIONS))


def _refuse_doubles(
    source: PackSource, facts: dict[str, FactType], lists: dict[str, ListType], tables: dict[str, ReadTable]
) -> frozenset[str]:
    """One name, one meaning: sections of facts, lists, tables and derived values.

    Returns:
        Names of derived values that have another meaning.
    """
    sections = _sections(facts)
    standard = {name.partition(".")[0] for name in standard_facts()}
    for name in source.mapping("lists"):
        if name in sections:
            source.key_problem(202, f"'{name}' is a section of facts already", "lists", name)
    for name in tables:
        if name in sections or name in lists:
            source.key_problem(202, f"'{name}' is a list or a section of facts already", "tables", name)
    taken: set[str] = set()
    for name in source.mapping("derived"):
        if (
            name in sections | standard
            or name in lists
            or name in tables
            or name in FUNCTIONS
            or name in ("a", "b", "run")
        ):
            source.key_problem(
                202, f"'{name}' already has a meaning", "derived", name, hint="choose another name"
            )
            taken.add(name)
    return frozenset(taken)


def _field_maker(source: PackSource, scope: Scope, field: FormulaField) -> Any:
    def make() -> Field | None:
        from checker.kinds.frame.entries import Many, item_scope

        names, _ = item_scope(scope, Many("each", field.list_name, entries=scope.entries[field.list_name]))
        expression = source.formula(scope.having(names), *field.path, "formula")
        if expression is None or not _fits(source, expression, field.unit, field.path):
            return None
        return worked_out_field(field.list_name, field.name, expression, field.unit)

    return make


def _fits(source: PackSource, expression: Expression, unit: Unit | None, path: Path) -> bool:
    """Whether the unit that a derived value is shown in is of its kind."""
    if unit is None or unit.kind.same_measure(expression.kind):
        return True
    number = 301 if expression.kind.name in ("quantity", "number") else 302
    source.problem(number, f"the formula gives {expression.kind}; {unit.name} is {unit.kind}", *path, "unit")
    return False


def _derived(source: PackSource, names: _Names) -> dict[str, Derived]:
    made: dict[str, Expression] = {}

    def maker(name: str) -> Any:
        def make() -> Binding | None:
            path: Path = ("derived", name)
            expression = source.formula(names.scope, *path, "formula")
            unit = source.unit(*path, "unit") if source.has(*path, "unit") else None
            if expression is None or (unit is not None and not _fits(source, expression, unit, path)):
                return None
            made[name] = expression
            return derived_binding(expression, unit)

        return make

    for name in source.mapping("derived"):
        path: Path = ("derived", name)
        given = source.mapping(*path)
        sound = source.name(name, *path, what="a derived value")
        sound &= source.known_keys(("formula", "unit", "about"), *path, what="a derived value")
        if sound and "formula" not in given:
            source.problem(108, f"'{name}' has no formula", *path)
        elif sound and name not in names.taken:
            names.bindings.later(name, maker(name))
    from checker.quantities.formula.problem import FormulaError

    for name in [n for n in source.mapping("derived") if n in names.bindings]:
        try:
            names.bindings[name]
        except FormulaError as error:
            source.note(error, ("derived", name, "formula"))
    for entries in names.scope.entries.values():
        for field in list(entries.fields):
            try:
                entries.fields[field]
            except FormulaError as error:
                source.note(error, ("lists", entries.name, "fields", field, "formula"))
    order = [name for name in source.mapping("derived") if name in made]
    return {name: Derived(name, made[name]) for name in order}


def _tolerances(source: PackSource, scope: Scope) -> tuple[Expression, ...]:
    given = source.mapping("defaults")
    source.known_keys(("condition", "tolerance"), "defaults", what="`defaults`")
    if "tolerance" not in given:
        return ()
    listed = given["tolerance"]
    paths: list[Path] = (
        [("defaults", "tolerance", place) for place in range(len(listed))]
        if isinstance(listed, list)
        else [("defaults", "tolerance")]
    )
    found: list[Expression] = []
    for path in paths:
        expression = source.formula(scope, *path)
        if expression is None:
            continue
        if not expression.kind.is_measure:
            source.problem(302, "a tolerance is an amount", *path)
        elif any(t.kind.same_measure(expression.kind) for t in found):
            source.problem(202, f"two tolerances for {expression.kind}; one for each dimension", *path)
        else:
            found.append(expression)
    return tuple(found)


def _default_condition(source: PackSource, conditions: dict[str, Condition]) -> tuple[Condition, ...]:
    given = source.get("defaults", "condition")
    if given is None:
        return ()
    found: list[Condition] = []
    for place, name in enumerate(given if isinstance(given, list) else [given]):
        condition = (
            AS_WEIGHED if name == AS_WEIGHED.name else conditions.get(name) if isinstance(name, str) else None
        )
        if condition is None:
            path: Path = (
                ("defaults", "condition", place) if isinstance(given, list) else ("defaults", "condition")
            )
            hint = did_you_mean(str(name), conditions)
            source.problem(504, f"'{name}' is no condition of this pack", *path, hint=hint)
        else:
            found.append(condition)
    return tuple(found)
