"""Names: facts, weights, derived values, fields, columns, and what a check has made.

Within one formula no name may mean two things, so there is no search order to learn.
"""

from __future__ import annotations

import ast

from checker.quantities.elementary import PI
from checker.quantities.formula.agreement import described
from checker.quantities.formula.compiler import Compiler, Stop
from checker.quantities.formula.form import CONSTANT, function_of
from checker.quantities.formula.grammar import PLACE
from checker.quantities.formula.scope import Binding, Entries
from checker.quantities.formula.typed import Mark, Typed
from checker.quantities.kind import NUMBER, TRUTH, Kind, Unknown
from checker.quantities.other_amounts import unit_meant
from checker.quantities.units import Unit
from checker.reading.nearest import did_you_mean

_ABSENT = "leave the line out: what nobody states is not shown anyway; in a table write `no limit`"
_MEANT = {
    **dict.fromkeys(("true", "yes", "on"), "write true"),
    **dict.fromkeys(("false", "no", "off"), "write false"),
    **dict.fromkeys(("today", "now"), "write event.date, the day that the car is judged for"),
    **dict.fromkeys(("null", "none", "nan", "nil", "nothing", "unlimited"), _ABSENT),
}
"""What stands for a truth, a day or nothing elsewhere, and what is written here."""
_TRUTHS = {"true": True, "false": False}
_PI = Typed(NUMBER, lambda _: PI, constant=True, irrational=True)
_RUN = "run"


def bare_name(compiler: Compiler, node: ast.Name) -> Typed:
    """A name without a dot."""
    name = compiler.tree.name(node)
    if name in _TRUTHS:
        value = _TRUTHS[name]
        return Typed(TRUTH, lambda _: value, constant=True)
    if name == "pi" and name not in compiler.scope.names:
        return _PI
    binding = binding_at(compiler, node)
    if binding is not None:
        return compiler.leaf(node, of_binding(name, binding), binding.expression)
    if name in compiler.scope.entries:
        return _whole_list(name, compiler.scope.entries[name])
    raise unknown_name(compiler, node, name)


def attribute(compiler: Compiler, node: ast.Attribute) -> Typed:
    """A name with a dot: a fact, the field of an entry, the column of a row."""
    field = compiler.tree.name(node)
    binding = binding_at(compiler, node)
    if binding is not None:
        name = f"{compiler.tree.name(node.value)}.{field}"
        return compiler.leaf(node, of_binding(name, binding), binding.expression)
    if isinstance(node.value, ast.Name):
        first = compiler.tree.name(node.value)
        if compiler.binding(node.value, first) is None:
            raise _no_owner(compiler, node, first, field)
        refuse_second_meaning(compiler, node.value, first)
    behind, field = owner_and_field(compiler, node)
    owner = compiler.node(behind)
    if owner.kind.name == "row":
        found = _column(compiler, node, owner, field)
    elif owner.kind.name == "item":
        found = _field(compiler, node, owner, field)
    else:
        message = f"'{compiler.source(behind)}' is {described(owner.kind)} and has no '{field}'"
        raise compiler.refused(node, 201, message)
    return compiler.leaf(node, found) if isinstance(behind, ast.Name) else found


def owner_and_field(compiler: Compiler, node: ast.Attribute) -> tuple[ast.expr, str]:
    """What stands before the dot, and the field behind it; the parts of an entry's place have names of two words."""
    field, owner = compiler.tree.name(node), node.value
    if isinstance(owner, ast.Attribute) and compiler.tree.name(owner) == PLACE:
        return owner.value, f"{PLACE}.{field}"
    return owner, field


def binding_at(compiler: Compiler, node: ast.expr) -> Binding | None:
    """What a node stands for that is a bare name or a fact's full name; None if it is neither."""
    if isinstance(node, ast.Name):
        name = compiler.tree.name(node)
        binding = compiler.binding(node, name)
        if binding is not None:
            refuse_second_meaning(compiler, node, name, dotted=False)
        return binding
    if isinstance(node, ast.Attribute) and isinstance(node.value, ast.Name):
        name = f"{compiler.tree.name(node.value)}.{compiler.tree.name(node)}"
        binding = compiler.binding(node, name)
        owner = compiler.binding(node.value, compiler.tree.name(node.value)) if binding is not None else None
        if owner is not None and owner.kind.name in ("item", "row"):
            refuse_second_meaning(compiler, node.value, compiler.tree.name(node.value))
        return binding
    return None


def refuse_second_meaning(compiler: Compiler, node: ast.AST, name: str, *, dotted: bool = True) -> None:
    """Refuse a name of one value that means something else, too (202 noted).

    A function is known by its bracket and a section of facts by its dot, so a bare value may be called like either.
    """
    scope = compiler.scope
    others = (
        (name in scope.entries, "a list"),
        (name in scope.tables, "a table"),
        (name in _TRUTHS or name == "pi", "a word of the language"),
        (dotted and name in scope.sections(), "a section of facts"),
    )
    for clashes, what in others:
        if clashes:
            raise compiler.refused(node, 202, f"'{name}' is {what} already", "give one of them another name")


def _whole_list(name: str, entries: Entries) -> Typed:
    local = frozenset({name}) if name == _RUN else frozenset()
    uses = frozenset({name}) - local
    return Typed(Kind("items", items=name), lambda scene: entries.read(scene, True), locals=local, uses=uses)


def _column(compiler: Compiler, node: ast.Attribute, owner: Typed, field: str) -> Typed:
    table = compiler.scope.tables[owner.kind.items or ""]
    kind = table.columns.get(field)
    if kind is None:
        hint = did_you_mean(field, table.columns) or f"its columns are {', '.join(table.columns)}"
        raise compiler.refused(node, 201, f"table {table.name} has no column '{field}'", hint)
    return of_cell(kind, owner, field)


def of_cell(kind: Kind, owner: Typed, column: str) -> Typed:
    """The value of one column of a row."""
    row = owner.evaluate

    def value(scene: object) -> object:
        found = row(scene)
        return found if isinstance(found, Unknown) else found[column].value

    def unit(scene: object) -> Unit | None:
        found = row(scene)
        return None if isinstance(found, Unknown) else found[column].unit

    marks = (Mark(kind.element or kind, 1, unit),)
    height = owner.height + 1
    return Typed(kind, value, owner.form, locals=owner.locals, uses=owner.uses, marks=marks, height=height)


def _field(compiler: Compiler, node: ast.Attribute, owner: Typed, name: str) -> Typed:
    entries = compiler.scope.entries[owner.kind.items or ""]
    field = compiler.field(node, entries, name)
    item, read, unit, behind = owner.evaluate, field.read, field.unit, field.expression

    def value(scene: object) -> object:
        entry = item(scene)
        return entry if isinstance(entry, Unknown) else read(scene, entry)

    return Typed(
        field.kind,
        value,
        CONSTANT if behind is None else function_of(behind.form),
        locals=owner.locals,
        uses=owner.uses | field.uses,
        irrational=behind is not None and behind.irrational,
        marks=() if unit is None else (Mark(unit.kind, 2, lambda _: unit),),
        degree=1 if behind is None else behind.degree,
        height=owner.height + (1 if behind is None else behind.height),
    )


def of_binding(name: str, binding: Binding) -> Typed:
    """What a bound name stands for. A derived value has its own unit; a `let` counts as written in its place."""
    behind, unit = binding.expression, binding.unit
    if unit is not None:
        marks: tuple[Mark, ...] = (Mark(unit.kind, 2 if behind is None else 3, lambda _: unit),)
    else:
        marks = () if behind is None else behind.marks
    return Typed(
        binding.kind,
        binding.read,
        binding.form,
        locals=binding.locals,
        uses=binding.uses if binding.locals else binding.uses | {name},
        irrational=behind is not None and behind.irrational,
        marks=marks,
        denominators=() if behind is None else behind.denominators,
        degree=1 if behind is None else behind.degree,
        height=1 if behind is None else behind.height + 1,
    )


def unknown_name(compiler: Compiler, node: ast.AST, name: str) -> Stop:
    """Note a name that nothing has, with the nearest that something has; raise what this returns."""
    scope = compiler.scope
    number, hint = 201, f"write {name}(..)"
    lists = sorted(entry.name for entry in scope.entries.values() if name in set(entry.fields))
    if name in scope.sections():
        fact = min(n for n in scope.names if n.startswith(f"{name}."))
        told, hint = "is a section of facts, not a value", f"for instance {fact}"
    elif name in scope.tables:
        told = "is a table; it needs its keys"
    elif name in compiler.functions:
        told = "is a function; it needs brackets"
    elif name.casefold() in _MEANT:
        told, hint = "is not a name", _MEANT[name.casefold()]
    elif (unit := unit_meant(name, scope.currency)) is not None:
        told, hint = "is not a name", f"a unit stands behind its number: write 1 {unit}"
    elif lists:
        number, told = 205, f"is a field of {' and '.join(lists)}, and means nothing here"
        hint = f"check `each: {lists[0]}`, or go through the list: (x.{name} for x in {lists[0]})"
    else:
        told, hint = "is not a name that this pack knows", did_you_mean(name, scope.all_names())
        fact = next((n for n in sorted(scope.names) if n.endswith(f".{name}")), "")
        if not hint and "." in name:
            hint = "declare it under `facts`"
        elif not hint and fact:
            hint = f"Did you mean '{fact}'?"
        elif not hint:
            hint = f"declare it under `facts`, or if it is a word, put it in quotes: '{name}'"
    return compiler.refused(node, number, f"'{name}' {told}", hint)


def _no_owner(compiler: Compiler, node: ast.Attribute, first: str, field: str) -> Stop:
    scope = compiler.scope
    if first in scope.entries:
        hint = f"go through it: (x.{field} for x in {first})"
        return compiler.refused(node, 304, f"'{first}' has several entries; one value is needed here", hint)
    if first in scope.tables:
        return compiler.refused(
            node, 201, f"'{first}' is a table; it needs its keys", f"write {first}(..).{field}"
        )
    return unknown_name(compiler, node, f"{first}.{field}")
