"""A formula that has been read: its kind, its function, and what is known of it without a car."""

from __future__ import annotations

import ast
from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING, Any

from checker.quantities.formula.compiler import Compiler, Stop, described, of_literal
from checker.quantities.formula.form import CONSTANT, Form
from checker.quantities.formula.grammar import Tree, attribute_name, name_of, parse
from checker.quantities.formula.problem import FormulaError, FormulaProblem
from checker.quantities.formula.typed import Mark, Run
from checker.quantities.kind import NUMBER, TRUTH, Kind
from checker.quantities.literal import Literal
from checker.quantities.units import Unit

if TYPE_CHECKING:
    from checker.quantities.formula.scope import Scope


@dataclass(frozen=True, slots=True)
class Leaf:
    """A name in a formula's text, to print the formula with numbers in place."""

    start: int
    end: int
    text: str
    kind: Kind
    run: Run
    unit: Unit | None
    uses: frozenset[str]
    local: bool


@dataclass(frozen=True, slots=True)
class Expression:
    """A compiled formula."""

    text: str
    kind: Kind
    evaluate: Run
    """From a scene to the exact value, or Unknown."""
    form: Form = CONSTANT
    constant: bool = False
    locals: frozenset[str] = frozenset()
    uses: frozenset[str] = frozenset()
    irrational: bool = False
    marks: tuple[Mark, ...] = ()
    denominators: tuple[Run, ...] = ()
    leaves: tuple[Leaf, ...] = ()
    word: str | None = None
    """The text of a formula that is one text literal or one plain word."""
    tree: Tree | None = None
    """The parsed text; None for what was written as a literal."""

    @property
    def value(self) -> Any:
        """The value of a constant expression."""
        return self.evaluate(None)

    @property
    def follows_condition(self) -> bool:
        """Its value depends on the condition that the car is in."""
        return not self.form.is_constant

    def written_unit(self, scene: Any, ranks: tuple[int, ...] = (0, 1, 2, 3)) -> Unit | None:
        """The unit that a value of this kind is shown in, by what the formula is written in.

        Args:
            scene: What the formula is evaluated in (a table's unit is that of the row found).
            ranks: Which marks count: 0 literals, 1 table cells, 2 facts and fields, 3 derived values.
        """
        for rank in ranks:
            for mark in self.marks:
                if mark.rank == rank and mark.kind.same_measure(self.kind):
                    unit = mark.unit(scene)
                    if unit is not None:
                        return unit
        return None


def compile_formula(text: str, scope: Scope) -> Expression:
    """Read one formula.

    Args:
        text: The formula, e.g. "min(95 kg, 0.08 kg/cc * engine.capacity + 12 kg)".
        scope: Everything its names may stand for.

    Raises:
        FormulaError: With every mistake found in it.
    """
    tree = parse(text, scope.currency)
    compiler = Compiler(tree, scope)
    try:
        typed = compiler.node(tree.body)
    except Stop:
        raise FormulaError(*compiler.problems) from None
    except RecursionError:
        raise FormulaError(FormulaProblem(103, "the formula is nested too deeply", 0, len(text))) from None
    if compiler.problems:
        raise FormulaError(*compiler.problems)
    return Expression(
        text.strip(),
        typed.kind,
        typed.run,
        typed.form,
        typed.constant,
        typed.locals,
        typed.uses,
        typed.irrational,
        typed.marks,
        typed.denominators,
        _leaves(tree, scope),
        typed.text,
        tree,
    )


def constant_number(value: int | Fraction, written: str = "") -> Expression:
    """A YAML number in a formula's place, and how it is written."""
    number = Fraction(value)
    return Expression(written or str(value), NUMBER, lambda _: number, constant=True)


def constant_truth(value: bool) -> Expression:
    """A YAML truth in a formula's place."""
    return Expression("true" if value else "false", TRUTH, lambda _: value, constant=True)


def constant_word(word: str, kind: Kind) -> Expression:
    """A plain word where a bound is a word: `at_least: B`."""
    return Expression(word, kind, lambda _: word, constant=True, word=word)


def constant_literal(literal: Literal) -> Expression:
    """A quantity or day written as such."""
    typed = of_literal(literal)
    return Expression(literal.text, typed.kind, typed.run, constant=True, marks=typed.marks)


def _leaves(tree: Tree, scope: Scope) -> tuple[Leaf, ...]:
    """The names in the formula that stand for values which can be printed in their place."""
    leaves: list[Leaf] = []

    def visit(node: ast.AST) -> None:
        if isinstance(node, ast.GeneratorExp):
            return
        if isinstance(node, (ast.Name, ast.Attribute)) and _printable(tree, scope, node):
            compiler = Compiler(tree, scope)
            try:
                typed = compiler.node(node)
            except Stop:
                return
            if typed.kind.name not in ("items", "item", "row"):
                start, end = tree.span(node)
                unit = next((m.unit for m in typed.marks if m.rank >= 2), None)
                shown = None if unit is None else unit(None)
                leaves.append(
                    Leaf(
                        start,
                        end,
                        tree.text[start:end],
                        typed.kind,
                        typed.run,
                        shown,
                        typed.uses,
                        bool(typed.locals),
                    )
                )
            return
        if isinstance(node, ast.Call):
            for argument in node.args:
                visit(argument)
            return
        for child in ast.iter_child_nodes(node):
            visit(child)

    visit(tree.body)
    return tuple(leaves)


def _printable(tree: Tree, scope: Scope, node: ast.Name | ast.Attribute) -> bool:
    if isinstance(node, ast.Name):
        if tree.key(node) in tree.prepared.literals:
            return False
        return name_of(tree, node) in scope.names
    if isinstance(node.value, ast.Name):
        first = name_of(tree, node.value)
        return f"{first}.{attribute_name(tree, node)}" in scope.names or first in scope.names
    return False


def expect(expression: Expression, wanted: Kind, what: str) -> None:
    """Refuse an expression that is not of the kind wanted.

    Raises:
        FormulaError: Number 303 where a truth was expected, 301 for another dimension, 304 for a list, else 302.
    """
    kind = expression.kind
    if kind.name == wanted.name and (not wanted.is_measure or kind.same_measure(wanted)):
        return
    number = 302
    if wanted.name == "truth":
        number = 303
    elif kind.name in ("list", "items"):
        number = 304
    elif {kind.name, wanted.name} <= {"quantity", "number"}:
        number = 301
    raise FormulaError(
        FormulaProblem(
            number, f"{what} is {described(kind)}; {described(wanted)} was expected", 0, len(expression.text)
        )
    )
