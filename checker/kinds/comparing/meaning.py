"""What a formula means, whatever the way it is written: to tell a reworded formula from a changed one.

`a + b` and `b + a`, `5 cm` and `50 mm`, `x < y` and `y > x` are the same. What this cannot see to be the same is taken
for a change: that is the safe side for a comparison of rulebooks.
"""

from __future__ import annotations

import ast
from collections.abc import Mapping
from fractions import Fraction
from typing import Any

from checker.quantities.folding import fold
from checker.quantities.formula.expression import Expression
from checker.quantities.formula.grammar import FormulaTree
from checker.quantities.kind import Kind, Unknown

_TURNED = {ast.Gt: "<", ast.GtE: "<=", ast.Lt: "<", ast.LtE: "<=", ast.Eq: "==", ast.NotEq: "!="}
_UNORDERED = ("min", "max")

Meaning = tuple[Any, ...]


def same_meaning(a: Expression | None, b: Expression | None) -> bool:
    """Whether two formulas are written alike up to order and units; None is no formula."""
    if a is None or b is None:
        return a is b
    return meaning(a) == meaning(b)


def meaning(expression: Expression) -> Meaning:
    """A form that formulas of one meaning share."""
    if expression.constant:
        value = expression.value
        if not isinstance(value, Unknown):
            return _constant(expression.kind, value)
    if expression.tree is None:
        return ("text", fold(expression.text))
    return _of(expression.tree, expression.tree.body, {})


def _constant(kind: Kind, value: object) -> Meaning:
    if isinstance(value, str):
        return ("word", fold(value))
    if isinstance(value, tuple):
        return ("list", *(_constant(kind.element or kind, one) for one in value))
    return ("value", "" if kind.is_word else kind.name, kind.dimension, value)


def _of(tree: FormulaTree, node: ast.AST, names: Mapping[str, str]) -> Meaning:
    literal = tree.literal(node)
    if literal is not None:
        return _constant(literal.kind, literal.value)
    match node:
        case ast.Constant(value=int() as value):
            return ("value", "number", Kind("number").dimension, Fraction(value))
        case ast.Constant():
            return ("word", fold(tree.quoted(node)))
        case ast.Name():
            name = tree.name(node)
            return ("name", names.get(name, name))
        case ast.Attribute(value=owner):
            return ("of", _of(tree, owner, names), tree.name(node))
        case ast.BinOp(op=ast.Add() | ast.Mult() as op):
            return (type(op).__name__, *_sorted(_row(tree, node, type(op), names)))
        case ast.BoolOp(op=op, values=values):
            return (type(op).__name__, *_sorted(_of(tree, value, names) for value in values))
        case ast.Compare(ops=[op], comparators=[right]):
            return _comparison(op, _of(tree, node.left, names), _of(tree, right, names))
        case ast.Call(func=ast.Name() as func, args=args):
            called = [_of(tree, one, names) for one in args]
            return ("call", tree.name(func), *(_sorted(called) if tree.name(func) in _UNORDERED else called))
        case ast.GeneratorExp(elt=element, generators=[generator]):
            target = generator.target
            bound = target.elts if isinstance(target, ast.Tuple) else [target]  # neighbours are several
            inside = {**names, **{tree.name(one): f"entry {len(names) + at}" for at, one in enumerate(bound)}}
            conditions = _sorted(_of(tree, one, inside) for one in generator.ifs)
            return ("for", _of(tree, generator.iter, names), _of(tree, element, inside), *conditions)
        case _:
            return (type(node).__name__, *(_of(tree, child, names) for child in ast.iter_child_nodes(node)))


def _row(tree: FormulaTree, node: ast.AST, op: type[ast.operator], names: Mapping[str, str]) -> list[Meaning]:
    """The parts of a row of sums, or of products, however it is bracketed."""
    if isinstance(node, ast.BinOp) and isinstance(node.op, op) and tree.literal(node) is None:
        return [*_row(tree, node.left, op, names), *_row(tree, node.right, op, names)]
    return [_of(tree, node, names)]


def _comparison(op: ast.cmpop, left: Meaning, right: Meaning) -> Meaning:
    if isinstance(op, (ast.Gt, ast.GtE)):
        left, right = right, left
    sign = _TURNED.get(type(op), type(op).__name__)
    return (sign, *(_sorted([left, right]) if isinstance(op, (ast.Eq, ast.NotEq)) else (left, right)))


def _sorted(parts: Any) -> list[Meaning]:
    return sorted(parts, key=repr)
