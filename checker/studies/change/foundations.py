"""What a clause rests on beside its own text, and which way a change of it goes.

A minimum weight that stands in a table changes with the table, though not a word of its clause does. Where a check is
built so that the way can be told, a risen cell tightens or relaxes; elsewhere it is only said that something changed.
"""

from __future__ import annotations

import ast
from collections.abc import Callable, Iterator

from checker.car.described.word_trees import Tree as WordTree
from checker.kinds.comparing.changes import compare_words
from checker.kinds.comparing.comparison import Comparison, together
from checker.kinds.comparing.monotonic import NOT_AT_ALL, RISES, Expand, Way, way
from checker.kinds.contract.check import Check, formulas, walk
from checker.kinds.frame.framed import Framed
from checker.pack.model import Clause, Pack
from checker.quantities.folding import fold
from checker.quantities.formula.expression import Expression
from checker.quantities.formula.grammar import FormulaTree
from checker.reading.quick_dataclasses import dataclass, field
from checker.studies.change.foundation_changes import Moved, everything_moved


@dataclass(slots=True)
class Foundations:
    """What changed beneath the clauses, between two packs."""

    old: Pack
    new: Pack
    moved: list[Moved] = field(default_factory=list)
    told: set[str] = field(default_factory=set)
    """Names of what some clause has spoken of."""

    def __post_init__(self) -> None:
        self.moved = everything_moved(self.old, self.new)

    def beneath(self, old: Clause, new: Clause) -> Comparison:
        """What a clause that stands in both packs owes to changes beneath it."""
        rests = new.judged_by & old.judged_by
        found = [self._effect(one, new) for one in self.moved if one.name in rests and _asks(new, one)]
        self.told |= {one.name for one in self.moved if one.name in rests}
        return together([*found, *self._families(old, new)])

    def _effect(self, moved: Moved, clause: Clause) -> Comparison:
        """Which way a change beneath goes for a clause."""
        checks = list(walk(clause.check))
        reversing = any(check.turns_margin for check in checks)
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
            tightens = _larger_family_tightens(new)
            for word in dict.fromkeys(w for w in after.words if fold(w) in named):
                if before.canonical(word) is None:
                    continue
                kin, now = _kin(before, word), _kin(after, word)
                found = compare_words(f"{what} {word}", kin, now, more_is_tighter=bool(tightens))
                if found.change != "same":
                    self.told.add(f"{what} {fold(word)}")
                    yield found if tightens is not None else Comparison("changed", found.words)


def _trees(clause: Clause) -> list[FormulaTree]:
    """Of every formula in its checks."""
    every = (formula.tree for check in clause.checks for formula in formulas(check))
    return [tree for tree in every if tree is not None]


def _asks(clause: Clause, moved: Moved) -> bool:
    """Whether a clause asks for the column that changed; where that cannot be told, it does."""
    if not moved.column or moved.column == "value":
        return True
    nodes = [(tree, node) for tree in _trees(clause) for node in ast.walk(tree.body)]
    if any(isinstance(node, ast.Attribute) and tree.name(node) == moved.column for tree, node in nodes):
        return True
    calls = any(isinstance(node, ast.Call) and tree.name(node.func) == moved.name for tree, node in nodes)
    return not calls and moved.name in clause.judged_by


# --- which way -------------------------------------------------------------------------------------------------


def _way(check: Check, moved: Moved, pack: Pack) -> tuple[str, str] | None:
    """tightened, relaxed or changed, and by how much; None where the check does not rest on it."""
    if moved.name not in frozenset().union(*(e.uses for _, e in check.expressions()), frozenset()):
        return None
    if isinstance(check, Framed):
        guards = [e for role, e in check.expressions() if role in ("when", "unless", "where")]
        return ("changed", "") if any(moved.name in e.uses for e in guards) else None
    if (moved.came or moved.went) and check.longer_list_tightens is not None:
        if moved.came and moved.went:
            return ("changed", "")
        return ("tightened" if bool(moved.came) == check.longer_list_tightens else "relaxed", "")
    found = None if moved.rises is None else check.moves_with(lambda e: _dependence(e, moved, pack))
    if found is None or found.sign == NOT_AT_ALL:
        return ("changed", "")
    margin_rises = (found.sign == RISES) == moved.rises
    return ("relaxed" if margin_rises else "tightened", moved.by if found.by_as_much else "")


def _dependence(expression: Expression, moved: Moved, pack: Pack) -> Way | None:
    """How a formula depends on what changed."""
    if moved.name not in expression.uses:
        return Way(NOT_AT_ALL)
    if expression.tree is None:
        return None
    found = way(expression.tree, expression.tree.body, _is(moved), _behind(moved, pack))
    return None if found == Way(NOT_AT_ALL) else found


def _is(moved: Moved) -> Callable[[FormulaTree, ast.AST], bool]:
    def part(tree: FormulaTree, node: ast.AST) -> bool:
        if moved.column and moved.column != "value":
            return isinstance(node, ast.Attribute) and tree.name(node) == moved.column
        if moved.column:
            return isinstance(node, ast.Call) and tree.name(node.func) == moved.name
        return isinstance(node, ast.Name) and tree.literal(node) is None and tree.name(node) == moved.name

    return part


def _behind(moved: Moved, pack: Pack) -> Expand:
    def expand(name: str) -> tuple[FormulaTree, ast.AST] | None:
        derived = pack.derived.get(name)
        if derived is None or name == moved.name or derived.expression.tree is None:
            return None
        return derived.expression.tree, derived.expression.tree.body

    return expand


# --- words and families ----------------------------------------------------------------------------------------


def _words_of(clause: Clause) -> frozenset[str]:
    """The words that a clause names, folded."""
    found: set[str] = set()
    for part in (part for check in clause.checks for part in walk(check)):
        found |= {fold(word) for word in part.words_named()}
        if isinstance(part, Framed) and part.many is not None and part.many.category:
            found.add(fold(part.many.category))
    for tree in _trees(clause):
        texts = (node for node in ast.walk(tree.body) if isinstance(node, ast.Constant))
        found |= {fold(tree.quoted(node)) for node in texts if isinstance(node.value, str)}
    return frozenset(found)


def _kin(tree: WordTree, word: str) -> list[str]:
    """The words that belong to a word, without itself."""
    return [other for other in tree.words if fold(other) != fold(word) and tree.belongs(other, word)]


def _larger_family_tightens(clause: Clause) -> bool | None:
    """Whether a larger family makes the clause harder to meet; None where its checks do not agree, or tell nothing."""
    found = {check.larger_family_tightens for check in walk(clause.check)}
    return found.pop() if len(found) == 1 else None
