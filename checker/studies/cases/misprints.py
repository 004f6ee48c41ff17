"""Misprints: a formula, an amount or a day with one small thing changed.

Whoever types a rulebook may slip by one digit, write `<` for `<=`, or leave a word out of a list. A pack's cases are
strong when they would notice.
"""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from datetime import timedelta
from fractions import Fraction

from checker.quantities.days import parse_day
from checker.quantities.formula.grammar import FormulaTree, parse
from checker.quantities.formula.problem import FormulaError
from checker.quantities.moments import moment_text, parse_moment
from checker.reading.patterns import pattern
from checker.reading.quick_dataclasses import dataclass

_DAY = pattern(r"\d{4}-\d{2}-\d{2}\Z")
_NUMBER = pattern(r"(?P<top>\d+)/(?P<bottom>\d+)|(?P<whole>\d+)(?:\.(?P<decimals>\d+))?")
_TWINS = {"<": "<=", "<=": "<", ">": ">=", ">=": ">", "==": "!=", "!=": "==", "in": "not in", "not in": "in"}
_COMPARISON = pattern(r"<=|>=|==|!=|<|>|\bnot\s+in\b|\bin\b")


@dataclass(frozen=True, slots=True)
class Misprint:
    """A text with one thing changed."""

    text: str
    start: int
    end: int
    """The characters of the right text that were changed."""
    words: str
    """What was changed, e.g. "53.0 % as 53.1 %"."""


def moved(amount: str) -> Iterator[str]:
    """An amount or day one step up and one down: a step is one in its last decimal, or a day.

    An amount that cannot go below zero, because it is written without a sign, does not.
    """
    if (moment := _moment(amount)) is not None:
        yield from (moment_text(moment + step) for step in (60, -60))
        return
    if _DAY.match(amount):
        for step in (1, -1):
            try:
                yield (parse_day(amount) + timedelta(days=step)).isoformat()
            except (ValueError, OverflowError):
                continue
        return
    numbers = [*_NUMBER.finditer(amount)]
    if not numbers:
        return
    last = numbers[-1]
    for step in (1, -1):
        changed = _stepped(last, step)
        if changed:
            yield f"{amount[: last.start()]}{changed}{amount[last.end() :]}"


def _moment(text: str) -> Fraction | None:
    try:
        return parse_moment(text)
    except ValueError:
        return None


def _stepped(number: re.Match[str], step: int) -> str:
    if number["top"]:
        top = int(number["top"]) + step
        return f"{top}/{number['bottom']}" if top > 0 else ""
    decimals = number["decimals"] or ""
    value = int(number["whole"] + decimals) + step
    if value < 0:
        return ""
    digits = str(value).rjust(len(decimals) + 1, "0")
    return f"{digits[: -len(decimals)]}.{digits[-len(decimals) :]}" if decimals else digits


def moved_number(number: int | Fraction, written: str) -> Iterator[int | Fraction]:
    """A YAML number one step up and one down, in its last decimal as written."""
    decimals = len(written.partition(".")[2]) if "." in written and "e" not in written.lower() else 0
    step = Fraction(1, 10**decimals)
    for changed in (number + step, number - step):
        yield int(changed) if isinstance(number, int) else Fraction(changed)


def misprints(formula: str, currency: str | None) -> Iterator[Misprint]:
    """The formula with each literal moved, each comparison turned, each `and` and `or` exchanged, each word left out.

    Comparisons lose or gain the case of being equal; `==` and `in` turn into their opposites.
    """
    try:
        tree = parse(formula, currency)
    except FormulaError:
        return
    operations = (node for node in ast.walk(tree.body) if isinstance(node, ast.BinOp))
    exponents = {id(node.right) for node in operations if isinstance(node.op, ast.Pow)}
    for node in ast.walk(tree.body):
        if isinstance(node, ast.Compare):
            yield from _turned(formula, tree, node)
        elif isinstance(node, ast.BoolOp):
            yield from _exchanged(formula, tree, node)
        elif isinstance(node, ast.List) and len(node.elts) > 1:
            yield from _left_out(formula, tree, node)
        elif id(node) not in exponents:
            yield from _moved_literal(formula, tree, node)


def _moved_literal(formula: str, tree: FormulaTree, node: ast.AST) -> Iterator[Misprint]:
    whole = isinstance(node, ast.Constant) and isinstance(node.value, int)
    if not whole and tree.literal(node) is None:
        return
    start, end = tree.span(node)
    for changed in moved(formula[start:end]):
        yield _with(formula, start, end, changed, f"{formula[start:end]} as {changed}")


def _turned(formula: str, tree: FormulaTree, node: ast.Compare) -> Iterator[Misprint]:
    sides = [node.left, *node.comparators]
    for left, right in zip(sides, node.comparators, strict=False):
        start, end = tree.span(left)[1], tree.span(right)[0]
        found = _COMPARISON.search(formula, start, end)
        if found is not None:
            sign = " ".join(found[0].split())
            yield _with(formula, found.start(), found.end(), _TWINS[sign], f"{sign} as {_TWINS[sign]}")


def _exchanged(formula: str, tree: FormulaTree, node: ast.BoolOp) -> Iterator[Misprint]:
    """`and` as `or` throughout one row of them."""
    word, other = ("and", "or") if isinstance(node.op, ast.And) else ("or", "and")
    text, first, last = formula, len(formula), 0
    for left, right in reversed(list(zip(node.values, node.values[1:], strict=False))):
        start, end = tree.span(left)[1], tree.span(right)[0]
        found = re.compile(rf"\b{word}\b").search(formula, start, end)
        if found is None:
            return
        text = f"{text[: found.start()]}{other}{text[found.end() :]}"
        first, last = min(first, found.start()), max(last, found.end())
    if text != formula:
        yield Misprint(text, first, last, f"{word} as {other}")


def _left_out(formula: str, tree: FormulaTree, node: ast.List) -> Iterator[Misprint]:
    spans = [tree.span(element) for element in node.elts]
    for place, (start, end) in enumerate(spans):
        until = spans[place + 1][0] if place + 1 < len(spans) else end
        since = start if place + 1 < len(spans) else spans[place - 1][1]
        yield _with(formula, since, until, "", f"without {formula[start:end]}")


def _with(formula: str, start: int, end: int, changed: str, words: str) -> Misprint:
    return Misprint(f"{formula[:start]}{changed}{formula[end:]}", start, end, words)
