"""What formulas of a pack may name: facts, lists and their fields, tables, derived values. One name, one meaning."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping

from checker.car.described.standard import standard_facts
from checker.car.described.vocabulary import FactType, ListType
from checker.pack.model import Derived
from checker.pack.reading.scope import (
    OnDemand,
    derived_binding,
    fact_bindings,
    list_entries,
    worked_out_field,
)
from checker.pack.reading.source import PackSource
from checker.pack.reading.told_once import bind_weights, silence
from checker.pack.sections.facts import RESERVED_SECTIONS, FactReader, FormulaField
from checker.pack.sections.table_lookup import Watch
from checker.pack.sections.tables import ReadTable, read_table, read_tables
from checker.quantities.formula.expression import Expression
from checker.quantities.formula.problem import FormulaError
from checker.quantities.formula.scope import Binding, Field, Scope
from checker.quantities.units import Unit
from checker.reading.document import Document
from checker.reading.problems import Path
from checker.reading.quick_dataclasses import dataclass, replace


@dataclass(frozen=True, slots=True)
class PackNames:
    """What formulas may name."""

    facts: dict[str, FactType]
    lists: dict[str, ListType]
    tables: dict[str, ReadTable]
    scope: Scope
    derived: dict[str, Derived]


def read_names(reader: FactReader, watch: Watch | None) -> PackNames:
    """Facts, lists, tables and derived values, bound to each other; mistakes are noted."""
    source, facts = reader.source, reader.facts()
    lists, formula_fields = reader.lists()
    bindings = OnDemand(fact_bindings(facts))
    bind_weights(bindings, course_given=source.has("course"))
    entries = list_entries(lists)
    tables = read_tables(source, watch)
    callable_tables = OnDemand({name: table.table for name, table in tables.items()})
    silence(source, reader.told, bindings, entries, callable_tables)
    sections = frozenset({name.partition(".")[0] for name in facts} | set(RESERVED_SECTIONS))
    scope = Scope(
        currency=source.currency,
        names=bindings,
        entries={name: made for name, (made, _) in entries.items()},
        tables=callable_tables,
        trees={"category": reader.categories, "material": reader.materials},
        known_sections=sections,
    )
    taken = _refuse_doubles(source, sections, lists, tables)
    for field in formula_fields:
        if field.list_name in lists and field.name in lists[field.list_name].fields:
            message = f"'{field.name}' is a field of every {field.list_name} entry already"
            source.key_problem(202, message, *field.path)
        elif field.list_name in entries:
            entries[field.list_name][1].later(field.name, _field_maker(source, scope, field))
    derived = _derived(source, scope, bindings, taken)
    return PackNames(facts, lists, tables, scope, derived)


def _refuse_doubles(
    source: PackSource,
    sections: frozenset[str],
    lists: dict[str, ListType],
    tables: dict[str, ReadTable],
) -> frozenset[str]:
    """No name with two meanings among sections of facts, lists, tables and derived values (202 noted).

    Returns:
        Names of derived values that have another meaning.
    """
    for name in source.mapping("lists"):
        if name in sections:
            source.key_problem(202, f"'{name}' is a section of facts already", "lists", name)
    for name in tables:
        if name in sections or name in lists:
            source.key_problem(202, f"'{name}' is a list or a section of facts already", "tables", name)
    standard = {name.partition(".")[0] for name in standard_facts()}
    others = {*sections, *standard, *lists, *tables, "a", "b", "run"}
    taken = frozenset(name for name in source.mapping("derived") if name in others)
    for name in taken:
        message = f"'{name}' already has a meaning"
        source.key_problem(202, message, "derived", name, hint="choose another name")
    return taken


def _field_maker(source: PackSource, scope: Scope, field: FormulaField) -> Callable[[], Field | None]:
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


def _derived(
    source: PackSource, scope: Scope, bindings: OnDemand[Binding], taken: frozenset[str]
) -> dict[str, Derived]:
    made: dict[str, Expression] = {}
    for name in source.mapping("derived"):
        path: Path = ("derived", name)
        given = source.mapping(*path)
        sound = source.name(name, *path, what="a derived value")
        sound &= source.known_keys(("formula", "unit", "about"), *path, what="a derived value")
        if sound and "formula" not in given:
            source.problem(108, f"'{name}' has no formula", *path)
        elif sound and name not in taken:
            bindings.later(name, _derived_maker(source, scope, name, made))
    _settle(source, bindings, source.mapping("derived"), ("derived",))
    for entries in scope.entries.values():
        _settle(source, entries.fields, list(entries.fields), ("lists", entries.name, "fields"))
    return {name: Derived(name, made[name]) for name in source.mapping("derived") if name in made}


def _derived_maker(
    source: PackSource, scope: Scope, name: str, made: dict[str, Expression]
) -> Callable[[], Binding | None]:
    def make() -> Binding | None:
        path: Path = ("derived", name)
        expression = source.formula(scope, *path, "formula")
        unit = source.unit(*path, "unit") if source.has(*path, "unit") else None
        if expression is None or not _fits(source, expression, unit, path):
            return None
        made[name] = expression
        return derived_binding(expression, unit)

    return make


def scope_again(scope: Scope, before: Document, source: PackSource) -> Scope | None:
    """The scope of a pack of which nothing but cells of tables and formulas of derived values was edited.

    Args:
        scope: That of the pack.
        before: Its document.
        source: Stands at the edited copy; mistakes in what is read again are noted.

    Returns:
        None where more than that is to be read again.
    """
    names = {section: _edited(before, source.document, section) for section in ("tables", "derived")}
    if names["tables"] is None or names["derived"] is None:
        return None
    edited = names["tables"] | names["derived"]
    if not edited:
        return scope
    fields = (field for entries in scope.entries.values() for field in entries.fields.values())
    if any(field.expression is not None and not edited.isdisjoint(field.uses) for field in fields):
        return None
    tables = {name: read_table(source, name) for name in names["tables"]}
    anew = OnDemand[Binding]({})
    again = replace(
        scope.having(anew),
        tables={**scope.tables, **{name: one.table for name, one in tables.items() if one is not None}},
    )
    resting = [
        name
        for name in source.mapping("derived")
        if name in edited or scope.names[name].locals or not edited.isdisjoint(scope.names[name].uses)
    ]
    for name in resting:
        anew.later(name, _derived_maker(source, again, name, {}))
    _settle(source, anew, resting, ("derived",))
    return again


def _edited(before: Document, after: Document, section: str) -> frozenset[str] | None:
    """What of a section is other data than before; None where it has other names."""
    old, new = before.get((section,)), after.get((section,))
    if old is new:
        return frozenset()
    if not isinstance(old, dict) or not isinstance(new, dict) or old.keys() != new.keys():
        return None
    return frozenset(name for name in new if new[name] is not old[name])


def _settle(source: PackSource, bound: Mapping[str, object], names: Iterable[str], path: Path) -> None:
    """Make what is made on demand now, so that mistakes in it are noted."""
    for name in names:
        if name in bound:
            try:
                bound[name]
            except FormulaError as error:
                source.note(error, (*path, name, "formula"))
