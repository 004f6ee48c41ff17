"""The days on which a formula comes out otherwise by itself, found by working it out on every day.

Whatever part of a formula rests on nothing but the day of the event is worked out day by day, so that every way of
writing a day counts: a comparison, `year(..)`, `month(..)`, a day plus a month, a table. What also rests on the car, as
an age does, turns on a day of the car's and not on one of the rules'.
"""

from __future__ import annotations

import ast
from collections.abc import Callable, Iterator, Mapping
from datetime import date, timedelta
from typing import Any

from checker.kinds.contract.check import Check
from checker.kinds.frame.days import DAYS, TODAY
from checker.pack.model import Pack
from checker.pack.reading.cells import TableRow
from checker.quantities.formula.compiling import compile_formula
from checker.quantities.formula.expression import Expression
from checker.quantities.formula.grammar import FormulaTree
from checker.quantities.formula.problem import FormulaError
from checker.quantities.formula.scope import Scope
from checker.quantities.kind import DATE
from checker.reading.quick_dataclasses import dataclass, replace

MOST_DAYS = 3660
"""How far is looked from the first day: what turns every year would turn for ever."""


def last_looked_at(first: date) -> date:
    """The last day that is looked at from a first."""
    return date.fromordinal(min(first.toordinal() + MOST_DAYS - 1, date.max.toordinal()))


Value = Callable[[date], object]


@dataclass(frozen=True, slots=True)
class _Day:
    """What a formula is worked out in that rests on the day alone."""

    day: date

    def once(self, evaluate: Callable[[_Day], object]) -> object:
        return evaluate(self)


class DayFinder:
    """Finds such days in the checks of a pack, from `first` to `last` at the most."""

    def __init__(self, pack: Pack, first: date, last: date) -> None:
        self._pack = pack
        count = min((last - first).days + 1, MOST_DAYS)
        self._days = [first + timedelta(days=n) for n in range(-1 if first > date.min else 0, count)]
        today = pack.scope.names[TODAY]
        only = frozenset({TODAY, *pack.tables, *pack.derived})
        names = {name: pack.scope.names[name] for name in pack.derived if pack.scope.names[name].uses <= only}
        read: Callable[[Any], Any] = lambda scene: scene.day  # noqa: E731 (a binding holds a plain function)
        self._scope: Scope = replace(
            pack.scope, names={**names, TODAY: replace(today, read=read)}, entries={}, known_sections=None
        )

    def of(self, check: Check) -> Iterator[tuple[date, str]]:
        """Each day on which a part of a check turns, without its branches, and what turns then."""
        parts = [(role, one) for role, one in check.expressions() if role != DAYS and TODAY in one.uses]
        against = [
            (role, one.value) for role, one in check.expressions() if one.constant and one.kind == DATE
        ]
        for _, expression in parts:
            if expression.kind == DATE and (whole := self._on_its_own(expression.text)) is not None:
                yield from self._turns(_beside(whole, against), f"{check.sentence()} turns on this day")
            elif expression.tree is not None:
                yield from self._in(expression.tree, expression.tree.body, check.sentence())

    def _in(self, tree: FormulaTree, node: ast.AST, sentence: str) -> Iterator[tuple[date, str]]:
        """The turns of the largest parts that rest on the day alone."""
        name = tree.name(node) if isinstance(node, (ast.Name, ast.Attribute)) else ""
        if isinstance(node, ast.expr) and not name:
            value = self._on_its_own(tree.source(node))
            if value is not None:
                table = self._table(tree, node)
                told = f"table {table} gives another value" if table else f"{sentence} turns on this day"
                yield from self._turns(value, told)
                return
        derived = self._pack.derived.get(name)
        if derived is not None and derived.expression.tree is not None:
            if TODAY in derived.expression.uses:
                behind = derived.expression.tree
                yield from self._in(behind, behind.body, sentence)
            return
        children = list(ast.iter_child_nodes(node))
        if isinstance(node, ast.Call) and (table := self._table(tree, node)):
            yield from self._rows(tree, node, table)
            children = [one for one in node.args if self._on_its_own(tree.source(one)) is None]
        for child in children:
            yield from self._in(tree, child, sentence)

    def _table(self, tree: FormulaTree, node: ast.AST) -> str:
        """The table that a node asks."""
        while isinstance(node, ast.Attribute):
            node = node.value
        called = isinstance(node, ast.Call) and isinstance(node.func, ast.Name)
        name = tree.name(node.func) if called and isinstance(node, ast.Call) else ""
        return name if name in self._pack.tables else ""

    def _rows(self, tree: FormulaTree, node: ast.Call, table: str) -> Iterator[tuple[date, str]]:
        """Days on which other rows of a table fit the keys that are made of the day; other keys are the car's."""
        rows: tuple[TableRow, ...] = self._pack.tables[table].read
        for place, argument in enumerate(node.args):
            key = self._on_its_own(tree.source(argument))
            if key is None:
                continue
            fits = _fitting(rows, place, key)
            yield from self._turns(fits, f"table {table} gives another value")

    def _on_its_own(self, text: str) -> Value | None:
        """A formula as a function of the day; None where it rests on more, or not on the day at all."""
        try:
            made: Expression = compile_formula(text, self._scope)
        except FormulaError:
            return None
        if TODAY not in made.uses:
            return None
        return lambda day: made.evaluate(_Day(day))

    def _turns(self, value: Value, words: str) -> Iterator[tuple[date, str]]:
        before: object = None
        for place, day in enumerate(self._days):
            now = _comparable(value(day))
            if place and now != before:
                yield day, words
            before = now


def _fitting(rows: tuple[TableRow, ...], place: int, key: Value) -> Value:
    return lambda day: tuple(row.keys[place].holds(key(day)) for row in rows)


_PASSED = ("valid", "at_most", "above")
"""Keys whose day itself still belongs to what came before."""
_REACHED = ("at_least", "below")


def _beside(value: Value, against: list[tuple[str, date]]) -> Value:
    """Whether a day has reached or passed others, as far as it matters under their keys."""

    def beside(day: date) -> object:
        found = value(day)
        if not isinstance(found, date):
            return found
        return tuple(
            (role not in _REACHED and found > other, role not in _PASSED and found >= other)
            for role, other in against
        )

    return beside


def _comparable(value: object) -> object:
    """A row of a table as its values."""
    if isinstance(value, Mapping):
        return {column: cell.value for column, cell in value.items()}
    return value
