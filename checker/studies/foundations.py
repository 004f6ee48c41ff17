"""What a clause rests on beside its own text, and which way a change of it goes.

A minimum weight that stands in a table changes with the table, though not a word of its clause does. Where a check is
built so that the way can be told, a risen cell tightens or relaxes; elsewhere it is only said that something changed.
"""

from __future__ import annotations

import ast
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Any

from checker.car.trees import Tree as WordTree
from checker.car.vocabulary import FactType
from checker.kinds.shared.check import Check, Comparison, together, uses, walk
from checker.kinds.shared.comparing import compare_moving, compare_words
from checker.kinds.shared.framed import Framed
from checker.kinds.shared.meaning import same_meaning
from checker.kinds.shared.rising import NOT_AT_ALL, Expand, Way, way
from checker.pack.model import Clause, Pack
from checker.quantities.display import decimal_text, show
from checker.quantities.formula.expression import Expression
from checker.quantities.formula.grammar import Tree
from checker.quantities.words import fold
from checker.studies.table_changes import CellChange, table_changes

_LOWER = ("at_least", "above")
_UPPER = ("at_most", "below")
_REVERSING = ("none_of", "at_most_of")
_LISTS = {"allowed": False, "banned": True, "required": True}
"""Kinds of lists, and whether more words make them tighter."""


@dataclass(frozen=True, slots=True)
class Moved:
    """Something that clauses rest on and that is not what it was."""

    name: str
    """As formulas use it: a table, a derived value, a fact, a field."""
    words: tuple[str, ...]
    rises: bool | None = None
    """Whether its value is higher than before, for every key; None: neither, or it cannot be told."""
    by: str = ""
    column: str = ""
    """For a table: the column."""
    came: tuple[str, ...] = ()
    went: tuple[str, ...] = ()
    """For a column of lists: words added and taken out."""


@dataclass(slots=True)
class Foundations:
    """What changed beneath the clauses, between two packs."""

    old: Pack
    new: Pack
    moved: list[Moved] = field(default_factory=list)
    told: set[str] = field(default_factory=set)
    """Names of what some clause has spoken of."""

    def __post_init__(self) -> None:
        self.moved = [
            *_tables(self.old, self.new),
            *_derived(self.old, self.new),
            *_facts(self.old, self.new),
        ]

    def beneath(self, old: Clause, new: Clause) -> Comparison:
        """What a clause that stands in both packs owes to changes beneath it."""
        rests = frozenset().union(*(uses(check) for check in _checks(new))) & frozenset().union(
            *(uses(check) for check in _checks(old))
        )
        found = [self._effect(one, new) for one in self.moved if one.name in rests and _asks(new, one)]
        self.told |= {one.name for one in self.moved if one.name in rests}
        return together([*found, *self._families(old, new)])

    def _effect(self, moved: Moved, clause: Clause) -> Comparison:
        """Which way a change beneath goes for a clause."""
        checks = list(walk(clause.check))
        reversing = any(check.kind in _REVERSING for check in checks)
        ways = {found for check in checks if (found := _way(check, moved, self.new)) is not None}
        if reversing or clause.earlier or len(ways) != 1:
            return Comparison("changed", moved.words)
        change, by = ways.pop()
        return Comparison(change, moved.words, by)

    # --- families of words ---------------------------------------------------------------------------------

    def _families(self, old: Clause, new: Clause) -> Iterator[Comparison]:
        """Words whose families have grown or shrunk."""
        for what, before, after in (
            ("material", self.old.vocabulary.materials, self.new.vocabulary.materials),
            ("category", self.old.vocabulary.categories, self.new.vocabulary.categories),
        ):
            named = _words_of(old) & _words_of(new)
            for word in dict.fromkeys(w for w in after.words if fold(w) in named):
                if before.canonical(word) is None:
                    continue
                kin, now = _kin(before, word), _kin(after, word)
                found = compare_words(f"{what} {word}", kin, now, more_is_tighter=_more_is_tighter(new))
                if found.change != "same":
                    self.told.add(f"{what} {fold(word)}")
                    single = _list_kind(new) is not None
                    yield found if single else Comparison("changed", found.words)


def _checks(clause: Clause) -> list[Check]:
    return [clause.check, *(entry.check for entry in clause.earlier if entry.check is not None)]


def _asks(clause: Clause, moved: Moved) -> bool:
    """Whether a clause asks for the column that changed; where that cannot be told, it does."""
    if not moved.column or moved.column == "value":
        return True
    attributes = {
        expression.tree.name(node)
        for check in _checks(clause)
        for part in walk(check)
        for _, expression in part.expressions()
        if expression.tree is not None
        for node in ast.walk(expression.tree.body)
        if isinstance(node, ast.Attribute)
    }
    names = frozenset().union(*(uses(check) for check in _checks(clause)))
    through_others = not any(
        _calls(e, moved.name) for c in _checks(clause) for p in walk(c) for _, e in p.expressions()
    )
    return moved.column in attributes or (through_others and moved.name in names)


def _calls(expression: Expression, table: str) -> bool:
    if expression.tree is None:
        return False
    tree = expression.tree
    return any(isinstance(node, ast.Call) and tree.name(node.func) == table for node in ast.walk(tree.body))


# --- which way -------------------------------------------------------------------------------------------------


def _way(check: Check, moved: Moved, pack: Pack) -> tuple[str, str] | None:
    """tightened, relaxed or changed, and by how much; None where the check does not rest on it."""
    if moved.name not in frozenset().union(*(e.uses for _, e in check.expressions()), frozenset()):
        return None
    if isinstance(check, Framed):
        guards = [e for role, e in check.expressions() if role in ("when", "unless", "where")]
        return ("changed", "") if any(moved.name in e.uses for e in guards) else None
    if check.kind in _LISTS and (moved.came or moved.went):
        return _way_of_list(check, moved)
    if check.kind != "limit" or moved.rises is None:
        return ("changed", "")
    return _way_of_limit(check, moved, pack)


def _way_of_list(check: Check, moved: Moved) -> tuple[str, str]:
    if moved.came and moved.went:
        return ("changed", "")
    return ("tightened" if bool(moved.came) == _LISTS[check.kind] else "relaxed", "")


def _way_of_limit(check: Check, moved: Moved, pack: Pack) -> tuple[str, str]:
    expressions = dict(check.expressions())
    limit = _dependence(expressions.pop("limit"), moved, pack)
    effects: set[int] = set()
    exact = True
    for sense, expression in expressions.items():
        bound = _dependence(expression, moved, pack)
        if bound is None or limit is None or sense not in (*_LOWER, *_UPPER):
            if bound == Way(NOT_AT_ALL) and limit == Way(NOT_AT_ALL):
                continue
            return ("changed", "")
        lower = 1 if sense in _LOWER else -1
        signs = {lower * limit.sign, -lower * bound.sign} - {0}
        if len(signs) > 1:
            return ("changed", "")
        effects |= signs
        exact &= limit.by_as_much and bound.by_as_much
    if len(effects) != 1:
        return ("changed", "")
    margin_rises = (effects.pop() > 0) == moved.rises
    return ("relaxed" if margin_rises else "tightened", moved.by if exact else "")


def _dependence(expression: Expression, moved: Moved, pack: Pack) -> Way | None:
    """How a formula depends on what changed."""
    if moved.name not in expression.uses:
        return Way(NOT_AT_ALL)
    if expression.tree is None:
        return None
    found = way(expression.tree, expression.tree.body, _is(moved), _behind(moved, pack))
    return None if found == Way(NOT_AT_ALL) else found


def _is(moved: Moved) -> Callable[[Tree, ast.AST], bool]:
    def part(tree: Tree, node: ast.AST) -> bool:
        if moved.column and moved.column != "value":
            return isinstance(node, ast.Attribute) and tree.name(node) == moved.column
        if moved.column:
            return isinstance(node, ast.Call) and tree.name(node.func) == moved.name
        return isinstance(node, ast.Name) and tree.literal(node) is None and tree.name(node) == moved.name

    return part


def _behind(moved: Moved, pack: Pack) -> Expand:
    def expand(name: str) -> tuple[Tree, ast.AST] | None:
        derived = pack.derived.get(name)
        if derived is None or name == moved.name or derived.expression.tree is None:
            return None
        return derived.expression.tree, derived.expression.tree.body

    return expand


# --- what moved ------------------------------------------------------------------------------------------------


def _tables(old: Pack, new: Pack) -> Iterator[Moved]:
    for name, table in new.tables.items():
        before = old.tables.get(name)
        if before is None:
            continue
        changes = table_changes(before, table, new.vocabulary.currency)
        if changes is None:
            if before.rows != table.rows or before.keys != table.keys:
                yield Moved(name, (f"table {name} is laid out anew",))
            continue
        for column in dict.fromkeys(change.column for change in changes):
            yield _column(name, column, [change for change in changes if change.column == column])


def _column(table: str, column: str, changes: list[CellChange]) -> Moved:
    of = f"table {table}" if column == "value" else f"table {table}, {column}"
    words = tuple(f"{of}: {change.words}" for change in changes)
    lists = [(_list(change.old), _list(change.new)) for change in changes]
    if all(a is not None and b is not None for a, b in lists):
        came = dict.fromkeys(w for a, b in lists for w in b or () if w not in (a or ()))
        went = dict.fromkeys(w for a, b in lists for w in a or () if w not in (b or ()))
        told = tuple(_list_words(of, change) for change in changes)
        return Moved(table, told, column=column, came=tuple(came), went=tuple(went))
    differences = [_difference(change) for change in changes]
    if any(one is None for one in differences):
        return Moved(table, words, column=column)
    sizes = [one for one in differences if one is not None]
    rises = all(size > 0 for size in sizes)
    if not rises and not all(size < 0 for size in sizes):
        return Moved(table, words, column=column)
    return Moved(table, words, rises, _sizes(changes, sorted(map(abs, sizes))), column)


def _list(cell: Any) -> tuple[str, ...] | None:
    value = None if cell is None else cell.value
    return tuple(map(str, value)) if isinstance(value, tuple) else None


def _list_words(of: str, change: CellChange) -> str:
    before, after = _list(change.old) or (), _list(change.new) or ()
    parts = compare_words(f"{of}, {change.where}" if change.where else of, before, after, True).words
    return "; ".join(parts)


def _difference(change: CellChange) -> Fraction | None:
    """New minus old, where both are amounts."""
    before, after = (None if cell is None else cell.value for cell in (change.old, change.new))
    if isinstance(before, Fraction) and isinstance(after, Fraction):
        return after - before
    return None


def _sizes(changes: list[CellChange], sizes: list[Fraction]) -> str:
    """By how much: one amount, or from least to most."""
    cell = changes[0].new
    assert cell is not None
    least, most = (
        decimal_text(s) if cell.unit is None else show(s, cell.unit) for s in (sizes[0], sizes[-1])
    )
    return least if least == most else f"{least} to {most}"


def _derived(old: Pack, new: Pack) -> Iterator[Moved]:
    for name, derived in new.derived.items():
        before = old.derived.get(name)
        if before is None or same_meaning(before.expression, derived.expression):
            continue
        words = f"{name}: {before.expression.text} becomes {derived.expression.text}"
        found = compare_moving(words, before.expression, derived.expression, rising_is_tighter=True)
        rises = {"tightened": True, "relaxed": False}.get(found.change)
        yield Moved(name, (words,), rises, found.by)
    yield from _fields(old, new)


def _fields(old: Pack, new: Pack) -> Iterator[Moved]:
    """Fields of lists that are worked out."""
    for name in new.document_mapping("lists"):
        before, after = (pack.document_mapping("lists", name, "fields") for pack in (old, new))
        for one, given in after.items():
            formula = given.get("formula") if isinstance(given, dict) else None
            earlier = before.get(one)
            was = earlier.get("formula") if isinstance(earlier, dict) else None
            if isinstance(formula, str) and isinstance(was, str) and formula.split() != was.split():
                yield Moved(f"{name}.{one}", (f"{one} of {name}: {was} becomes {formula}",))


def _facts(old: Pack, new: Pack) -> Iterator[Moved]:
    before, after = old.vocabulary, new.vocabulary
    for name, fact in after.facts.items():
        if name in before.facts and (words := fact_changes(before.facts[name], fact)):
            yield Moved(name, tuple(f"{name}: {one}" for one in words))
    for list_name, its in after.lists.items():
        earlier = before.lists.get(list_name)
        for name, fact in its.fields.items() if earlier is not None else ():
            if (
                earlier is not None
                and name in earlier.fields
                and (words := fact_changes(earlier.fields[name], fact))
            ):
                yield Moved(f"{list_name}.{name}", tuple(f"{name} of {list_name}: {one}" for one in words))


def fact_changes(old: FactType, new: FactType) -> list[str]:
    """What is judged otherwise of a fact; its range and its help text are no rules."""
    found: list[str] = []
    for what, before, after in (
        ("words", old.kind.words, new.kind.words),
        ("kind", (old.kind.name, old.kind.dimension), (new.kind.name, new.kind.dimension)),
        ("default", old.default, new.default),
        ("stated by", old.stated_by, new.stated_by),
        ("measured with", old.measured_with, new.measured_with),
        ("uncertainty", old.uncertainty, new.uncertainty),
        ("taken", old.taken, new.taken),
        ("several values", old.several, new.several),
        ("to", old.precision, new.precision),
    ):
        if before != after:
            shown = [_shown(what, fact) for fact in (old, new)]
            found.append(f"{what} {shown[0]} becomes {shown[1]}")
    return found


def _shown(what: str, fact: FactType) -> str:
    values: Mapping[str, str] = {
        "words": ", ".join(fact.kind.words or ()),
        "kind": str(fact.kind),
        "default": fact.default_text or ("none" if fact.default is None else str(fact.default)),
        "stated by": fact.stated_by,
        "measured with": fact.measured_with or "nothing stated",
        "uncertainty": "none" if fact.uncertainty is None else decimal_text(fact.uncertainty),
        "taken": fact.taken or "at any time",
        "several values": "allowed" if fact.several else "not allowed",
        "to": " or ".join(fact.precision),
    }
    return values[what]


# --- words and families ----------------------------------------------------------------------------------------


def _words_of(clause: Clause) -> frozenset[str]:
    """The words that a clause names, folded."""
    found: set[str] = set()
    for check in _checks(clause):
        for part in walk(check):
            fixed = getattr(getattr(part, "words", None), "fixed", ())
            found |= {fold(word) for word in fixed}
            if isinstance(part, Framed) and part.many is not None and part.many.category:
                found.add(fold(part.many.category))
            for _, expression in part.expressions():
                if expression.tree is not None:
                    found |= _texts(expression.tree)
    return frozenset(found)


def _texts(tree: Tree) -> set[str]:
    return {
        fold(tree.quoted(node))
        for node in ast.walk(tree.body)
        if isinstance(node, ast.Constant) and isinstance(node.value, str)
    }


def _kin(tree: WordTree, word: str) -> list[str]:
    """The words that belong to a word, without itself."""
    return [other for other in tree.words if fold(other) != fold(word) and tree.belongs(other, word)]


def _list_kind(clause: Clause) -> str | None:
    """The one kind of list that a clause is made of; None where it is made of more."""
    kinds = {check.kind for check in walk(clause.check)}
    return kinds.pop() if len(kinds) == 1 and kinds <= set(_LISTS) else None


def _more_is_tighter(clause: Clause) -> bool:
    """Whether a larger family makes the clause harder to meet: it does for a ban, not for what may or must be used."""
    return _list_kind(clause) == "banned"
