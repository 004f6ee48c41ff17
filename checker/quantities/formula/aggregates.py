"""sum, mean, median, min, max, count, any and all over the entries of a list or the values of a fact.

An entry with `count: 2` stands twice. A part's mass and price are contained in its component's, so `sum` and `mean`
take components only; `count`, `any`, `all`, `min` and `max` see the parts too, as often as their component stands.
The sum of nothing is 0; the mean, median, least or greatest of nothing is unknown.
"""

from __future__ import annotations

import ast
from collections.abc import Callable
from fractions import Fraction
from typing import Any

from checker.quantities.formula.agreement import described, grade_order, scaled
from checker.quantities.formula.compiler import Compiler, Stop
from checker.quantities.formula.loops import Loop, generated, source_of
from checker.quantities.formula.reductions import Known, different, median
from checker.quantities.formula.typed import Run, Typed, merged
from checker.quantities.kind import NUMBER, Kind, Unknown, unite
from checker.quantities.reason import NoValue
from checker.quantities.units import DIFFERENCES
from checker.reading.quick_dataclasses import replace

AGGREGATES = ("sum", "mean", "min", "max", "count", "any", "all", "median", "count_different")
Reduce = Callable[[Known], Any]
"""From known values to what they come to."""

_JOINED_BY = {"sum": " + ", "any": " or ", "all": " and "}


def aggregate(compiler: Compiler, node: ast.Call, name: str) -> Typed:
    if len(node.args) != 1:
        parts = [compiler.source(argument) for argument in node.args]
        hint = f"as in {name}(x.mass for x in ballast)"
        if parts and name in _JOINED_BY:
            hint = f"write {_JOINED_BY[name].join(parts)}"
        raise compiler.refused(node, 305, f"{name}(..) takes one list; {len(parts)} given", hint)
    return reduced(
        compiler, node.args[0], name, lambda element, loop: _reduced(compiler, element, name, loop)
    )


def reduced(
    compiler: Compiler, argument: ast.expr, name: str, reduce: Callable[[ast.expr, Loop], Typed]
) -> Typed:
    """What a list, or `.. for .. in ..`, comes to.

    Args:
        reduce: From what is made of each element, as written, and the loop.
    """
    if isinstance(argument, ast.GeneratorExp):
        variables, loop = generated(compiler, argument, name)
        made = reduce(argument.elt, loop)
        return replace(made, locals=made.locals.difference(variables), denominators=())
    source = source_of(compiler, argument, name)
    return reduce(argument, Loop(source, source.kind, lambda _, element: element, None, (source.typed,)))


def _reduced(compiler: Compiler, node: ast.expr, name: str, loop: Loop) -> Typed:
    """What the elements come to."""
    if name == "count":
        return _count(compiler, node, loop)
    kind = loop.kind
    if kind.name in ("list", "items", "item", "row"):
        raise _not_values(compiler, node, name, kind)
    if name in ("any", "all"):
        if kind.name != "truth":
            message = f"{name}(..) of {described(kind)}; true or false was expected"
            hint = f"compare each, as in {name}(x.mass > 2 kg for x in ballast)"
            raise compiler.refused(node, 303, message, hint)
        return _made(loop, kind, _decided(loop, decisive=name == "any"), marks=())
    if name == "count_different":
        return folded(loop, NUMBER, different(kind, compiler.scope.trees.get(kind.tree or "")), marks=())
    if name == "sum" and kind in DIFFERENCES:
        raise scaled(compiler, node, "a sum of", kind)
    if not (kind.is_measure or (name in ("min", "max") and kind.name in ("date", "grade"))):
        raise compiler.refused(node, 302, f"there is no {name} of {described(kind)}")
    reductions: dict[str, Reduce] = {
        "sum": _sum,
        "mean": _mean,
        "median": median,
        "min": _extreme(kind, min),
        "max": _extreme(kind, max),
    }
    return folded(loop, kind, reductions[name])


def folded(loop: Loop, kind: Kind, reduce: Reduce, **changes: Any) -> Typed:
    """What the values of a loop come to; unknown where any is, or where it is not known whether it counts."""

    def run(scene: object) -> object:
        elements = loop.elements(scene)
        if isinstance(elements, Unknown):
            return unite([elements])
        known: Known = []
        unknown: list[Unknown] = []
        for value, kept, standing in elements:
            unknown.extend(v for v in (value, kept) if isinstance(v, Unknown))
            known.append((value, standing))
        return unite(unknown) if unknown else reduce(known)

    return _made(loop, kind, run, **changes)


def _not_values(compiler: Compiler, node: ast.expr, name: str, kind: Kind) -> Stop:
    hint = "go through it with an aggregate of its own"
    if kind.name == "item":
        hint = f"{name}(x.mass for x in {kind.items})"
    message = f"{name}(..) needs one value for each entry; '{compiler.source(node)}' is {described(kind)}"
    return compiler.refused(node, 304, message, hint)


def _made(loop: Loop, kind: Kind, run: Run, **changes: Any) -> Typed:
    # three calls lie between it and what it goes through
    height = 3 + max(part.height for part in loop.parts)
    return merged(kind, run, loop.parts, **{"constant": False, "height": height, **changes})


def _count(compiler: Compiler, node: ast.expr, loop: Loop) -> Typed:
    """How many there are; what would be counted whether true or not is refused."""
    if loop.kind.name == "truth":
        hint = "put the condition behind `if`: count(x for x in .. if ..)"
        raise compiler.refused(node, 302, "count(..) counts what is true and what is not alike", hint)
    whole = loop.keep is None and isinstance(node, ast.Name)
    return folded(loop, NUMBER, _count_of, marks=(), counts_all=whole)


def _decided(loop: Loop, decisive: bool) -> Run:
    """any (decisive: True) and all (decisive: False)."""

    def run(scene: object) -> object:
        elements = loop.elements(scene)
        if isinstance(elements, Unknown):
            return unite([elements])
        unknown: list[Unknown] = []
        for value, kept, _ in elements:
            if value is not decisive and not isinstance(value, Unknown):
                continue  # whether or not it counts, it does not decide
            if value is decisive and kept is True:
                return decisive
            unknown.extend(v for v in (value, kept) if isinstance(v, Unknown))
        return unite(unknown) if unknown else not decisive

    return run


def _count_of(known: Known) -> Fraction:
    return Fraction(sum(standing for _, standing in known))


def _sum(known: Known) -> Any:
    return sum((value * standing for value, standing in known), Fraction(0))


def _mean(known: Known) -> Any:
    times = _count_of(known)
    return _sum(known) / times if times else Unknown.because(NoValue.NONE_TO_TAKE_OF, "mean")


def _extreme(kind: Kind, pick: Callable[..., Any]) -> Reduce:
    order = grade_order(kind) if kind.name == "grade" else None
    word = "least" if pick is min else "greatest"

    def extreme(known: Known) -> object:
        if not known:
            return Unknown.because(NoValue.NONE_TO_TAKE_OF, word)
        return pick((value for value, _ in known), key=order)

    return extreme
