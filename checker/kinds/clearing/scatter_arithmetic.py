"""Sizes, products and quotients of bounds on how far errors move a value, in floats that never come out too small."""

from __future__ import annotations

import ast
import math
from collections.abc import Iterator
from fractions import Fraction

from checker.car.errors.followed import STEP
from checker.kinds.clearing.clear import Scatter, fewest

UP = 1 + 1e-12
"""More than one float of a value is rounded by."""
_FAR = 1e-5
"""A divisor that a base unit of a lever changes by more than itself over this, is for exact numbers."""


def size_of(value: Fraction) -> float:
    try:
        return abs(float(value)) * UP
    except OverflowError:
        return math.inf


def known(value: object) -> Scatter | None:
    return Scatter(0.0, size=size_of(value)) if isinstance(value, Fraction) else None


def quotient(node: ast.expr, left: Scatter, right: Scatter) -> Scatter | None:
    """The size of what a name or a literal stands for is told from below too; nothing else divides."""
    divisor = right.size * (1 - 1e-11) if isinstance(node, (ast.Name, ast.Attribute, ast.Constant)) else 0.0
    if divisor == 0 or math.isinf(divisor) or right.steepest * _FAR > divisor:
        return None
    deviation, steepest = (one / divisor / divisor * (1 + 1e-6) for one in (right.deviation, right.steepest))
    return product(left, Scatter(deviation, steepest, 1 / divisor, right.degrees))


def product(one: Scatter, other: Scatter) -> Scatter | None:
    """Sizes are taken a step further out, as what is followed is a difference over such a step."""
    step = 2 * float(STEP)
    sizes = one.size + step * one.steepest, other.size + step * other.steepest
    if (math.isinf(sizes[0]) and not other.is_still) or (math.isinf(sizes[1]) and not one.is_still):
        return None

    def times(size: float, of: float) -> float:
        return size * of if of else 0.0

    return Scatter(
        times(sizes[0], other.deviation) + times(sizes[1], one.deviation),
        times(sizes[0], other.steepest) + times(sizes[1], one.steepest),
        math.inf if math.inf in sizes else sizes[0] * sizes[1],
        fewest(one.degrees, other.degrees),
    )


def names_in(node: ast.expr) -> Iterator[ast.expr]:
    """The names of a formula, each with all before its dot."""
    if isinstance(node, (ast.Name, ast.Attribute)):
        yield node
        return
    for child in ast.iter_child_nodes(node):
        if isinstance(child, ast.expr):
            yield from names_in(child)
