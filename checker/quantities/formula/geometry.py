"""Roots, powers, logarithms and angles: exact where the result is rational, else to 30 digits."""

from __future__ import annotations

import ast

from checker.quantities import elementary
from checker.quantities.dimension import ANGLE
from checker.quantities.formula.agreement import common_kind, described
from checker.quantities.formula.calls import applied, arguments, wrong_kind
from checker.quantities.formula.compiler import Compiler, Function
from checker.quantities.formula.typed import Typed
from checker.quantities.kind import NUMBER, quantity
from checker.quantities.units import DIFFERENCES

_TRIGONOMETRY = ("sin", "cos", "tan", "atan")


def _root(compiler: Compiler, node: ast.Call, name: str) -> Typed:
    (part,) = arguments(compiler, node, name, 1)
    if part.kind.name not in ("number", "quantity"):
        raise wrong_kind(compiler, node, 0, name, "a number or quantity", part.kind)
    half = part.kind.dimension.halved()
    if half is None:
        raise wrong_kind(compiler, node, 0, name, "what has even dimensions, as an area", part.kind, 301)
    return applied(quantity(half), [part], elementary.sqrt, irrational=True)


def _hypotenuse(compiler: Compiler, node: ast.Call, name: str) -> Typed:
    parts = arguments(compiler, node, name, 2)
    kind = common_kind(compiler, node, node.args, parts, f"the values of {name}(..)")
    if kind.name not in ("number", "quantity") or kind in DIFFERENCES:
        raise wrong_kind(compiler, node, 0, name, "numbers or quantities", kind)
    return applied(kind, parts, elementary.hypot, irrational=True)


def _trigonometric(compiler: Compiler, node: ast.Call, name: str) -> Typed:
    (part,) = arguments(compiler, node, name, 1)
    angle = quantity(ANGLE)
    wanted, result = (NUMBER, angle) if name == "atan" else (angle, NUMBER)
    if not part.kind.same_measure(wanted):
        number = 301 if part.kind.name in ("number", "quantity") else 302
        raise wrong_kind(compiler, node, 0, name, described(wanted), part.kind, number)
    return applied(result, [part], getattr(elementary, name), irrational=True)


def _of_numbers(compiler: Compiler, node: ast.Call, name: str) -> Typed:
    """cbrt(x), power(x, exponent), lg(x): of plain numbers, for what published formulas are made of."""
    from checker.quantities import powers  # which few packs need

    parts = arguments(compiler, node, name, 2 if name == "power" else 1)
    for place, part in enumerate(parts):
        if part.kind.name != "number":
            number = 301 if part.kind.name == "quantity" else 302
            what = "a plain number: divide by its unit, as engine.capacity / (1 cc)"
            raise wrong_kind(compiler, node, place, name, what, part.kind, number)
    return applied(NUMBER, parts, getattr(powers, name), irrational=True)


GEOMETRY: dict[str, Function] = {
    "sqrt": _root,
    "hypot": _hypotenuse,
    **dict.fromkeys(("cbrt", "power", "lg"), _of_numbers),
    **dict.fromkeys(_TRIGONOMETRY, _trigonometric),
}
