"""Whether a formula rises or falls with one of its parts, where that can be told from the way it is built.

A limit of `0.08 kg/cc * engine.capacity + 12 kg` rises with the 12 kg, by just as much. Of the 0.08 nothing is said:
that a capacity is never negative is knowledge of cars, not of formulas.
"""

from __future__ import annotations

import ast
from collections.abc import Callable
from datetime import date
from fractions import Fraction
from typing import Any

from checker.quantities.formula.expression import Expression
from checker.quantities.formula.grammar import FormulaTree
from checker.quantities.literal import Literal
from checker.reading.quick_dataclasses import dataclass

RISES, FALLS, NOT_AT_ALL = 1, -1, 0

_RISING_FUNCTIONS = (
    *("min", "max", "sum", "mean", "median", "nth_largest", "nth_smallest", "end_of_month", "end_of_year"),
    *("round_up", "round_down", "round_half_up", "round_half_even", "percent", "cbrt", "lg"),
)

Expand = Callable[[str], "tuple[FormulaTree, ast.AST] | None"]
"""The formula behind a name, for names that are worked out."""


@dataclass(frozen=True, slots=True)
class Way:
    """How a formula depends on a part of it."""

    sign: int
    """`RISES`, `FALLS` or `NOT_AT_ALL`."""
    by_as_much: bool = True
    """It moves by just as much as the part."""


def way(
    tree: FormulaTree,
    node: ast.AST,
    part: Callable[[FormulaTree, ast.AST], bool],
    expand: Expand = lambda _: None,
    known: dict[str, Way | None] | None = None,
) -> Way | None:
    """How the value at a node depends on the nodes that are `part`; None where it cannot be told.

    Args:
        part: Whether a node is what may change.
        expand: The formulas behind names, which are looked into too.
        known: What was found of names already; each is looked into once, however often it is used.
    """
    if part(tree, node):
        return Way(RISES)
    names = {} if known is None else known

    def below(child: ast.AST) -> Way | None:
        return way(tree, child, part, expand, names)

    match node:
        case ast.Name() if tree.literal(node) is None:
            name = tree.name(node)
            if name not in names:
                behind = expand(name)
                names[name] = Way(NOT_AT_ALL) if behind is None else way(*behind, part, expand, names)
            return names[name]
        case ast.BinOp(op=ast.Add(), left=left, right=right):
            return both(below(left), below(right), summed=True)
        case ast.BinOp(op=ast.Sub(), left=left, right=right):
            return both(below(left), _turned(below(right)), summed=True)
        case ast.UnaryOp(op=ast.USub(), operand=operand):
            return _turned(below(operand))
        case ast.BinOp(op=ast.Mult() | ast.Div() as op, left=left, right=right):
            return _product(tree, op, left, right, below(left), below(right))
        case ast.IfExp(test=test, body=body, orelse=other):
            return both(below(body), below(other)) if below(test) == Way(NOT_AT_ALL) else None
        case ast.Call(func=ast.Name() as func, args=args) if tree.name(func) in _RISING_FUNCTIONS:
            rounds = tree.name(func).startswith("round")
            if rounds and below(args[-1]) != Way(NOT_AT_ALL):
                return None
            found: Way | None = Way(NOT_AT_ALL)
            for argument in args[:1] if rounds else args:
                found = both(found, below(argument))
            return None if found is None else Way(found.sign, found.sign == NOT_AT_ALL)
        case ast.GeneratorExp(elt=element, generators=[generator]):
            through = [below(one) for one in (generator.iter, *generator.ifs)]
            return below(element) if all(one == Way(NOT_AT_ALL) for one in through) else None
    inside = [below(child) for child in ast.iter_child_nodes(node)]
    return Way(NOT_AT_ALL) if all(one == Way(NOT_AT_ALL) for one in inside) else None


def difference(a: Way | None, b: Way | None) -> Way | None:
    """How a less b moves, where both may move."""
    return both(a, _turned(b), summed=True)


def both(a: Way | None, b: Way | None, summed: bool = False) -> Way | None:
    """How something made of two parts moves, where both may move; either alone moves a sum by as much."""
    if a is None or b is None:
        return None
    if a.sign == NOT_AT_ALL or b.sign == NOT_AT_ALL:
        return b if a.sign == NOT_AT_ALL else a
    return Way(a.sign, a.by_as_much and b.by_as_much and not summed) if a.sign == b.sign else None


def _turned(one: Way | None) -> Way | None:
    return None if one is None else Way(-one.sign, one.by_as_much)


def _product(
    tree: FormulaTree, op: ast.operator, left: ast.AST, right: ast.AST, a: Way | None, b: Way | None
) -> Way | None:
    """Only a product with a plain number or amount has a known sign."""
    if a == b == Way(NOT_AT_ALL):
        return a
    if b == Way(NOT_AT_ALL) and a is not None and (sign := _sign(tree, right)):
        return Way(a.sign * sign, False)
    if isinstance(op, ast.Mult) and a == Way(NOT_AT_ALL) and b is not None and (sign := _sign(tree, left)):
        return Way(b.sign * sign, False)
    return None


def _sign(tree: FormulaTree, node: ast.AST) -> int:
    value = literal_value(tree, node)
    return 0 if not isinstance(value, Fraction) or value == 0 else (RISES if value > 0 else FALLS)


def literal_value(tree: FormulaTree, node: ast.AST) -> Any:
    """The value of a literal; None for anything else."""
    literal = tree.literal(node)
    if literal is not None:
        return literal.value
    if isinstance(node, ast.Constant) and isinstance(node.value, int):
        return Fraction(node.value)
    return None


@dataclass(frozen=True, slots=True)
class Shift:
    """How a formula moves when nothing but amounts in it was changed."""

    sign: int
    """`RISES` or `FALLS`."""
    by: Fraction | None = None
    """By how much, in base units, where it is the same for every car."""
    literal: Literal | None = None
    """The new amount, for its unit."""


def shift(older: Expression, newer: Expression) -> Shift | None:
    """How a formula that kept its shape moved; None where it did not keep it, or the way cannot be told."""
    if older.tree is None or newer.tree is None:
        return None
    pairs = _pairs(older.tree, older.tree.body, newer.tree, newer.tree.body)
    if pairs is None:
        return None
    signs: set[int] = set()
    amounts: list[tuple[Fraction | None, Literal | None]] = []
    for before, after in pairs:
        a, b = literal_value(older.tree, before), literal_value(newer.tree, after)
        if a == b:
            continue
        if type(a) is not type(b) or isinstance(a, str):
            return None
        found = way(newer.tree, newer.tree.body, lambda _, node, one=after: node is one)  # type: ignore[misc]
        if found is None or found.sign == NOT_AT_ALL:
            return None
        signs.add(found.sign * (RISES if b > a else FALLS))
        size = Fraction(abs((b - a).days)) if isinstance(a, date) else abs(b - a)
        amounts.append((size if found.by_as_much else None, newer.tree.literal(after)))
    if len(signs) != 1:
        return None
    by, literal = amounts[0] if len(amounts) == 1 else (None, None)
    return Shift(signs.pop(), by, literal)


def _pairs(
    a_tree: FormulaTree, a: ast.AST, b_tree: FormulaTree, b: ast.AST
) -> list[tuple[ast.AST, ast.AST]] | None:
    """The literals of two formulas of one shape, in their order; None where the shapes differ."""
    are_literals = literal_value(a_tree, a) is not None, literal_value(b_tree, b) is not None
    if any(are_literals):
        return [(a, b)] if all(are_literals) else None
    if type(a) is not type(b):
        return None
    if isinstance(a, (ast.Name, ast.Attribute)) and a_tree.name(a) != b_tree.name(b):
        return None
    if isinstance(a, ast.Constant) and a_tree.quoted(a) != b_tree.quoted(b):
        return None
    inside = list(ast.iter_child_nodes(a)), list(ast.iter_child_nodes(b))
    if len(inside[0]) != len(inside[1]):
        return None
    found: list[tuple[ast.AST, ast.AST]] = []
    for x, y in zip(*inside, strict=True):
        below = _pairs(a_tree, x, b_tree, y)
        if below is None:
            return None
        found += below
    return found


def choices(expression: Expression) -> tuple[Any, ...]:
    """Every value of a formula that chooses among fixed ones with `if`; () for any other formula."""
    if expression.constant:
        return (expression.value,)
    if expression.tree is None:
        return ()
    return _choices(expression.tree, expression.tree.body)


def _choices(tree: FormulaTree, node: ast.AST) -> tuple[object, ...]:
    if isinstance(node, ast.IfExp):
        body, other = _choices(tree, node.body), _choices(tree, node.orelse)
        return (*body, *other) if body and other else ()
    value = literal_value(tree, node)
    return () if value is None else (value,)
