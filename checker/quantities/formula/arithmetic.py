"""Sums on paper: + - * / ** with their kinds and dimensions.

Exponents of dimensions add and subtract; a percentage of a quantity is a quantity; a day plus months is a day.
Anything made from an unknown is unknown; so is a division by zero.
"""

from __future__ import annotations

import ast
from collections.abc import Callable
from datetime import date
from fractions import Fraction
from typing import Any

from checker.quantities.calendar import add_days, add_months
from checker.quantities.formula import form as forms
from checker.quantities.formula.compiler import Compiler, described, mismatch
from checker.quantities.formula.typed import Run, Typed, merged
from checker.quantities.kind import DATE, DAYS, NUMBER, PERCENT, Kind, Unknown, quantity, unite

_SCALES = ("number", "quantity")


def binary(compiler: Compiler, node: ast.BinOp) -> Typed:
    """An operation on two values."""
    if isinstance(node.op, ast.Pow):
        return _power(compiler, node)
    left, right = compiler.nodes([node.left, node.right])
    compiler.single(node.left, left)
    compiler.single(node.right, right)
    match node.op:
        case ast.Add():
            return _sum(compiler, node, left, right, 1)
        case ast.Sub():
            return _sum(compiler, node, left, right, -1)
        case ast.Mult():
            return _product(compiler, node, left, right)
        case _:
            return _quotient(compiler, node, left, right)


def negation(compiler: Compiler, node: ast.UnaryOp) -> Typed:
    """A minus sign."""
    operand = compiler.node(node.operand)
    compiler.single(node.operand, operand)
    if not operand.kind.is_measure:
        compiler.refuse(node, 302, f"a minus sign before {described(operand.kind)}")
    run = operand.run

    def negative(scene: Any) -> Any:
        value = run(scene)
        return value if isinstance(value, Unknown) else -value

    return merged(operand.kind, negative, (operand,), forms.negative(operand.form))


def _sum(compiler: Compiler, node: ast.BinOp, left: Typed, right: Typed, sign: int) -> Typed:
    a, b = left.kind, right.kind
    if a.name == "date" or b.name == "date":
        return _dates(compiler, node, left, right, sign)
    if not (a.is_measure and b.is_measure and a.same_measure(b)):
        mismatch(compiler, node, a, b, f"'{compiler.source(node)}'")
    form = forms.added(left.form, right.form if sign > 0 else forms.negative(right.form))
    if sign > 0:
        return merged(a, _both(left.run, right.run, lambda x, y: x + y), (left, right), form)
    return merged(a, _both(left.run, right.run, lambda x, y: x - y), (left, right), form)


def _dates(compiler: Compiler, node: ast.BinOp, left: Typed, right: Typed, sign: int) -> Typed:
    a, b = left.kind, right.kind
    form = forms.function_of(left.form, right.form)
    if sign < 0 and a.name == b.name == "date":
        return merged(
            DAYS, _both(left.run, right.run, lambda x, y: Fraction((x - y).days)), (left, right), form
        )
    if a.name == "date" and b.name in ("days", "months"):
        day, span = left.run, right.run
    elif b.name == "date" and a.name in ("days", "months") and sign > 0:
        day, span = right.run, left.run
    else:
        mismatch(compiler, node, a, b, f"'{compiler.source(node)}'")
    move = add_days if "days" in (a.name, b.name) else add_months

    def moved(x: date, amount: Fraction) -> Any:
        if amount.denominator != 1:
            return Unknown(reasons=(f"{amount} is not a whole number of days or months",))
        try:
            return move(x, sign * int(amount))
        except ValueError as error:
            return Unknown(reasons=(str(error),))

    return merged(DATE, _both(day, span, moved), (left, right), form)


def _product(compiler: Compiler, node: ast.BinOp, left: Typed, right: Typed) -> Typed:
    kind = _product_kind(left.kind, right.kind) or _product_kind(right.kind, left.kind)
    if kind is None:
        mismatch(compiler, node, left.kind, right.kind, f"'{compiler.source(node)}'")
    form = forms.multiplied(left.form, right.form)
    return merged(kind, _both(left.run, right.run, lambda x, y: x * y), (left, right), form)


def _product_kind(a: Kind, b: Kind) -> Kind | None:
    if a.name in _SCALES and b.name in _SCALES:
        return quantity(a.dimension * b.dimension)
    if a.name == "percent":
        if b.name in ("percent", "number"):
            return PERCENT
        if b.name == "quantity":
            return b
    if a.name in ("days", "months") and b.name == "number":
        return a
    return None


def _quotient(compiler: Compiler, node: ast.BinOp, left: Typed, right: Typed) -> Typed:
    kind = _quotient_kind(left.kind, right.kind)
    if kind is None:
        mismatch(compiler, node, left.kind, right.kind, f"'{compiler.source(node)}'")
    if right.constant and right.value == 0:
        compiler.refuse(node.right, 306, "division by zero")
    divisor = compiler.source(node.right)

    def divide(x: Fraction, y: Fraction) -> Any:
        return x / y if y else Unknown(reasons=(f"{divisor} is zero, so nothing can be divided by it",))

    form = forms.divided(left.form, right.form, divisor)
    changing = () if right.form.is_constant else (right.run,)
    parts = (left, right)
    denominators = (*left.denominators, *right.denominators, *changing)
    return merged(kind, _both(left.run, right.run, divide), parts, form, denominators=denominators)


def _quotient_kind(a: Kind, b: Kind) -> Kind | None:
    if a.name in _SCALES and b.name in _SCALES:
        return quantity(a.dimension / b.dimension)
    if a.name == b.name == "percent":
        return NUMBER
    if a.name == "percent" and b.name == "number":
        return PERCENT
    if a.name == "quantity" and b.name == "percent":
        return a
    if a.name in ("days", "months"):
        if b.name == "number":
            return a
        if b.name == a.name:
            return NUMBER
    return None


def _power(compiler: Compiler, node: ast.BinOp) -> Typed:
    base = compiler.node(node.left)
    compiler.single(node.left, base)
    if base.kind.name not in _SCALES:
        compiler.refuse(node, 302, f"{described(base.kind)} cannot be raised to a power")
    exponent = int(node.right.value) if isinstance(node.right, ast.Constant) else 2  # type: ignore[arg-type]
    run = base.run

    def raised(scene: Any) -> Any:
        value = run(scene)
        return value if isinstance(value, Unknown) else value**exponent

    return merged(
        quantity(base.kind.dimension**exponent), raised, (base,), forms.function_of(base.form), marks=()
    )


def _both(left: Run, right: Run, operation: Callable[[Any, Any], Any]) -> Run:
    """`operation` on two values, unknown when either is."""

    def run(scene: Any) -> Any:
        a, b = left(scene), right(scene)
        if isinstance(a, Unknown) or isinstance(b, Unknown):
            return unite(v for v in (a, b) if isinstance(v, Unknown))
        return operation(a, b)

    return run
