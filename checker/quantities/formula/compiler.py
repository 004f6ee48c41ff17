"""From the tree of a formula to one plain function, with every kind and dimension checked on the way.

Each kind of node has one function here or in the module of its idea (`arithmetic`, `comparison`, `functions`,
`aggregates`, `names`). Mistakes in independent parts are all collected.
"""

from __future__ import annotations

import ast
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from fractions import Fraction
from typing import Any, NoReturn

from checker.quantities.formula.form import chosen
from checker.quantities.formula.grammar import Tree
from checker.quantities.formula.problem import FormulaError, FormulaProblem
from checker.quantities.formula.scope import Binding, Scope
from checker.quantities.formula.typed import Mark, Typed, merged
from checker.quantities.kind import DATE, NUMBER, TEXT, TRUTH, Kind, Unknown, unite
from checker.quantities.literal import Literal


class Stop(Exception):
    """A part of the formula cannot be used; its problems are already noted."""


@dataclass(slots=True)
class Compiler:
    """Compiles the nodes of one formula."""

    tree: Tree
    scope: Scope
    problems: list[FormulaProblem] = field(default_factory=list)

    def node(self, node: ast.expr, expected: Kind | None = None) -> Typed:
        """Compile one node.

        Args:
            node: A node that the grammar has allowed.
            expected: The kind that its neighbour has, to understand a text literal beside listed words.

        Raises:
            Stop: It cannot be used; the problems are in `problems`.
        """
        from checker.quantities.formula import arithmetic, comparison, functions, names

        try:
            match node:
                case ast.Constant():
                    return self._constant(node)
                case ast.Name() if (
                    literal := self.tree.prepared.literals.get(self.tree.key(node))
                ) is not None:
                    return of_literal(literal)
                case ast.Name():
                    return names.bare_name(self, node)
                case ast.Attribute():
                    return names.attribute(self, node)
                case ast.Call():
                    return functions.call(self, node)
                case ast.BinOp():
                    return arithmetic.binary(self, node)
                case ast.UnaryOp(op=ast.USub()):
                    return arithmetic.negation(self, node)
                case ast.UnaryOp():
                    return self._negated_truth(node)
                case ast.BoolOp():
                    return self._logic(node)
                case ast.Compare():
                    return comparison.comparison(self, node)
                case ast.IfExp():
                    return self._choice(node)
                case ast.List():
                    return self._list(node)
        except FormulaError as error:
            self.problems.extend(error.problems)
            raise Stop from None
        self.refuse(node, 105, "this is not allowed here")

    def nodes(self, nodes: Sequence[ast.expr]) -> list[Typed]:
        """Compile several nodes, noting the mistakes of all before giving up."""
        compiled: list[Typed] = []
        for node in nodes:
            try:
                compiled.append(self.node(node))
            except Stop:
                continue
        if len(compiled) < len(nodes):
            raise Stop
        return compiled

    def refuse(self, node: ast.AST, number: int, message: str, hint: str = "") -> NoReturn:
        """Note a mistake at `node` and give up this part."""
        start, end = self.tree.span(node)
        self.problems.append(FormulaProblem(number, message, start, end, hint))
        raise Stop

    def binding(self, node: ast.AST, name: str) -> Binding | None:
        """What `name` stands for, None if for nothing; mistakes behind the name are noted at `node`."""
        try:
            found = self.scope.names.get(name)
        except FormulaError as error:
            start, end = self.tree.span(node)
            self.problems += (p if p.end else replace(p, start=start, end=end) for p in error.problems)
            raise Stop from None
        if found is not None and found.kind.name == "ambiguous":
            self.refuse(
                node, 202, f"'{name}' means two things here", "give one of them another name in the pack"
            )
        return found

    def source(self, node: ast.AST) -> str:
        return self.tree.source(node)

    def truth(self, node: ast.expr) -> Typed:
        """Compile a node that must be true or false."""
        typed = self.node(node)
        if typed.kind.name != "truth":
            self.refuse(
                node, 303, f"'{self.source(node)}' is {described(typed.kind)}; true or false was expected"
            )
        return typed

    def single(self, node: ast.expr, typed: Typed) -> None:
        """Refuse a list where one value is needed."""
        if typed.kind.name in ("list", "items"):
            self.refuse(
                node,
                304,
                f"'{self.source(node)}' has several values; one is needed here",
                "use sum, mean, min, max, count, any or all, or say `of_several` in the check",
            )

    def _constant(self, node: ast.Constant) -> Typed:
        if isinstance(node.value, str):
            text = node.value
            return Typed(Kind("text", words=(text,)), lambda _: text, constant=True, text=text)
        number = Fraction(int(node.value))
        return Typed(NUMBER, lambda _: number, constant=True)

    def _logic(self, node: ast.BoolOp) -> Typed:
        operands = []
        for value in node.values:
            try:
                operands.append(self.truth(value))
            except Stop:
                continue
        if len(operands) < len(node.values):
            raise Stop
        runs = tuple(o.run for o in operands)
        decisive = isinstance(node.op, ast.Or)
        from checker.quantities.formula.form import function_of

        return merged(
            TRUTH, three_valued(runs, decisive), tuple(operands), function_of(*(o.form for o in operands))
        )

    def _negated_truth(self, node: ast.UnaryOp) -> Typed:
        operand = self.truth(node.operand)
        run = operand.run

        def negated(scene: Any) -> Any:
            value = run(scene)
            return value if isinstance(value, Unknown) else not value

        return merged(TRUTH, negated, (operand,), operand.form)

    def _choice(self, node: ast.IfExp) -> Typed:
        failed = False
        parts: list[Typed] = []
        for part in (node.test, node.body, node.orelse):
            try:
                parts.append(self.truth(part) if part is node.test else self.node(part))
            except Stop:
                failed = True
        if failed:
            raise Stop
        test, yes, no = parts
        kind = common_kind(self, node, (yes, no), "both sides of `if`")
        condition, a, b = test.run, yes.run, no.run

        def choose(scene: Any) -> Any:
            answer = condition(scene)
            if isinstance(answer, Unknown):
                first, second = a(scene), b(scene)
                if not isinstance(first, Unknown) and first == second:
                    return first
                return unite([answer, *(v for v in (first, second) if isinstance(v, Unknown))])
            return a(scene) if answer else b(scene)

        form = chosen(test.form, yes.form, no.form, self.source(node))
        return merged(kind, choose, (test, yes, no), form)

    def _list(self, node: ast.List) -> Typed:
        elements = self.nodes(node.elts)
        if not elements:
            self.refuse(node, 302, "an empty list says nothing", "give it at least one value")
        kind = common_kind(self, node, tuple(elements), "the values of a list")
        runs = tuple(e.run for e in elements)
        if kind.is_word:
            words = [w for e in elements for w in (e.kind.words or ())]
            kind = Kind("text", words=tuple(words)) if all(e.text is not None for e in elements) else kind

        def listed(scene: Any) -> Any:
            values = tuple(run(scene) for run in runs)
            absent = [v for v in values if isinstance(v, Unknown)]
            return unite(absent) if absent else values

        from checker.quantities.formula.form import function_of

        return merged(kind.listed(), listed, tuple(elements), function_of(*(e.form for e in elements)))


def of_literal(literal: Literal) -> Typed:
    """A literal quantity, number or day."""
    value: Fraction | date = literal.value
    unit = literal.unit
    marks = () if unit is None else (Mark(literal.kind, 0, lambda _: unit),)
    kind = DATE if isinstance(value, date) else literal.kind
    return Typed(kind, lambda _: value, constant=True, marks=marks)


def three_valued(runs: tuple[Callable[[Any], Any], ...], decisive: bool) -> Callable[[Any], Any]:
    """`or` (decisive True) and `and` (decisive False) over values that may be unknown."""

    def run(scene: Any) -> Any:
        unknown: list[Unknown] = []
        for part in runs:
            value = part(scene)
            if isinstance(value, Unknown):
                unknown.append(value)
            elif value is decisive:
                return decisive
        return unite(unknown) if unknown else not decisive

    return run


def described(kind: Kind) -> str:
    """A kind in a sentence: "a mass", "a number", "text"."""
    name = str(kind)
    if kind.name in ("text", "truth", "percent", "days", "months", "items"):
        return {"truth": "true or false", "percent": "a percentage", "items": f"the {name}"}.get(
            kind.name, name
        )
    return ("an " if name[:1] in "aeiou" else "a ") + name


def common_kind(compiler: Compiler, node: ast.AST, parts: Sequence[Typed], what: str) -> Kind:
    """The one kind that all parts have, or a refusal that names both."""
    first = parts[0].kind
    for part in parts[1:]:
        other = part.kind
        if first.is_measure and first.same_measure(other):
            continue
        if first.name == other.name and first.name not in ("quantity", "list", "items", "row", "item"):
            if first.is_word:
                words = None if first.words is None or other.words is None else (*first.words, *other.words)
                tree = first.tree or other.tree
                first = Kind("text", words=words, tree=tree) if first.name == "text" else first
            continue
        if first.name == "grade" and other.name == "text" and part.text is not None:
            continue
        if first.name == "text" and other.name == "grade" and parts[0].text is not None:
            first = other
            continue
        if (
            first.name == other.name == "list"
            and first.element
            and other.element
            and first.element.name == other.element.name
        ):
            if first.element.same_measure(other.element):
                continue
        mismatch(compiler, node, first, other, what)
    return first if first.name != "text" or first.words is None else first


def mismatch(compiler: Compiler, node: ast.AST, a: Kind, b: Kind, what: str) -> NoReturn:
    """Refuse two kinds that do not go together, with the hint that fits."""
    if a.name in ("list", "items") or b.name in ("list", "items"):
        compiler.refuse(
            node,
            304,
            f"{what}: {described(a)} and {described(b)}; one value is needed",
            "use sum, mean, min, max, count, any or all, or say `of_several` in the check",
        )
    number = 301 if {a.name, b.name} <= {"quantity"} else 302
    if {a.name, b.name} == {"quantity", "number"}:
        number = 301
    hint = ""
    if {a.name, b.name} == {"number", "percent"}:
        hint = "write the number as a percentage, e.g. 95 %, or make a ratio one with percent(a / b)"
    elif {a.name, b.name} == {"days", "months"}:
        hint = "days and months are never compared or added to each other"
    elif "number" in (a.name, b.name):
        hint = "give the number a unit"
    compiler.refuse(node, number, f"{what}: {described(a)} and {described(b)} do not go together", hint)
