"""sum, mean, min, max, count, any and all over the entries of a list or the values of a fact.

An entry with `count: 2` stands twice. A part's mass and price are contained in its component's, so `sum` and
`mean` take components only; `count`, `any`, `all`, `min` and `max` see the parts too, as often as their component
stands. The sum of nothing is 0; the mean, least or greatest of nothing is unknown.
"""

from __future__ import annotations

import ast
from collections.abc import Callable
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Any

from checker.quantities.formula import form as forms
from checker.quantities.formula.compiler import Compiler, described, three_valued
from checker.quantities.formula.grammar import name_of
from checker.quantities.formula.scope import Binding
from checker.quantities.formula.typed import Typed, merged
from checker.quantities.kind import NUMBER, TRUTH, Kind, Unknown, unite
from checker.quantities.words import fold

AGGREGATES = ("sum", "mean", "min", "max", "count", "any", "all")


@dataclass(frozen=True, slots=True)
class Source:
    """What an aggregate goes through."""

    kind: Kind
    """Of one element; for entries "item"."""
    read: Callable[[Any], Any]
    """From the scene to a tuple of elements or Unknown."""
    standing: Callable[[Any], int]
    typed: Typed


def aggregate(compiler: Compiler, node: ast.Call, name: str) -> Typed:
    """One call of an aggregate."""
    if len(node.args) != 1:
        compiler.refuse(node, 305, f"{name}(..) takes one list; {len(node.args)} given")
    argument = node.args[0]
    if isinstance(argument, ast.GeneratorExp):
        return _generated(compiler, node, argument, name)
    source = _source(compiler, argument, name)
    if source.kind.name == "item":
        if name != "count":
            compiler.refuse(
                argument, 302, f"{name}(..) needs values, not whole entries", f"{name}(x.field for x in ...)"
            )
        return _count(source, None, (source.typed,))
    if name == "count":
        return _count(source, None, (source.typed,))
    element = Typed(source.kind, lambda pair: pair[1])
    return _reduced(compiler, node, name, source, element, None, (source.typed,))


def _generated(compiler: Compiler, node: ast.Call, generator: ast.GeneratorExp, name: str) -> Typed:
    comprehension = generator.generators[0]
    variable = name_of(compiler.tree, comprehension.target)  # type: ignore[arg-type]
    scope = compiler.scope
    if (
        variable in scope.names
        or variable in scope.entries
        or variable in scope.tables
        or variable in scope.sections()
    ):
        compiler.refuse(
            comprehension.target, 202, f"'{variable}' already has a meaning here", "choose another name"
        )
    source = _source(compiler, comprehension.iter, name)
    binding = Binding(source.kind, lambda scene: scene.names[variable], locals=frozenset({variable}))
    inner = Compiler(compiler.tree, scope.having({variable: binding}), compiler.problems)
    tests = [inner.truth(test) for test in comprehension.ifs]
    test = None
    if tests:
        form = forms.function_of(*(t.form for t in tests))
        test = merged(TRUTH, three_valued(tuple(t.run for t in tests), False), tuple(tests), form)
    keep = _binder(variable, test)
    body = generator.elt
    whole = (
        isinstance(body, ast.Name) and name_of(compiler.tree, body) == variable and source.kind.name == "item"
    )
    element = Typed(source.kind, lambda scene: scene.names[variable]) if whole else inner.node(body)
    parts = (source.typed, element, *((test,) if test else ()))
    if name == "count":
        made = _count(source, keep, parts)
    else:
        made = _reduced(compiler, node, name, source, _bound(element, variable), keep, parts)
    return replace(made, locals=made.locals - {variable})


def _bound(element: Typed, variable: str) -> Typed:
    run = element.run
    return replace(element, run=lambda pair: run(pair[0].bind(variable, pair[1])))


def _binder(variable: str, test: Typed | None) -> Callable[[Any, Any], Any] | None:
    """From scene and element to whether the element counts."""
    if test is None:
        return None
    run = test.run
    return lambda scene, element: run(scene.bind(variable, element))


def _source(compiler: Compiler, node: ast.expr, name: str) -> Source:
    """The list, run, or fact with several values that `node` names."""
    typed = compiler.node(node)
    if typed.kind.name == "items":
        entries = compiler.scope.entries[typed.kind.items or ""]
        parts = name not in ("sum", "mean")
        item = Kind("item", items=typed.kind.items)
        return Source(item, lambda scene: entries.read(scene, parts), entries.standing, typed)
    if typed.kind.name == "list" and typed.kind.element is not None:
        return Source(typed.kind.element, typed.run, lambda _: 1, typed)
    compiler.refuse(
        node, 304, f"'{compiler.source(node)}' is {described(typed.kind)}; {name}(..) goes through a list"
    )


def _count(source: Source, keep: Callable[[Any, Any], Any] | None, parts: tuple[Typed, ...]) -> Typed:
    def run(scene: Any) -> Any:
        elements = source.read(scene)
        if isinstance(elements, Unknown):
            return elements
        total = 0
        unknown: list[Unknown] = []
        for element in elements:
            kept = True if keep is None else keep(scene, element)
            if isinstance(kept, Unknown):
                unknown.append(kept)
            elif kept:
                total += source.standing(element)
        return unite(unknown) if unknown else Fraction(total)

    form = forms.function_of(*(p.form for p in parts))
    return merged(NUMBER, run, parts, form, marks=(), constant=False)


def _reduced(
    compiler: Compiler,
    node: ast.Call,
    name: str,
    source: Source,
    element: Typed,
    keep: Callable[[Any, Any], Any] | None,
    parts: tuple[Typed, ...],
) -> Typed:
    kind = _result_kind(compiler, node, name, element.kind)
    value_of = element.run

    def collect(scene: Any) -> tuple[list[tuple[Any, int]], list[Unknown]] | Unknown:
        elements = source.read(scene)
        if isinstance(elements, Unknown):
            return elements
        known: list[tuple[Any, int]] = []
        unknown: list[Unknown] = []
        for item in elements:
            kept = True if keep is None else keep(scene, item)
            if kept is False:
                continue
            value = value_of((scene, item))
            if isinstance(kept, Unknown):
                if name in ("any", "all") and not isinstance(value, Unknown) and value is (name == "all"):
                    continue  # whether or not it counts, it does not change the result
                unknown.append(kept)
            elif isinstance(value, Unknown):
                unknown.append(value)
            else:
                known.append((value, source.standing(item)))
        return known, unknown

    reduce = _REDUCTIONS.get(name, _sum)
    places = {fold(word): place for place, word in enumerate(kind.words or ())}
    order = (lambda word: places[fold(word)]) if kind.name == "grade" else None

    def run(scene: Any) -> Any:
        collected = collect(scene)
        if isinstance(collected, Unknown):
            return collected
        known, unknown = collected
        if name in ("any", "all"):
            decisive = name == "any"
            if any(value is decisive for value, _ in known):
                return decisive
            return unite(unknown) if unknown else not decisive
        if unknown:
            return unite(unknown)
        return reduce(known, order)

    form = forms.function_of(*(p.form for p in parts))
    return merged(kind, run, parts, form, constant=False)


def _result_kind(compiler: Compiler, node: ast.Call, name: str, kind: Kind) -> Kind:
    wanted = {
        "sum": kind.is_measure,
        "mean": kind.is_measure,
        "min": kind.is_measure or kind.name in ("date", "grade"),
        "max": kind.is_measure or kind.name in ("date", "grade"),
        "any": kind.name == "truth",
        "all": kind.name == "truth",
    }[name]
    if kind.name in ("list", "items", "item", "row"):
        compiler.refuse(node, 304, f"{name}(..) of {described(kind)}; one value for each entry is needed")
    if not wanted:
        number = 303 if name in ("any", "all") else 302
        compiler.refuse(node, number, f"{name}(..) of {described(kind)}")
    return kind


def _sum(known: list[tuple[Any, int]], _: Any) -> Any:
    return sum((value * standing for value, standing in known), Fraction(0))


def _mean(known: list[tuple[Any, int]], _: Any) -> Any:
    times = sum(standing for _, standing in known)
    return _sum(known, None) / times if times else Unknown(reasons=("there is nothing to take the mean of",))


def _least(known: list[tuple[Any, int]], order: Any) -> Any:
    if not known:
        return Unknown(reasons=("there is nothing to take the least of",))
    return min((value for value, _ in known), key=order)


def _most(known: list[tuple[Any, int]], order: Any) -> Any:
    if not known:
        return Unknown(reasons=("there is nothing to take the greatest of",))
    return max((value for value, _ in known), key=order)


_REDUCTIONS: dict[str, Callable[[list[tuple[Any, int]], Any], Any]] = {
    "sum": _sum,
    "mean": _mean,
    "min": _least,
    "max": _most,
}
