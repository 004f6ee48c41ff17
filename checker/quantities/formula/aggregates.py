"""sum, mean, min, max, count, any and all over the entries of a list or the values of a fact.

An entry with `count: 2` stands twice. A part's mass and price are contained in its component's, so `sum` and `mean`
take components only; `count`, `any`, `all`, `min` and `max` see the parts too, as often as their component stands.
The sum of nothing is 0; the mean, least or greatest of nothing is unknown.
"""

from __future__ import annotations

import ast
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Any

from checker.quantities.formula.agreement import described, grade_order
from checker.quantities.formula.compiler import Compiler, Stop
from checker.quantities.formula.form import function_of
from checker.quantities.formula.logic import three_valued, truth
from checker.quantities.formula.names import refuse_second_meaning
from checker.quantities.formula.scope import Binding
from checker.quantities.formula.typed import Mark, Run, Typed, merged
from checker.quantities.kind import NUMBER, Kind, Unknown, unite

AGGREGATES = ("sum", "mean", "min", "max", "count", "any", "all")
_WITHOUT_PARTS = ("sum", "mean")


@dataclass(frozen=True, slots=True)
class AggregateSource:
    """What an aggregate goes through."""

    kind: Kind
    """Of one element; of an entry "item"."""
    read: Run
    """From the scene to a tuple of elements, or Unknown."""
    standing: Callable[[Any], int]
    """How often an element stands."""
    typed: Typed


@dataclass(frozen=True, slots=True)
class Loop:
    """What an aggregate does for each element of its source."""

    source: AggregateSource
    kind: Kind
    """Of what is made of an element."""
    value: Callable[[Any, Any], Any]
    """From scene and element to what is made of it, or Unknown."""
    keep: Callable[[Any, Any], Any] | None
    """From scene and element to whether it counts, or Unknown; None: each does."""
    parts: tuple[Typed, ...]

    def elements(self, scene: Any) -> Iterator[tuple[Any, Any, int]] | Unknown:
        """Of each element that counts or may count: what is made of it, whether it counts, how often it stands."""
        found = self.source.read(scene)
        return found if isinstance(found, Unknown) else self._each(scene, found)

    def _each(self, scene: Any, found: tuple[Any, ...]) -> Iterator[tuple[Any, Any, int]]:
        for element in found:
            standing = self.source.standing(element)
            kept = True if self.keep is None or not standing else self.keep(scene, element)
            if standing and kept is not False:
                yield self.value(scene, element), kept, standing


def aggregate(compiler: Compiler, node: ast.Call, name: str) -> Typed:
    """One call of an aggregate."""
    if len(node.args) != 1:
        raise compiler.refused(node, 305, f"{name}(..) takes one list; {len(node.args)} given")
    argument = node.args[0]
    if isinstance(argument, ast.GeneratorExp):
        variable, loop = _generated(compiler, argument, name)
        made = _reduced(compiler, argument.elt, name, loop)
        return replace(made, locals=made.locals - {variable}, denominators=())
    source = _source(compiler, argument, name)
    loop = Loop(source, source.kind, lambda _, element: element, None, (source.typed,))
    return _reduced(compiler, argument, name, loop)


def _generated(compiler: Compiler, generator: ast.GeneratorExp, name: str) -> tuple[str, Loop]:
    """`body for variable in source if tests`"""
    comprehension = generator.generators[0]
    variable = compiler.tree.name(comprehension.target)
    refuse_second_meaning(compiler, comprehension.target, variable)
    if variable in compiler.scope.names:
        hint = "choose another name"
        raise compiler.refused(comprehension.target, 202, f"'{variable}' already has a meaning here", hint)
    source = _source(compiler, comprehension.iter, name)
    binding = Binding(source.kind, lambda scene: scene.names[variable], locals=frozenset({variable}))
    inner = replace(compiler, scope=compiler.scope.having({variable: binding}), leaves=[])
    body, *tests = inner.each(
        lambda part: inner.node(part) if part is generator.elt else truth(inner, part),
        (generator.elt, *comprehension.ifs),
    )
    value = body.run
    keep = three_valued(tuple(t.run for t in tests), decisive=False) if tests else None
    marks = tuple(_within(mark, source, variable) for mark in body.marks)
    loop = Loop(
        source,
        body.kind,
        lambda scene, element: value(scene.bind(variable, element)),
        None if keep is None else lambda scene, element: keep(scene.bind(variable, element)),
        (source.typed, replace(body, marks=marks), *tests),
    )
    return variable, loop


def _within(mark: Mark, source: AggregateSource, variable: str) -> Mark:
    """A unit written inside a `for`, asked for from outside: that of the first element."""

    def unit(scene: Any) -> Any:
        elements = source.read(scene)
        if isinstance(elements, Unknown) or not elements:
            return None
        return mark.unit(scene.bind(variable, elements[0]))

    return replace(mark, unit=unit) if mark.rank == 1 else mark


def _source(compiler: Compiler, node: ast.expr, name: str) -> AggregateSource:
    """The list, run, or fact with several values that `node` names."""
    if isinstance(node, (ast.List, ast.IfExp)):
        raise compiler.refused(node, 105, f"{name}(..) goes through a list by its name")
    typed = compiler.node(node)
    kind = typed.kind
    if kind.name == "items":
        entries = compiler.scope.entries[kind.items or ""]
        parts = name not in _WITHOUT_PARTS
        item = Kind("item", items=kind.items)
        return AggregateSource(item, lambda scene: entries.read(scene, parts), entries.standing, typed)
    if kind.name == "list" and kind.element is not None:
        return AggregateSource(kind.element, typed.run, lambda _: 1, typed)
    number = 305 if name in ("min", "max") else 302
    hint = (
        "give it two values, or one list"
        if name in ("min", "max")
        else f"as in {name}(x.mass for x in ballast)"
    )
    message = f"{name}(..) goes through a list; '{compiler.source(node)}' is {described(kind)}"
    raise compiler.refused(node, number, message, hint)


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
            raise compiler.refused(node, 303, message)
        return _made(loop, kind, _decided(loop, decisive=name == "any"), marks=())
    if not (kind.is_measure or (name in ("min", "max") and kind.name in ("date", "grade"))):
        raise compiler.refused(node, 302, f"there is no {name} of {described(kind)}")
    reduce = {"sum": _sum, "mean": _mean, "min": _extreme(kind, min), "max": _extreme(kind, max)}[name]

    def run(scene: Any) -> Any:
        elements = loop.elements(scene)
        if isinstance(elements, Unknown):
            return unite([elements])
        known: list[tuple[Any, int]] = []
        unknown: list[Unknown] = []
        for value, kept, standing in elements:
            unknown.extend(v for v in (value, kept) if isinstance(v, Unknown))
            known.append((value, standing))
        return unite(unknown) if unknown else reduce(known)

    return _made(loop, kind, run)


def _not_values(compiler: Compiler, node: ast.expr, name: str, kind: Kind) -> Stop:
    hint = (
        f"{name}(x.mass for x in {kind.items})"
        if kind.name == "item"
        else "go through it with an aggregate of its own"
    )
    message = f"{name}(..) needs one value for each entry; '{compiler.source(node)}' is {described(kind)}"
    return compiler.refused(node, 304, message, hint)


def _made(loop: Loop, kind: Kind, run: Run, **changes: Any) -> Typed:
    form = function_of(*(part.form for part in loop.parts))
    height = 3 + max(
        part.height for part in loop.parts
    )  # three calls lie between it and what it goes through
    return merged(kind, run, loop.parts, form, **{"constant": False, "height": height, **changes})


def _count(compiler: Compiler, node: ast.expr, loop: Loop) -> Typed:
    """How many there are; what would be counted whether true or not is refused."""
    if loop.kind.name == "truth":
        hint = "put the condition behind `if`: count(x for x in .. if ..)"
        raise compiler.refused(node, 302, "count(..) counts what is true and what is not alike", hint)

    def run(scene: Any) -> Any:
        elements = loop.elements(scene)
        if isinstance(elements, Unknown):
            return unite([elements])
        total = 0
        unknown: list[Unknown] = []
        for value, kept, standing in elements:
            unknown.extend(v for v in (value, kept) if isinstance(v, Unknown))
            total += standing
        return unite(unknown) if unknown else Fraction(total)

    return _made(loop, NUMBER, run, marks=())


def _decided(loop: Loop, decisive: bool) -> Run:
    """any (decisive: True) and all (decisive: False)."""

    def run(scene: Any) -> Any:
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


def _sum(known: list[tuple[Any, int]]) -> Any:
    return sum((value * standing for value, standing in known), Fraction(0))


def _mean(known: list[tuple[Any, int]]) -> Any:
    times = sum(standing for _, standing in known)
    return _sum(known) / times if times else Unknown(reasons=("there is nothing to take the mean of",))


def _extreme(kind: Kind, pick: Callable[..., Any]) -> Callable[[list[tuple[Any, int]]], Any]:
    order = grade_order(kind) if kind.name == "grade" else None
    word = "least" if pick is min else "greatest"

    def extreme(known: list[tuple[Any, int]]) -> Any:
        if not known:
            return Unknown(reasons=(f"there is nothing to take the {word} of",))
        return pick((value for value, _ in known), key=order)

    return extreme
