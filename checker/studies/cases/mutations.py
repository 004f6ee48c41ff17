"""Every small thing that could be wrong in a pack, one at a time.

Bounds one step up and one down, strict for inclusive, a word out of a list, a guard taken away, a table's cell or edge
moved, a literal or a comparison in a formula. Each is an edit of the pack's plain data; `strength` asks whether any of
the pack's cases would notice it.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import Any

from checker.kinds.contract.check import Check
from checker.kinds.contract.slips import LeftOut, Misread, Opposite, OtherValue, Renamed, Slip, Stranger
from checker.kinds.frame.slips import frame_slips
from checker.kinds.reading.reader import FRAME_KEYS
from checker.pack.check_parts import parts_of, unframed
from checker.pack.model import Clause, Pack
from checker.reading.document import REMOVE, Document, Edit
from checker.reading.problems import Path, Span
from checker.reading.quick_dataclasses import dataclass
from checker.studies.cases.misprints import misprints, moved_number
from checker.studies.cases.table_mutations import table_mutations, value_text


@dataclass(frozen=True, slots=True)
class Mutation:
    """A pack with one thing changed."""

    words: str
    """What was changed, e.g. "at_most: 53.0 % as 53.1 %"."""
    span: Span
    """Of what was changed."""
    changes: tuple[Edit, ...]
    clauses: frozenset[str]
    """The clauses that may say something else now."""


def mutations_of(pack: Pack) -> Iterator[Mutation]:
    """Every mutation of a pack, clause by clause, then what clauses share."""
    for clause in pack.clauses.values():
        yield from _of_clause(pack, clause)
    yield from _of_shared(pack)


# --- clauses ---------------------------------------------------------------------------------------------------


def _of_clause(pack: Pack, clause: Clause) -> Iterator[Mutation]:
    document = pack.document
    here: Path = ("clauses", clause.number)
    touched = frozenset({clause.number})
    maker = _Maker(document, touched, pack.vocabulary.currency)
    for part in parts_of(clause):
        yield from _of_check(maker, part.check, part.path, pack)
    for key in ("since", "until"):
        yield from maker.moved((*here, key))
    for place in range(len(clause.earlier)):
        for key in ("before", "until"):
            yield from maker.moved((*here, "earlier", place, key))
        yield from maker.without((*here, "earlier", place), "the older check")
    if clause.instead_of:
        other = _Maker(document, touched | set(clause.instead_of), pack.vocabulary.currency)
        yield from other.without((*here, "instead_of"), "instead_of")


def _of_check(maker: _Maker, check: Check, path: Path, pack: Pack) -> Iterator[Mutation]:
    data = maker.document.get(path)
    for key, written in data.items() if isinstance(data, dict) else ():
        slips = frame_slips(key, written) if key in FRAME_KEYS else check.slips(key, written)
        for slip in slips:
            yield from _made(maker, path, slip, pack)


def _made(maker: _Maker, path: Path, slip: Slip, pack: Pack) -> Iterator[Mutation]:
    """What a slip in the check at a path makes of the pack."""
    match slip:
        case Misread(below):
            yield from maker.moved((*path, *below))
        case LeftOut(below, what):
            yield from maker.without((*path, *below), what)
        case OtherValue(below, other):
            yield maker.exchanged((*path, *below), other)
        case Renamed(key, other):
            yield maker.renamed(path, key, other)
        case Opposite(below):
            yield from maker.negated((*path, *below))
        case Stranger(below):
            at = (*path, *below)
            yield maker.exchanged(at, _stranger(str(maker.document.get(at)), pack))


def _stranger(word: str, pack: Pack) -> str:
    """Another word of the same tree that is no kin, or words that nothing has."""
    for tree in (pack.vocabulary.materials, pack.vocabulary.categories):
        if tree.canonical(word) is not None:
            for other in tree.words:
                if not tree.belongs(other, word) and not tree.belongs(word, other):
                    return other
    return f"not {word}"


# --- what clauses share ----------------------------------------------------------------------------------------


def _of_shared(pack: Pack) -> Iterator[Mutation]:
    document = pack.document
    users = _users(pack)
    currency = pack.vocabulary.currency
    yield from _of_conditions(pack)
    for name in pack.derived:
        if users.get(name):
            yield from _Maker(document, users[name], currency).formula(("derived", name, "formula"))
    lists = document.get(("lists",))
    for name, given in lists.items() if isinstance(lists, dict) else ():
        fields = given.get("fields") if isinstance(given, dict) else None
        for field, its in fields.items() if isinstance(fields, dict) else ():
            touched = users.get(f"{name}.{field}")
            if isinstance(its, dict) and "formula" in its and touched:
                path: Path = ("lists", name, "fields", field, "formula")
                yield from _Maker(document, touched, currency).formula(path)
    for table in pack.tables.values():
        touched = users.get(table.name)
        if touched:
            for words, span, changes in table_mutations(document, table):
                yield Mutation(words, span, changes, touched)


_TURNED = {"out": "aboard", "aboard": "out", "new": "worn", "worn": "new"}


def _of_conditions(pack: Pack) -> Iterator[Mutation]:
    """The conditions that the pack makes itself: an amount of fuel moved, a word turned, a part forgotten."""
    for name, given in pack.document.mapping(("conditions",)).items():
        touched = frozenset(
            number for number, clause in pack.clauses.items() if name in _conditions_of(clause)
        )
        maker = _Maker(pack.document, touched, pack.vocabulary.currency)
        for key, written in given.items() if isinstance(given, dict) and touched else ():
            path: Path = ("conditions", name, key)
            if key == "fuel":
                yield from maker.moved(path)
            elif isinstance(written, str) and written in _TURNED:
                yield maker.exchanged(path, _TURNED[written])
            yield from maker.without(path, key)


def _conditions_of(clause: Clause) -> frozenset[str]:
    """Names of the conditions that a clause asks for."""
    checks = (part.check for part in parts_of(clause))
    return frozenset(condition.name for check in checks for condition in check.conditions)


def _users(pack: Pack) -> dict[str, frozenset[str]]:
    """For each name the clauses that rest on it, directly or through other names."""
    found: dict[str, set[str]] = {}
    for clause in pack.clauses.values():
        names: set[str] = set()
        for part in parts_of(clause):
            inside = unframed(part.check)
            for check in {id(part.check): part.check, id(inside): inside}.values():
                for _, expression in check.expressions():
                    names |= expression.uses
        for entry in clause.earlier:
            names |= entry.by.uses
        for name in names:
            found.setdefault(name, set()).add(clause.number)
    return {name: frozenset(numbers) for name, numbers in found.items()}


# --- making them -----------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Maker:
    """Makes the mutations of one place after another."""

    document: Document
    clauses: frozenset[str]
    currency: str | None

    def _one(self, words: str, span: Span, *changes: Edit) -> Mutation:
        return Mutation(words, span, changes, self.clauses)

    def moved(self, path: Path) -> Iterator[Mutation]:
        """An amount, number, day or formula at `path` with its literals moved."""
        given = self.document.get(path)
        if isinstance(given, str):
            yield from self.formula(path)
        elif isinstance(given, bool):
            yield self.exchanged(path, not given)
        elif isinstance(given, (int, Fraction)):
            for changed in moved_number(given, self.document.written(path)):
                yield self.exchanged(path, changed)

    def formula(self, path: Path) -> Iterator[Mutation]:
        """The misprints of a formula."""
        given = self.document.get(path)
        if not isinstance(given, str):
            return
        for found in misprints(given, self.currency):
            span = self.document.span_within(path, found.start, found.end)
            yield self._one(f"{_key(path)}: {found.words}", span, Edit(path, found.text))

    def negated(self, path: Path) -> Iterator[Mutation]:
        given = self.document.get(path)
        if isinstance(given, str):
            opposite = Edit(path, f"not ({given})")
            yield self._one(f"{_key(path)}: the opposite", self.document.span(path), opposite)

    def without(self, path: Path, what: str) -> Iterator[Mutation]:
        """What stands at `path` taken away."""
        yield self._one(f"{_key(path)}: without {what}", self.document.span(path), Edit(path, REMOVE))

    def exchanged(self, path: Path, other: Any) -> Mutation:
        """Another value at `path`."""
        before = self.document.get(path)
        shown = before if isinstance(before, str) else self.document.written(path)
        words = f"{_key(path)}: {shown} as {value_text(other)}"
        return self._one(words, self.document.span(path), Edit(path, other))

    def renamed(self, path: Path, key: str, other: str) -> Mutation:
        """The same value under another key."""
        value = self.document.get((*path, key))
        span = self.document.key_span((*path, key))
        return self._one(f"{key} as {other}", span, Edit((*path, key), REMOVE), Edit((*path, other), value))


def _key(path: Path) -> str:
    """The nearest key above a place."""
    return next(str(part) for part in reversed(path) if isinstance(part, str))
