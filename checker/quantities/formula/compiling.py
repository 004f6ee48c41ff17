"""From what is written in a formula's place to an expression."""

from __future__ import annotations

import ast
from fractions import Fraction
from typing import Any

from checker.quantities.formula import arithmetic, comparison, functions, logic, names
from checker.quantities.formula.agreement import POINT_HINTS, SHARE_HINT, described
from checker.quantities.formula.compiler import Compiler, Stop
from checker.quantities.formula.expression import Expression
from checker.quantities.formula.grammar import parse
from checker.quantities.formula.problem import FormulaError, FormulaProblem
from checker.quantities.formula.scope import Scope
from checker.quantities.formula.typed import Typed
from checker.quantities.kind import NUMBER, TRUTH, Kind
from checker.quantities.misread import with_comma
from checker.quantities.units import DIFFERENCES
from checker.reading.quick_dataclasses import replace


def _unary(compiler: Compiler, node: ast.UnaryOp) -> Typed:
    return (arithmetic.negation if isinstance(node.op, ast.USub) else logic.negated)(compiler, node)


_HANDLERS: dict[type[ast.expr], Any] = {
    ast.Constant: logic.constant,
    ast.Name: names.bare_name,
    ast.Attribute: names.attribute,
    ast.Call: functions.call,
    ast.BinOp: arithmetic.binary,
    ast.UnaryOp: _unary,
    ast.BoolOp: logic.both_or_either,
    ast.Compare: comparison.comparison,
    ast.IfExp: logic.choice,
    ast.List: logic.listed,
}


def compile_formula(text: str, scope: Scope) -> Expression:
    """Read one formula.

    Args:
        text: The formula, e.g. "min(95 kg, 0.08 kg/cc * engine.capacity + 12 kg)".
        scope: Everything its names may stand for.

    Raises:
        FormulaError: With every mistake found in it.
    """
    tree = parse(text, scope.currency)
    compiler = Compiler(tree, scope, _HANDLERS, functions.FUNCTIONS)
    try:
        typed = compiler.node(tree.body)
    except Stop:
        raise FormulaError(*(_perhaps(text, one, scope.currency) for one in compiler.problems)) from None
    except RecursionError:  # names that rest on names that rest on names
        message = "through the names it uses, the formula is nested too deeply"
        raise FormulaError(FormulaProblem(105, message, 0, len(text))) from None
    found: dict[str, Any] = {name: getattr(typed, name) for name in Typed.__slots__}
    return Expression(**found, text=text.strip(), leaves=tuple(compiler.leaves), tree=tree)


def _perhaps(text: str, problem: FormulaProblem, currency: str | None) -> FormulaProblem:
    """The problem with a cure, where another notation or a comma in a number may lie behind it."""
    from checker.quantities.formula.other_ways import cured  # only needed when something is wrong

    other = cured(text, problem, currency)
    if other is not problem:
        return other
    comma = with_comma(text[problem.start : problem.end])
    if problem.hint or comma is None:
        return problem
    return replace(problem, hint=f"if it is one number, {comma[2]}")


def constant_number(value: int | Fraction, written: str = "") -> Expression:
    """A YAML number in a formula's place, and how it is written."""
    number = Fraction(value)
    return Expression(NUMBER, lambda _: number, text=written or str(value), constant=True)


def constant_truth(value: bool) -> Expression:
    """A YAML truth in a formula's place."""
    return Expression(TRUTH, lambda _: value, text="true" if value else "false", constant=True)


def constant_word(word: str, kind: Kind) -> Expression:
    """A plain word where a bound is a word: `at_least: B`."""
    return Expression(kind, lambda _: word, text=word, constant=True, word=word)


def expect(expression: Expression, wanted: Kind, what: str) -> None:
    """Refuse an expression that is not of the kind wanted.

    Raises:
        FormulaError: Number 303 where a truth was expected, 301 for another dimension, 304 for a list, else 302.
    """
    kind = expression.kind
    if kind.name == wanted.name and (not wanted.is_measure or kind.same_measure(wanted)):
        return
    number = 301 if {kind.name, wanted.name} <= {"quantity", "number"} else 302
    if wanted.name == "truth":
        number = 303
    elif kind.name in ("list", "items"):
        number = 304
    start = 0 if expression.tree is None else expression.tree.lead
    message = f"{what} is {described(kind)}; {described(wanted)} was expected"
    hint = SHARE_HINT if (kind.name, wanted.name) == ("percent", "number") else ""
    point = next((one for one in (kind, wanted) if one in DIFFERENCES), None)
    if point is not None and {kind.name, wanted.name} <= {"quantity", "date"}:
        hint = POINT_HINTS[point]
    raise FormulaError(FormulaProblem(number, message, start, start + len(expression.text), hint))
