"""From the tree of a formula to one plain function, with every kind and dimension checked on the way.

The compiler walks the tree; what each kind of node means stands in the module of its idea (`logic`, `arithmetic`,
`comparison`, `functions`, `aggregates`, `names`). Mistakes in independent parts are all collected.
"""

from __future__ import annotations

import ast
from collections.abc import Callable, Mapping, Sequence
from contextlib import suppress
from typing import TypeVar

from checker.quantities.formula.expression import Expression, Leaf
from checker.quantities.formula.grammar import FormulaTree
from checker.quantities.formula.problem import FormulaError, FormulaProblem
from checker.quantities.formula.scope import Binding, Entries, Field, Scope
from checker.quantities.formula.typed import Mark, Typed
from checker.quantities.kind import Unknown
from checker.quantities.literal import Literal
from checker.reading.nearest import did_you_mean
from checker.reading.quick_dataclasses import dataclass, field, replace

MAX_DEGREE = 16
MAX_HEIGHT = 150
"""How deep evaluation may go through a row of names; a level takes up to three calls, of Python's 1000."""

MAX_DIVISORS = 64
"""How many divisors that change with the condition a formula may have, also through the names used."""

_Part = TypeVar("_Part")
_Made = TypeVar("_Made")

Handler = Callable[["Compiler", ast.expr], Typed]
Function = Callable[["Compiler", ast.Call, str], Typed]


class Stop(Exception):
    """A part of the formula cannot be used; its problems are already noted."""


_CURES = {
    "sqrt": "take the root of what is 0 or more",
    "lg": "take the logarithm of what is above 0",
    "power": "raise a number above 0, and not beyond what is said here",
    "tan": "write an angle below 90 deg",
    "day": "write a day that there is, as day(2026, 2, 28)",
}
"""What to write where a function of fixed values has none."""


def _cure_of(node: ast.expr) -> str:
    name = node.func.id if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) else ""
    return _CURES.get(name, "write what has a value, or take this part away")


@dataclass(frozen=True, slots=True)
class Compiler:
    tree: FormulaTree
    scope: Scope
    handlers: Mapping[type[ast.expr], Handler]
    """What compiles each kind of node."""
    functions: Mapping[str, Function]
    problems: list[FormulaProblem] = field(default_factory=list)
    leaves: list[Leaf] = field(default_factory=list)

    def node(self, node: ast.expr) -> Typed:
        """Compile one node.

        Raises:
            Stop: It cannot be used; the problems are in `problems`.
        """
        literal = self.tree.literal(node)
        if literal is not None:
            return of_literal(literal)
        typed = self.handlers[type(node)](self, node)
        if typed.degree > MAX_DEGREE:
            message = f"powers and products come to degree {typed.degree}; at most {MAX_DEGREE} is allowed"
            raise self.refused(node, 105, message)
        if typed.height > MAX_HEIGHT:
            raise self.refused(node, 105, "through the names it uses, the formula is nested too deeply")
        if len(typed.denominators) > MAX_DIVISORS:
            told = f"has more than {MAX_DIVISORS} divisors that change"
            raise self.refused(node, 105, f"through the names it uses, the formula {told}")
        if typed.constant and isinstance(typed.value, Unknown):
            number = 106 if typed.kind.name == "date" else 302
            message = f"'{self.source(node)}' has no value: {', '.join(typed.value.told())}"
            raise self.refused(node, number, message, _cure_of(node), as_meant=True)
        return typed

    def nodes(self, nodes: Sequence[ast.expr]) -> list[Typed]:
        """Compile several nodes, noting the mistakes of all before giving up."""
        return self.each(self.node, nodes)

    def each(self, step: Callable[[_Part], _Made], parts: Sequence[_Part]) -> list[_Made]:
        """Take a step for several parts, noting the mistakes of all before giving up."""
        made: list[_Made] = []
        for part in parts:
            with suppress(Stop):
                made.append(step(part))
        if len(made) < len(parts):
            raise Stop
        return made

    def refused(
        self, node: ast.AST, number: int, message: str, hint: str = "", *, as_meant: bool = False
    ) -> Stop:
        """Note a mistake at `node`; raise what this returns to give up this part."""
        start, end = self.tree.span(node)
        self.problems.append(FormulaProblem(number, message, start, end, hint, as_meant))
        return Stop()

    def source(self, node: ast.AST) -> str:
        return self.tree.source(node)

    # --- names -----------------------------------------------------------------------------------------------

    def binding(self, node: ast.AST, name: str) -> Binding | None:
        """What `name` stands for, None if for nothing; mistakes behind the name are noted at `node`."""
        found = self.named(node, self.scope.names, name)
        if found is not None and found.kind.name == "ambiguous":
            hint = "give one of them another name in the pack"
            raise self.refused(node, 202, f"'{name}' means two things here", hint)
        return found

    def named(self, node: ast.AST, every: Mapping[str, _Part], name: str) -> _Part | None:
        """The one of that name, None if there is none; mistakes behind it are noted at `node`."""
        try:
            return every.get(name)
        except FormulaError as error:
            start, end = self.tree.span(node)
            self.problems.extend(p if p.end else replace(p, start=start, end=end) for p in error.problems)
            raise Stop from None

    def field(self, node: ast.AST, entries: Entries, name: str) -> Field:
        """The field of that name; refused where the list has none."""
        field = self.named(node, entries.fields, name)
        if field is None:
            hint = did_you_mean(name, entries.fields) or f"its fields are {', '.join(entries.fields)}"
            raise self.refused(node, 205, f"'{name}' is not a field of {entries.name}", hint)
        return field

    def leaf(self, node: ast.AST, typed: Typed, behind: Expression | None = None) -> Typed:
        """Note that a name stands at `node` whose value can be printed in its place.

        Args:
            behind: The formula that the name stands for, if any.
        """
        if typed.kind.name not in ("items", "item", "row"):
            kind = typed.kind.element or typed.kind
            marks = [mark for mark in typed.marks if mark.rank != 1 and mark.kind.same_measure(kind)]
            unit = max(marks, key=lambda mark: mark.rank).unit(None) if marks else None
            start, end = self.tree.span(node)
            leaf = Leaf(
                *(start, end, self.tree.text[start:end], typed.kind),
                run=typed.evaluate,
                unit=unit,
                uses=typed.uses,
                local=bool(typed.locals),
                behind=behind,
            )
            self.leaves.append(leaf)
        return typed


def of_literal(literal: Literal) -> Typed:
    value, unit = literal.value, literal.unit
    marks = () if unit is None else (Mark(literal.kind, 0, lambda _: unit),)
    return Typed(literal.kind, lambda _: value, constant=True, marks=marks)
