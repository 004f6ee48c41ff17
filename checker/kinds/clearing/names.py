"""Where the written code finds what a name stands for: a fact, a weight, the field of an entry."""

from __future__ import annotations

import ast

from checker.car.scene import ITEM
from checker.kinds.clearing.code import CodeLines
from checker.kinds.contract.writing import NotInFloats
from checker.kinds.judging.spread import is_weight
from checker.quantities.formula.grammar import FormulaTree
from checker.quantities.formula.scope import Binding
from checker.quantities.kind import Kind


def is_let(write: CodeLines, name: str, binding: Binding) -> bool:
    """Whether a name with a formula is no field of the check's own entry."""
    if binding.locals != {ITEM}:
        return True
    _, list_name = write.items.get(ITEM, ("", ""))
    return list_name != "" and name not in write.scope.entries[list_name].fields


def dotted(tree: FormulaTree, node: ast.expr) -> str:
    """A name with what stands before its dot; "" where it is none."""
    if isinstance(node, ast.Attribute) and isinstance(node.value, ast.Name):
        return f"{tree.name(node.value)}.{tree.name(node)}"
    return tree.name(node) if isinstance(node, ast.Name) else ""


def fact_code(write: CodeLines, name: str, binding: Binding | None) -> str | None:
    """What reads a fact of one value, or a weight."""
    if binding is None or binding.locals or not binding.kind.is_measure:
        return None
    if is_weight(name):
        return f"car.weight({write.constant(name)}, {write.scene})"
    return f"car.fact({write.constant(name)}, {write.constant(binding.read)})"


def field_code(write: CodeLines, tree: FormulaTree, node: ast.expr, binding: Binding | None) -> str | None:
    """What reads a field of the check's own entry, or of one that is bound to a name."""
    entry = _entry_and_field(write, tree, node, binding)
    if entry is None:
        return None
    holder, _, name, kind = entry
    return f"car.field({holder}, {write.constant(name)})" if kind.is_measure else None


def _entry_and_field(
    write: CodeLines, tree: FormulaTree, node: ast.expr, binding: Binding | None
) -> tuple[str, str, str, Kind] | None:
    """The name that holds the entry, its list, the field that is stated of it and what kind that is."""
    if isinstance(node, ast.Name) and binding is not None and binding.locals == {ITEM}:
        owner, name = ITEM, tree.name(node)
    elif isinstance(node, ast.Attribute) and isinstance(node.value, ast.Name) and binding is None:
        owner, name = tree.name(node.value), tree.name(node)
    else:
        return None
    if owner not in write.items:
        return None
    holder, list_name = write.items[owner]
    field = write.scope.entries[list_name].fields.get(name)
    if field is None or field.expression is not None or field.uses != {f"{list_name}.{name}"}:
        return None
    return holder, list_name, name, field.kind


def several_code(write: CodeLines, tree: FormulaTree, node: ast.expr) -> str:
    """Name of the several values of a fact or field."""
    name = dotted(tree, node)
    binding = write.scope.names.get(name)
    entry = _entry_and_field(write, tree, node, binding)
    if entry is not None:
        holder, list_name, field, _ = entry
        read = write.constant(write.scope.entries[list_name].fields[field].read)
        code = f"car.fields({holder}, {write.constant(field)}, {read})"
    elif binding is not None and not binding.locals and binding.expression is None:
        code = f"car.facts({write.constant(name)}, {write.constant(binding.read)})"
    else:
        raise NotInFloats
    several = write.put(code)
    write.give_up_if(f"{several} is None")
    return several
