"""One out of several: first, last, number so many, the so-manieth largest; and a total that runs along a list."""

from __future__ import annotations

import ast
from fractions import Fraction
from itertools import groupby
from typing import Any

from checker.quantities.formula.aggregates import folded, reduced
from checker.quantities.formula.agreement import common_kind, described, scaled, singles
from checker.quantities.formula.calls import wrong_kind
from checker.quantities.formula.compiler import Compiler, Function
from checker.quantities.formula.grammar import RANKED
from checker.quantities.formula.reductions import NEIGHBOURS, field_named, in_order, nth_from, ordering_field
from checker.quantities.formula.typed import Mark, Typed, merged
from checker.quantities.kind import Kind, Unknown, lacking, unite
from checker.quantities.reason import NoValue
from checker.quantities.units import DIFFERENCES

_ENDS = {"first": 0, "last": -1}


def _one_of(compiler: Compiler, node: ast.Call, name: str) -> Typed:
    """first(run), last(run), nth(2, run)"""
    numbered = name == "nth"
    if len(node.args) != 1 + numbered:
        wanted = "a number and a list" if numbered else "one list"
        raise compiler.refused(node, 305, f"{name}(..) takes {wanted}; {len(node.args)} given")
    place = _place(compiler, node.args[0], name) - 1 if numbered else _ENDS[name]
    part = compiler.node(node.args[-1])
    repeated = None
    if part.kind.name == "items":
        kind = Kind("item", items=part.kind.items)
        repeated = compiler.scope.entries[part.kind.items or ""].standing if numbered else None
    elif part.kind.name == "list" and part.kind.element is not None:
        kind = part.kind.element
    else:
        raise wrong_kind(compiler, node, len(node.args) - 1, name, "a list", part.kind)
    run = part.evaluate

    def pick(scene: object) -> object:
        values = run(scene)
        if isinstance(values, Unknown):
            return unite([values])
        if repeated is not None:
            values = tuple(one for one in values for _ in range(repeated(one)))
        if not values:
            return Unknown.because(NoValue.EMPTY, name)
        if place >= len(values):
            return Unknown.because(NoValue.FEWER, len(values), place + 1)
        return values[place]

    return merged(kind, pick, (part,), part.form)


def _place(compiler: Compiler, node: ast.expr, name: str) -> int:
    """The number of a place, counted from 1."""
    if not (isinstance(node, ast.Constant) and isinstance(node.value, int) and node.value >= 1):
        raise compiler.refused(node, 302, f"{name}(..) begins with a whole number of 1 or more, written out")
    return node.value


def _ranked(compiler: Compiler, node: ast.Call, name: str) -> Typed:
    """nth_largest(2, brakes.pad), nth_smallest(3, (x.mass for x in ballast))"""
    if len(node.args) != 2:
        raise compiler.refused(node, 305, f"{name}(..) takes a number and a list; {len(node.args)} given")
    place = _place(compiler, node.args[0], name)

    def made(element: ast.expr, loop: Any) -> Typed:
        if not (loop.kind.is_measure or loop.kind.name in ("date", "grade")):
            raise compiler.refused(element, 302, f"there is no {name} of {described(loop.kind)}")
        return folded(loop, loop.kind, nth_from(loop.kind, place, greatest=name == "nth_largest"))

    return reduced(compiler, node.args[1], name, made)


def _running_total(compiler: Compiler, node: ast.Call, name: str) -> Typed:
    """running_total(results, change, round, 0 kg, 50 kg): what a sum that is kept between two values has come to."""
    if len(node.args) != 5:
        message = (
            f"{name}(..) takes a list, the field that is added, the field that orders, the least and the most"
        )
        raise compiler.refused(node, 305, f"{message}; {len(node.args)} given")
    part = compiler.node(node.args[0])
    if part.kind.name != "items":
        raise wrong_kind(compiler, node, 0, name, "a list", part.kind)
    entries = compiler.scope.entries[part.kind.items or ""]
    added = field_named(compiler, node.args[1], entries)
    order = ordering_field(compiler, node.args[2], entries)
    ends = singles(compiler, node.args[3:])
    unit = added.unit
    marks = () if unit is None else (Mark(unit.kind, 2, lambda _: unit),)
    amount = Typed(added.kind, lambda _: Fraction(0), uses=added.uses, marks=marks)
    kind = common_kind(
        compiler, node, [node.args[1], *node.args[3:]], [amount, *ends], f"the amounts of {name}(..)"
    )
    if kind in DIFFERENCES:
        raise scaled(compiler, node, "a running total of", kind)
    if not kind.is_measure:
        raise wrong_kind(compiler, node, 1, name, "a field with amounts", added.kind)

    def run(scene: object) -> object:
        found, low, high = entries.read(scene, False), *(end.evaluate(scene) for end in ends)
        if absent := lacking((found, low, high)):
            return absent
        repeated = [one for one in found for _ in range(entries.standing(one))]
        ordered = in_order(scene, repeated, order.read)
        if isinstance(ordered, Unknown):
            return ordered
        amounts = [(order.read(scene, one), added.read(scene, one)) for one in ordered]
        if unknown := lacking(value for _, value in amounts):
            return unknown
        for _, together in groupby(amounts, key=lambda pair: pair[0]):
            if len({value for _, value in together}) > 1:
                return Unknown.because(NoValue.ONE_PLACE, entries.name)
        total = Fraction(0)
        for _, value in amounts:
            total = min(max(total + value, low), high)
        return total

    parts = (part, amount, *ends)
    uses = frozenset().union(*(one.uses for one in parts), order.uses)
    return merged(kind, run, parts, uses=uses, constant=False)


def _neighbours(compiler: Compiler, node: ast.Call, name: str) -> Typed:
    raise compiler.refused(node, 105, f"{name}(..) stands behind `for a, b in`")


PICKING: dict[str, Function] = {
    **dict.fromkeys((*_ENDS, "nth"), _one_of),
    **dict.fromkeys(RANKED, _ranked),
    "running_total": _running_total,
    NEIGHBOURS: _neighbours,
}
