"""Names: facts, weights, derived values, fields, and what a check has made."""

from __future__ import annotations

import ast
from typing import Any, NoReturn

from checker.quantities.formula.compiler import Compiler
from checker.quantities.formula.form import CONSTANT
from checker.quantities.formula.grammar import attribute_name, name_of
from checker.quantities.formula.scope import Binding
from checker.quantities.formula.typed import Mark, Typed
from checker.quantities.kind import TRUTH, Kind, Unknown
from checker.reading.nearest import did_you_mean

_TRUTHS = {"true": True, "false": False}


def bare_name(compiler: Compiler, node: ast.Name) -> Typed:
    """A name without a dot."""
    name = name_of(compiler.tree, node)
    if name in _TRUTHS:
        value = _TRUTHS[name]
        return Typed(TRUTH, lambda _: value, constant=True)
    binding = compiler.binding(node, name)
    if binding is not None:
        return of_binding(name, binding)
    if name in compiler.scope.entries:
        entries = compiler.scope.entries[name]
        kind = Kind("items", items=name)
        return Typed(
            kind,
            lambda scene: entries.read(scene, True),
            uses=frozenset({name}),
            locals=frozenset({name} if name == "run" else ()),
        )
    if name in compiler.scope.sections():
        facts = sorted(n for n in compiler.scope.names if n.startswith(name + "."))
        compiler.refuse(node, 201, f"'{name}' is a section of facts, not a value", f"for instance {facts[0]}")
    if name in compiler.scope.tables:
        compiler.refuse(
            node, 201, f"'{name}' is a table; it needs its keys in brackets", f"write {name}(...)"
        )
    unknown_name(compiler, node, name)


def attribute(compiler: Compiler, node: ast.Attribute) -> Typed:
    """A name with a dot: a fact, the field of an entry, the column of a row."""
    field = attribute_name(compiler.tree, node)
    if isinstance(node.value, ast.Name):
        first = name_of(compiler.tree, node.value)
        binding = compiler.binding(node, f"{first}.{field}")
        if binding is not None:
            return of_binding(f"{first}.{field}", binding)
        local = compiler.binding(node, first)
        if local is None or local.kind.name not in ("item", "row"):
            if local is not None and first not in compiler.scope.sections():
                compiler.refuse(node, 201, f"'{first}' is one value and has no '{field}'")
            unknown_name(compiler, node, f"{first}.{field}")
    owner = compiler.node(node.value)
    if owner.kind.name == "row":
        return _column(compiler, node, owner, field)
    if owner.kind.name == "item":
        return _field(compiler, node, owner, field)
    compiler.refuse(node, 201, f"'{compiler.source(node.value)}' has no '{field}'")


def _column(compiler: Compiler, node: ast.Attribute, owner: Typed, field: str) -> Typed:
    table = compiler.scope.tables[owner.kind.items or ""]
    column = table.columns.get(field)
    if column is None:
        compiler.refuse(
            node,
            201,
            f"table {table.name} has no column '{field}'",
            did_you_mean(field, table.columns) or f"its columns are {', '.join(table.columns)}",
        )
    row = owner.run

    def cell(scene: Any) -> Any:
        found = row(scene)
        return found if isinstance(found, Unknown) else found[field].value

    def unit(scene: Any) -> Any:
        found = row(scene)
        return None if isinstance(found, Unknown) else found[field].unit

    marks = (Mark(column.kind, 1, unit),)
    return Typed(
        column.kind,
        cell,
        owner.form,
        locals=owner.locals,
        uses=owner.uses,
        irrational=owner.irrational,
        marks=marks,
    )


def _field(compiler: Compiler, node: ast.Attribute, owner: Typed, name: str) -> Typed:
    entries = compiler.scope.entries[owner.kind.items or ""]
    field = entries.fields.get(name)
    if field is None:
        compiler.refuse(
            node,
            205,
            f"'{name}' is not a field of {entries.name}",
            did_you_mean(name, entries.fields) or f"its fields are {', '.join(entries.fields)}",
        )
    item, read, unit = owner.run, field.read, field.unit

    def value(scene: Any) -> Any:
        entry = item(scene)
        return entry if isinstance(entry, Unknown) else read(scene, entry)

    marks = () if unit is None else (Mark(field.kind, 2, lambda _: unit),)
    uses = owner.uses | field.uses
    return Typed(field.kind, value, CONSTANT, locals=owner.locals, uses=uses, marks=marks)


def of_binding(name: str, binding: Binding) -> Typed:
    """The node of a bound name."""
    marks: tuple[Mark, ...] = ()
    expression = binding.expression
    if expression is not None:
        marks = expression.marks
    if binding.unit is not None:
        unit = binding.unit
        rank = 2 if expression is None else 3
        marks = (
            *(m for m in marks if m.rank < rank or expression is None),
            Mark(binding.kind, rank, lambda _: unit),
        )
    return Typed(
        binding.kind,
        binding.read,
        binding.form,
        locals=binding.locals,
        uses=binding.uses | (frozenset() if binding.locals else frozenset({name})),
        irrational=expression is not None and expression.irrational,
        marks=marks,
        denominators=() if expression is None else expression.denominators,
    )


def unknown_name(compiler: Compiler, node: ast.AST, name: str) -> NoReturn:
    """Refuse a name that nothing has, with the nearest that something has."""
    scope = compiler.scope
    hint = did_you_mean(name, scope.all_names())
    if not hint and "." not in name:
        fields = [
            f"{section}.{name}" for section in sorted(scope.sections()) if f"{section}.{name}" in scope.names
        ]
        hint = f"did you mean {fields[0]}?" if fields else ""
    number = 201
    if "." not in name:
        lists = sorted(entry.name for entry in scope.entries.values() if name in entry.fields)
        if lists and not hint:
            number, hint = (
                205,
                f"'{name}' is a field of {' and '.join(lists)}: check `each: {lists[0]}` or go through it",
            )
        from checker.quantities.formula.functions import FUNCTIONS

        if name in FUNCTIONS:
            hint = f"'{name}' is a function; it needs brackets"
    compiler.refuse(node, number, f"'{name}' is not a name that this pack knows", hint)
