"""Sums on paper: + - * / ** with their kinds and dimensions.

Exponents of dimensions add and subtract; a percentage of a quantity is a quantity; a day plus months is a day. Anything
made from an unknown is unknown; so is a division by zero.
"""

from __future__ import annotations

import ast
import operator
from collections.abc import Callable
from datetime import date
from fractions import Fraction
from typing import Any

from checker.quantities.days import add_days, add_months
from checker.quantities.elementary import same
from checker.quantities.formula import form as forms
from checker.quantities.formula.agreement import described, mismatch, scaled, single, singles
from checker.quantities.formula.compiler import Compiler
from checker.quantities.formula.typed import Mark, Run, Typed, merged, of_known, shared
from checker.quantities.kind import DATE, DAYS, NUMBER, PERCENT, Kind, Unknown, quantity, unite
from checker.quantities.reason import NoValue
from checker.quantities.units import DIFFERENCES, MOMENT, Unit
from checker.reading.quick_dataclasses import dataclass, replace

_SCALES = ("number", "quantity")
_CALENDAR = ("days", "months")

_UNSIGNED = "only numbers and amounts have a sign and powers; before a truth write not"

Operation = Callable[[Any, Any], Any]
"""On two known values; it may come to Unknown."""

_ADD: dict[int, Operation] = {1: operator.add, -1: operator.sub}


def binary(compiler: Compiler, node: ast.BinOp) -> Typed:
    """An operation on two values. A row of them, `a + b - c`, is taken from left to right, however long."""
    if isinstance(node.op, ast.Pow):
        return _power(compiler, node)
    row: list[ast.BinOp] = []
    first: ast.expr = node
    while isinstance(first, ast.BinOp) and not isinstance(first.op, ast.Pow):
        row.append(first)
        first = first.left
    row.reverse()
    made, *others = singles(compiler, [first, *(operation.right for operation in row)])
    height = 1 + max(part.height for part in (made, *others))
    for operation, right in zip(row, others, strict=True):
        made = _operation(compiler, operation, made, right)
    return replace(made, height=height)


def _operation(compiler: Compiler, node: ast.BinOp, left: Typed, right: Typed) -> Typed:
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
    operand = single(compiler, node.operand, compiler.node(node.operand))
    if operand.kind in DIFFERENCES:
        literal = compiler.tree.literal(node.operand)
        if literal is None or literal.unit is None or operand.kind == MOMENT:
            raise scaled(compiler, node, "a minus sign before", operand.kind)
        below = 2 * literal.unit.zero - operand.value
        return replace(operand, evaluate=lambda _: below)
    if not operand.kind.is_measure:
        raise compiler.refused(node, 302, f"a minus sign before {described(operand.kind)}", _UNSIGNED)
    return merged(
        operand.kind, of_known(operator.neg, operand.evaluate), [operand], forms.negative(operand.form)
    )


def _sum(compiler: Compiler, node: ast.BinOp, left: Typed, right: Typed, sign: int) -> Typed:
    a, b = left.kind, right.kind
    if "date" in (a.name, b.name):
        return _dates(compiler, node, left, right, sign)
    if a in DIFFERENCES or b in DIFFERENCES:
        return _points(compiler, node, left, right, sign)
    if not (a.is_measure and b.is_measure and a.same_measure(b)):
        raise mismatch(compiler, node, a, b, f"'{compiler.source(node)}'")
    form = forms.added(left.form, right.form if sign > 0 else forms.negative(right.form))
    operation = _ADD[sign] if not (left.irrational or right.irrational) else _settled(sign)
    return merged(a, _both(left.evaluate, right.evaluate, operation), (left, right), form)


def _points(compiler: Compiler, node: ast.BinOp, left: Typed, right: Typed, sign: int) -> Typed:
    """Two temperatures, or moments, have a difference; one and a difference make another."""
    a, b = left.kind, right.kind
    if a == b and sign < 0:
        kind = DIFFERENCES[a]
    elif DIFFERENCES.get(a) == b or (DIFFERENCES.get(b) == a and sign > 0):
        kind = a if a in DIFFERENCES else b
    elif a == b:
        raise scaled(compiler, node, "a sum of", a)
    else:
        raise mismatch(compiler, node, a, b, f"'{compiler.source(node)}'")
    form = forms.added(left.form, right.form if sign > 0 else forms.negative(right.form))
    made = merged(kind, _both(left.evaluate, right.evaluate, _ADD[sign]), (left, right), form)
    return made if kind in DIFFERENCES else replace(made, marks=tuple(map(_stepped, made.marks)))


def _stepped(mark: Mark) -> Mark:
    """The unit of a temperature or moment, as one of differences."""

    def unit(scene: object) -> Unit | None:
        found = mark.unit(scene)
        return None if found is None else found.step

    return replace(mark, kind=DIFFERENCES.get(mark.kind, mark.kind), unit=unit)


def _settled(sign: int) -> Operation:
    """A sum or difference of what is carried to 30 digits: nothing, where only its last digits would be left."""
    return lambda x, y: Fraction(0) if same(x, -sign * y) else x + sign * y


def _dates(compiler: Compiler, node: ast.BinOp, left: Typed, right: Typed, sign: int) -> Typed:
    a, b = left.kind, right.kind
    if sign < 0 and a.name == b.name == "date":
        return merged(
            DAYS, _both(left.evaluate, right.evaluate, lambda x, y: Fraction((x - y).days)), (left, right)
        )
    if a.name == "date" and b.name in _CALENDAR:
        day, span = left, right
    elif b.name == "date" and a.name in _CALENDAR and sign > 0:
        day, span = right, left
    else:
        raise mismatch(compiler, node, a, b, f"'{compiler.source(node)}'")
    move, what = (add_days, "days") if span.kind.name == "days" else (add_months, "months")

    def moved(x: date, amount: Fraction) -> object:
        if amount.denominator != 1:
            return Unknown.because(NoValue.NOT_WHOLE, amount, what)
        try:
            return move(x, sign * int(amount))
        except ValueError as error:
            return Unknown.because(NoValue.NO_RESULT, str(error))

    return merged(DATE, _both(day.evaluate, span.evaluate, moved), (left, right))


def _product(compiler: Compiler, node: ast.BinOp, left: Typed, right: Typed) -> Typed:
    kind = _product_kind(left.kind, right.kind) or _product_kind(right.kind, left.kind)
    if kind is None:
        raise mismatch(compiler, node, left.kind, right.kind, f"'{compiler.source(node)}'")
    factor = left if left.constant else right
    form = forms.multiplied(left.form, right.form, _sign(factor))
    run = _both(left.evaluate, right.evaluate, operator.mul)
    return merged(kind, run, (left, right), form, degree=_degree(left, right))


def _product_kind(a: Kind, b: Kind) -> Kind | None:
    if a in DIFFERENCES or b in DIFFERENCES:
        return None
    if a.name in _SCALES and b.name in _SCALES:
        return quantity(a.dimension * b.dimension)
    if a.name == "percent" and b.name in ("percent", "number"):
        return PERCENT
    if a.name == "percent" and b.name == "quantity":
        return b
    if a.name in _CALENDAR and b.name == "number":
        return a
    return None


def _quotient(compiler: Compiler, node: ast.BinOp, left: Typed, right: Typed) -> Typed:
    kind = _quotient_kind(left.kind, right.kind)
    if kind is None:
        raise mismatch(compiler, node, left.kind, right.kind, f"'{compiler.source(node)}'")
    if right.constant and right.value == 0:
        raise compiler.refused(node.right, 306, "division by zero", "divide by something else")
    divisor = compiler.source(node.right)

    def divide(x: Fraction, y: Fraction) -> object:
        return x / y if y else Unknown.because(NoValue.BY_ZERO, divisor)

    changing = () if right.form.is_constant else (right.evaluate,)
    return merged(
        kind,
        _both(left.evaluate, right.evaluate, divide),
        (left, right),
        forms.divided(left.form, right.form, divisor, _sign(right)),
        degree=_degree(left, right),
        denominators=shared(left.denominators, right.denominators, changing),
    )


def _quotient_kind(a: Kind, b: Kind) -> Kind | None:
    if a in DIFFERENCES or b in DIFFERENCES:
        return None
    if a.name in _SCALES and b.name in _SCALES:
        return quantity(a.dimension / b.dimension)
    if a.name == b.name and a.name in ("percent", *_CALENDAR):
        return NUMBER
    if b.name == "number" and a.name in ("percent", *_CALENDAR):
        return a
    if a.name == "quantity" and b.name == "percent":
        return a
    return None


def _degree(left: Typed, right: Typed) -> int:
    """Factors that are known, and so no longer than they are written, do not count beside others."""
    if left.constant or right.constant:
        return max(left.degree, right.degree)
    return left.degree + right.degree


def _sign(factor: Typed) -> int | None:
    """-1, 0 or 1 for a constant factor; None where it is not known when the pack is read."""
    return (factor.value > 0) - (factor.value < 0) if factor.constant else None


def _power(compiler: Compiler, node: ast.BinOp) -> Typed:
    base = single(compiler, node.left, compiler.node(node.left))
    if base.kind in DIFFERENCES:
        raise scaled(compiler, node, "a power of", base.kind)
    if base.kind.name not in _SCALES:
        raise compiler.refused(node, 302, f"{described(base.kind)} cannot be raised to a power", _UNSIGNED)
    assert isinstance(node.right, ast.Constant), "the grammar allows nothing else"
    assert isinstance(node.right.value, int), "the grammar allows nothing else"
    exponent = node.right.value
    run = of_known(lambda value: value**exponent, base.evaluate)
    return merged(quantity(base.kind.dimension**exponent), run, [base], degree=base.degree * exponent)


@dataclass(frozen=True, slots=True)
class _Row:
    """Operations one after the other; unknown when any value is, with all that is absent."""

    first: Run
    steps: tuple[tuple[Operation, Run], ...]

    def __call__(self, scene: object) -> object:
        value = self.first(scene)
        unknown: list[Unknown] = [value] if isinstance(value, Unknown) else []
        for operation, right in self.steps:
            other = right(scene)
            if isinstance(other, Unknown):
                unknown.append(other)
            elif not unknown:
                value = operation(value, other)
                if isinstance(value, Unknown):
                    unknown.append(value)
        return unite(unknown) if unknown else value


def _both(left: Run, right: Run, operation: Operation) -> Run:
    """`operation` on two values, the left of which may be a row already."""
    if isinstance(left, _Row):
        return _Row(left.first, (*left.steps, (operation, right)))
    return _Row(left, ((operation, right),))
