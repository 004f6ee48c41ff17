"""What clauses rest on and is not what it was: tables, derived values, fields, facts."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from fractions import Fraction
from typing import Any

from checker.car.described.vocabulary import FactType
from checker.kinds.comparing.changes import compare_moving, compare_words
from checker.kinds.comparing.meaning import same_meaning
from checker.pack.model import Pack
from checker.quantities.display import decimal_text, show
from checker.reading.quick_dataclasses import dataclass
from checker.studies.change.table_changes import CellChange, table_changes


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


def everything_moved(old: Pack, new: Pack) -> list[Moved]:
    """All that stands in both packs under one name and is not the same."""
    return [*_tables(old, new), *_derived(old, new), *_facts(old, new)]


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
        decimal_text(s) if cell.unit is None else show(s, cell.unit.step) for s in (sizes[0], sizes[-1])
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
    for name in new.document.mapping(("lists",)):
        before, after = (pack.document.mapping(("lists", name, "fields")) for pack in (old, new))
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
        for name, fact in its.fields.items():
            was = earlier.fields.get(name) if earlier is not None else None
            if was is not None and (words := fact_changes(was, fact)):
                yield Moved(f"{list_name}.{name}", tuple(f"{name} of {list_name}: {one}" for one in words))


def fact_changes(old: FactType, new: FactType) -> list[str]:
    """What is judged otherwise of a fact; its range and its help text are no rules."""
    return [
        f"{what} {shown(old)} becomes {shown(new)}" for what, of, shown in _OF_A_FACT if of(old) != of(new)
    ]


_OF_A_FACT: tuple[tuple[str, Callable[[FactType], object], Callable[[FactType], str]], ...] = (
    ("words", lambda one: one.kind.words, lambda one: ", ".join(one.kind.words or ())),
    ("kind", lambda one: (one.kind.name, one.kind.dimension), lambda one: str(one.kind)),
    ("default", lambda one: one.default, lambda one: one.default_text or _none_or(one.default, str)),
    ("stated by", lambda one: one.stated_by, lambda one: one.stated_by),
    ("measured with", lambda one: one.measured_with, lambda one: one.measured_with or "nothing stated"),
    ("uncertainty", lambda one: one.uncertainty, lambda one: _none_or(one.uncertainty, decimal_text)),
    ("taken", lambda one: one.taken, lambda one: one.taken or "at any time"),
    ("several values", lambda one: one.several, lambda one: "allowed" if one.several else "not allowed"),
    ("readings", lambda one: one.readings, lambda one: str(one.readings or "any number")),
    ("to", lambda one: one.precision, lambda one: " or ".join(one.precision)),
)
"""What is said of a fact, and how it is shown."""


def _none_or(value: Any, shown: Callable[[Any], str]) -> str:
    return "none" if value is None else shown(value)
