"""What an aggregate goes through: a list, a run, the values of a fact, or neighbours among them."""

from __future__ import annotations

import ast
from collections.abc import Callable, Iterator
from typing import Any

from checker.quantities.formula.agreement import described
from checker.quantities.formula.compiler import Compiler
from checker.quantities.formula.logic import three_valued, truth
from checker.quantities.formula.names import refuse_second_meaning
from checker.quantities.formula.reductions import NEIGHBOURS, in_order, ordering_field
from checker.quantities.formula.scope import Binding
from checker.quantities.formula.typed import Mark, Run, Typed
from checker.quantities.kind import Kind, Unknown
from checker.reading.quick_dataclasses import dataclass, replace

WITHOUT_PARTS = ("sum", "mean")
"""These take components only: a part's mass and price are contained in its component's."""


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

    def elements(self, scene: object) -> Iterator[tuple[Any, Any, int]] | Unknown:
        """Of each element that counts or may count: what is made of it, whether it counts, how often it stands."""
        found = self.source.read(scene)
        return found if isinstance(found, Unknown) else self._each(scene, found)

    def _each(self, scene: object, found: tuple[object, ...]) -> Iterator[tuple[object, object, int]]:
        for element in found:
            standing = self.source.standing(element)
            kept = True if self.keep is None or not standing else self.keep(scene, element)
            if standing and kept is not False:
                yield self.value(scene, element), kept, standing


def _variables(compiler: Compiler, target: ast.expr) -> tuple[str, ...]:
    """The names behind `for`: one, or as many as neighbours are looked at together."""
    nodes = target.elts if isinstance(target, ast.Tuple) else [target]
    names = tuple(compiler.tree.name(one) for one in nodes)
    for place, (one, name) in enumerate(zip(nodes, names, strict=True)):
        refuse_second_meaning(compiler, one, name)
        if name in compiler.scope.names or name in names[:place]:
            raise compiler.refused(one, 202, f"'{name}' already has a meaning here", "choose another name")
    return names


def generated(compiler: Compiler, generator: ast.GeneratorExp, name: str) -> tuple[tuple[str, ...], Loop]:
    """`body for variables in source if tests`"""
    comprehension = generator.generators[0]
    variables = _variables(compiler, comprehension.target)
    if len(variables) > 1:
        source = _neighbouring(compiler, comprehension.iter, name, len(variables))
        bind = _bind_each(variables)
    else:
        source = source_of(compiler, comprehension.iter, name)
        (variable,) = variables
        bind = lambda scene, element: scene.bind(variable, element)  # noqa: E731 (one of two)
    bindings = {one: _bound(source.kind, one) for one in variables}
    inner = replace(compiler, scope=compiler.scope.having(bindings), leaves=[])
    body, *tests = inner.each(
        lambda part: inner.node(part) if part is generator.elt else truth(inner, part),
        (generator.elt, *comprehension.ifs),
    )
    value = body.evaluate
    keep = three_valued(tuple(t.evaluate for t in tests), decisive=False) if tests else None
    marks = tuple(_within(mark, source, bind) for mark in body.marks)
    loop = Loop(
        source,
        body.kind,
        lambda scene, element: value(bind(scene, element)),
        None if keep is None else lambda scene, element: keep(bind(scene, element)),
        (source.typed, replace(body, marks=marks), *tests),
    )
    return variables, loop


def _bound(kind: Kind, name: str) -> Binding:
    return Binding(kind, lambda scene: scene.names[name], locals=frozenset({name}))


def _bind_each(names: tuple[str, ...]) -> Callable[[Any, Any], Any]:
    def bind(scene: Any, elements: tuple[Any, ...]) -> object:
        for name, element in zip(names, elements, strict=True):
            scene = scene.bind(name, element)
        return scene

    return bind


def _within(mark: Mark, source: AggregateSource, bind: Callable[[Any, Any], Any]) -> Mark:
    """A unit written inside a `for`, asked for from outside: that of the first element."""

    def unit(scene: object) -> Any:
        elements = source.read(scene)
        if isinstance(elements, Unknown) or not elements:
            return None
        return mark.unit(bind(scene, elements[0]))

    return replace(mark, unit=unit) if mark.rank == 1 else mark


def _neighbouring(compiler: Compiler, node: ast.expr, name: str, length: int) -> AggregateSource:
    """`for a, b in neighbours(points, position)`: so many at a time, in the order of a field if one is named."""
    called = isinstance(node, ast.Call) and compiler.tree.name(node.func) == NEIGHBOURS
    if not isinstance(node, ast.Call) or not called or not 1 <= len(node.args) <= 2:
        hint = "as in for a, b in neighbours(points, position)"
        raise compiler.refused(node, 105, "several names behind `for` go through neighbours", hint)
    source = source_of(compiler, node.args[0], name)
    key = None
    typed = source.typed
    if len(node.args) == 2:
        if source.kind.name != "item":
            raise compiler.refused(node.args[1], 302, "only entries of a list have a field to be ordered by")
        field = ordering_field(compiler, node.args[1], compiler.scope.entries[source.kind.items or ""])
        key, typed = field.read, replace(typed, uses=typed.uses | field.uses)

    def read(scene: object) -> object:
        found = source.read(scene)
        if isinstance(found, Unknown):
            return found
        repeated = tuple(one for one in found for _ in range(source.standing(one)))
        ordered = repeated if key is None else in_order(scene, repeated, key)
        if isinstance(ordered, Unknown):
            return ordered
        return tuple(ordered[place : place + length] for place in range(len(ordered) - length + 1))

    return AggregateSource(source.kind, read, lambda _: 1, typed)


def source_of(compiler: Compiler, node: ast.expr, name: str) -> AggregateSource:
    """The list, run, or fact with several values that `node` names."""
    if isinstance(node, (ast.List, ast.IfExp)):
        hint = f"as in {name}(x.mass for x in ballast)"
        raise compiler.refused(node, 105, f"{name}(..) goes through a list by its name", hint)
    typed = compiler.node(node)
    kind = typed.kind
    if kind.name == "items":
        entries = compiler.scope.entries[kind.items or ""]
        parts = name not in WITHOUT_PARTS
        item = Kind("item", items=kind.items)
        return AggregateSource(item, lambda scene: entries.read(scene, parts), entries.standing, typed)
    if kind.name == "list" and kind.element is not None:
        return AggregateSource(kind.element, typed.evaluate, lambda _: 1, typed)
    number, hint = 302, f"as in {name}(x.mass for x in ballast)"
    if name in ("min", "max"):
        number, hint = 305, "give it two values, or one list"
    message = f"{name}(..) goes through a list; '{compiler.source(node)}' is {described(kind)}"
    raise compiler.refused(node, number, message, hint)
