"""True and false with a third state: `and`, `or`, `not`, and a choice between two values.

An unknown that cannot change the result does not matter. Everything else that is made from an unknown is unknown.
"""

from __future__ import annotations

import ast
import operator
from collections.abc import Callable, Sequence
from fractions import Fraction
from typing import Any, TypeVar

from checker.quantities.elementary import same
from checker.quantities.folding import fold
from checker.quantities.formula.agreement import common_kind, described, single, singles
from checker.quantities.formula.compiler import Compiler
from checker.quantities.formula.form import chosen
from checker.quantities.formula.typed import Mark, Run, Typed, merged, of_known, shared
from checker.quantities.kind import NUMBER, TRUTH, Kind, Unknown, unite
from checker.reading.quick_dataclasses import replace

T = TypeVar("T")


def constant(compiler: Compiler, node: ast.Constant) -> Typed:
    """A whole number or a text."""
    if isinstance(node.value, str):
        text = compiler.tree.quoted(node)
        return Typed(Kind("text", words=(text,)), lambda _: text, constant=True, word=text)
    assert isinstance(node.value, int), "the grammar allows nothing else"
    number = Fraction(node.value)
    return Typed(NUMBER, lambda _: number, constant=True)


def truth(compiler: Compiler, node: ast.expr) -> Typed:
    """Compile a node that must be true or false."""
    typed = compiler.node(node)
    if typed.kind.name == "truth":
        return typed
    single(compiler, node, typed)
    source = compiler.source(node)
    message = f"'{source}' is {described(typed.kind)}; true or false was expected"
    raise compiler.refused(node, 303, message, f"compare it, as in {source} > .. or {source} == ..")


def both_or_either(compiler: Compiler, node: ast.BoolOp) -> Typed:
    operands = compiler.each(lambda value: truth(compiler, value), node.values)
    run = three_valued(tuple(o.evaluate for o in operands), decisive=isinstance(node.op, ast.Or))
    return merged(TRUTH, run, operands)


def negated(compiler: Compiler, node: ast.UnaryOp) -> Typed:
    operand = truth(compiler, node.operand)
    return merged(TRUTH, of_known(operator.not_, operand.evaluate), [operand])


def choice(compiler: Compiler, node: ast.IfExp) -> Typed:
    """`A if C else B`"""
    test, yes, no = compiler.each(
        lambda part: truth(compiler, part) if part is node.test else compiler.node(part),
        (node.test, node.body, node.orelse),
    )
    kind = common_kind(compiler, node, (node.body, node.orelse), (yes, no), "the two sides of `if`")
    condition, a, b = test.evaluate, yes.evaluate, no.evaluate
    equal = sameness(kind, exact=not (yes.irrational or no.irrational))

    def choose(scene: object) -> object:
        answer = condition(scene)
        if not isinstance(answer, Unknown):
            return a(scene) if answer else b(scene)
        first, second = a(scene), b(scene)
        unknown = [v for v in (first, second) if isinstance(v, Unknown)]
        return unite([answer, *unknown]) if unknown or not equal(first, second) else first

    form = chosen(test.form, yes.form, no.form, compiler.source(node))
    divisors = shared(
        test.denominators, _of_sides(condition, yes.denominators, no.denominators, _where_chosen)
    )
    marks = _of_sides(condition, yes.marks, no.marks, _taken)
    return merged(kind, choose, (test, yes, no), form, denominators=divisors, marks=marks)


def _of_sides(
    condition: Run, yes: Sequence[T], no: Sequence[T], on_side: Callable[[Run, bool, T], T]
) -> tuple[T, ...]:
    """What belongs to both sides of a choice, then what to one, which counts only where that is chosen."""
    both = [one for one in yes if one in no]
    apart = [
        on_side(condition, side, one)
        for side, of in ((True, yes), (False, no))
        for one in of
        if one not in both
    ]
    return shared(both, apart)


def _taken(condition: Run, side: bool, mark: Mark) -> Mark:
    """A unit written on one side of a choice; it says nothing of a value that comes from the other."""
    unit = mark.unit
    return replace(
        mark, unit=lambda scene: None if scene is not None and condition(scene) is (not side) else unit(scene)
    )


def _where_chosen(condition: Run, side: bool, divisor: Run) -> Run:
    """A divisor of one side of a choice; it matters only where that side is, or may be, chosen."""
    return lambda scene: Unknown() if condition(scene) is (not side) else divisor(scene)


def listed(compiler: Compiler, node: ast.List) -> Typed:
    """`[a, b]`"""
    if not node.elts:
        raise compiler.refused(node, 302, "an empty list says nothing", "give it at least one value")
    elements = singles(compiler, node.elts)
    kind = common_kind(compiler, node, node.elts, elements, "the values of a list")
    return merged(kind.listed(), of_known(lambda *values: values, *(e.evaluate for e in elements)), elements)


def three_valued(runs: tuple[Run, ...], decisive: bool) -> Run:
    """`or` (decisive: True) and `and` (decisive: False) over values that may be unknown."""

    def run(scene: object) -> object:
        unknown: list[Unknown] = []
        for part in runs:
            value = part(scene)
            if isinstance(value, Unknown):
                unknown.append(value)
            elif value is decisive:
                return decisive
        return unite(unknown) if unknown else not decisive

    return run


def sameness(kind: Kind, exact: bool) -> Callable[[Any, Any], bool]:
    """How two known values of one kind are compared for being the same: words by spelling, others by value."""
    if kind.name == "list" and kind.element is not None:
        same_element = sameness(kind.element, exact)
        return lambda a, b: len(a) == len(b) and all(map(same_element, a, b))
    if kind.is_word:
        return lambda a, b: fold(a) == fold(b)
    if exact or not kind.is_measure:
        return lambda a, b: bool(a == b)
    return same
