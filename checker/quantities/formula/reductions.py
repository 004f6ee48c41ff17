"""What several values come to beside their sum, as the middle one; and the order of entries by a field."""

from __future__ import annotations

import ast
from collections import Counter
from collections.abc import Callable, Sequence
from fractions import Fraction
from typing import Any

from checker.quantities.folding import fold
from checker.quantities.formula.agreement import described, grade_order
from checker.quantities.formula.compiler import Compiler
from checker.quantities.formula.families import below, may_be, not_known
from checker.quantities.formula.scope import Entries, Field, WordTree
from checker.quantities.kind import Kind, Unknown, lacking, unite
from checker.quantities.reason import NoValue

NEIGHBOURS = "neighbours"

Known = list[tuple[Any, int]]
"""Known values, each with how often it stands."""


def in_full(known: Known) -> list[Any]:
    """Every value as often as it stands."""
    return [value for value, standing in known for _ in range(standing)]


def median(known: Known) -> Any:
    """The middle value; of an even number the mean of the two in the middle (common practice, no source)."""
    values = sorted(in_full(known))
    if not values:
        return Unknown.because(NoValue.NONE_TO_TAKE_OF, "median")
    half = len(values) // 2
    return values[half] if len(values) % 2 else (values[half - 1] + values[half]) / 2


def nth_from(kind: Kind, place: int, *, greatest: bool) -> Callable[[Known], Any]:
    """The value so many places from the greatest, or from the least; equal values each take a place."""
    order = grade_order(kind) if kind.name == "grade" else None

    def pick(known: Known) -> object:
        values = sorted(in_full(known), key=order, reverse=greatest)
        if place > len(values):
            return Unknown.because(NoValue.FEWER_VALUES, len(values), place)
        return values[place - 1]

    return pick


def different(kind: Kind, tree: WordTree | None) -> Callable[[Known], object]:
    """How many different values there are; unknown where two words may mean the same.

    A family stated twice may mean two things; of an entry with `count: 2` it is stated once, for both are alike.
    """

    def count(known: Known) -> object:
        if not kind.is_word:
            return Fraction(len({value for value, _ in known}))
        words = {fold(value): value for value, _ in known}
        if tree is not None:
            doubts = [not_known(tree, one) for one in words.values() if tree.canonical(one) is None]
            for one in words.values():
                others = [other for other in words.values() if other != one]
                doubts += [may_be(one, meant)] if (meant := below(tree, one, others)) else []
            stated = Counter(fold(value) for value, _ in known)
            doubts += [
                may_be(w, tree.meant(w)) for key, w in words.items() if stated[key] > 1 and tree.meant(w)
            ]
            if doubts:
                return unite(doubts)
        return Fraction(len(words))

    return count


def ordering_field(compiler: Compiler, node: ast.expr, entries: Entries) -> Field:
    """The field that entries are to be ordered by, named as it stands in the list (`at.behind_front_axle` too)."""
    field = field_named(compiler, node, entries)
    if not (field.kind.is_measure or field.kind.name == "date"):
        raise compiler.refused(node, 302, f"{described(field.kind)} puts nothing in order")
    return field


def field_named(compiler: Compiler, node: ast.expr, entries: Entries) -> Field:
    """The field of a list that stands for itself, not for its value."""
    parts: list[str] = []
    part = node
    while isinstance(part, ast.Attribute):
        parts.insert(0, compiler.tree.name(part))
        part = part.value
    if not isinstance(part, ast.Name):
        raise compiler.refused(node, 302, f"this is no field of {entries.name}", "name one, without brackets")
    return compiler.field(node, entries, ".".join((compiler.tree.name(part), *parts)))


def in_order(
    scene: Any, found: Sequence[Any], read: Callable[[Any, Any], Any]
) -> tuple[object, ...] | Unknown:
    """Entries by the value of a field, the least first; equal ones stay as declared. Unknown where any value is."""
    keyed = [(read(scene, entry), entry) for entry in found]
    unknown = lacking(key for key, _ in keyed)
    return unknown or tuple(entry for _, entry in sorted(keyed, key=lambda pair: pair[0]))
