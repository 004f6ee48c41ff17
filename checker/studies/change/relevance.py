"""Which clauses of two packs may be judged otherwise, so that a fleet need not be judged by the others.

Judging is what takes time, and a bulletin changes a clause or two of sixty. A clause is left out only when it is
certain that both packs give the same: its own text of rules is the same data, and so is everything that it
rests on. Where that is in doubt, it is judged.
"""

from __future__ import annotations

from collections.abc import Iterator

from checker.kinds.contract.check import walk
from checker.kinds.frame.framed import Framed
from checker.pack.model import Pack
from checker.reading.document import Plain
from checker.studies.change.pairing import Pair, paired

_WORDS_ONLY = ("title", "text", "consequence", "interpretation", "formerly", "penalty")
"""Keys of a clause that never bear on its outcome, margin or act."""

_OF_EVERYTHING = ("course", "currency", "tyre_sets", "conditions", "decision", "defaults", "instruments")
"""Sections that any clause may rest on without naming them; the trees of words are another such."""

_OF_READING = ("course", "currency", "tyre_sets", "conditions", "instruments", "lists")
"""Sections that decide how a declaration is read, beside facts and gear."""

_OF_WEIGHTS = ("dimensions", "fuel", "driver", "tyres", "wear", "weighing")
"""First parts of the facts that weights in another state than the weighed one rest on."""

_GEAR = "gear"
"""Section of what is taken for granted of a weighing: no fact or list is called so without a dot."""


def may_differ(old: Pack, new: Pack) -> tuple[Pair, ...]:
    """The clauses that the two packs may judge otherwise; for all others they certainly give the same."""
    alike = alike_unless_approved(old, new)
    approved = {number for pack in (old, new) for one in pack.approvals or () for number in one.clauses}
    return tuple(
        pair
        for pair in paired(old, new)
        if pair not in alike or pair.old != pair.new or pair.number in approved
    )


def alike_unless_approved(old: Pack, new: Pack) -> frozenset[Pair]:
    """The clauses that the two packs certainly judge alike where a car cites no approval, if under other numbers."""
    if not _same_sections(old, new, _OF_EVERYTHING) or not _same_words(old, new):
        return frozenset()
    changed = frozenset(_changed_names(old, new))
    return frozenset(pair for pair in paired(old, new) if _alike(old, new, pair, changed))


def same_vocabulary(old: Pack, new: Pack) -> bool:
    """Whether a declaration read with one pack's words serves for both; fields that are worked out may rest on more."""
    return _same_sections(old, new, ("facts", "gear")) and alike_but_facts(old, new)


def alike_but_facts(old: Pack, new: Pack) -> bool:
    """Whether the words of both packs differ in facts and in what is taken for granted of a weighing alone."""
    if not _same_sections(old, new, _OF_READING) or not _same_words(old, new):
        return False
    fields = (field for entries in new.scope.entries.values() for field in entries.fields.values())
    names = frozenset().union(*(field.uses for field in fields if field.expression is not None))
    return names.isdisjoint(_changed_names(old, new))


def _same_sections(old: Pack, new: Pack, names: tuple[str, ...]) -> bool:
    return all(old.document.get((name,)) == new.document.get((name,)) for name in names)


def _same_words(old: Pack, new: Pack) -> bool:
    """Whether materials and categories are the same, also those that stand in a file of their own."""
    before, after = old.vocabulary, new.vocabulary
    return before.materials.same_as(after.materials) and before.categories.same_as(after.categories)


def _alike(old: Pack, new: Pack, pair: Pair, changed: frozenset[str]) -> bool:
    if pair.old is None or pair.new is None or _rules(old, pair.old) != _rules(new, pair.new):
        return False
    return all(
        not _set_aside(pack, number) and changed.isdisjoint(_rests_on(pack, number))
        for pack, number in ((old, pair.old), (new, pair.new))
    )


def _set_aside(pack: Pack, number: str) -> bool:
    """Whether another clause may take this one's place: then it depends on that one too."""
    return any(number in clause.instead_of for clause in pack.clauses.values())


def _rules(pack: Pack, number: str) -> Plain:
    given = pack.document.get(("clauses", number))
    if not isinstance(given, dict):
        return given
    return {key: value for key, value in given.items() if key not in _WORDS_ONLY}


def _changed_names(old: Pack, new: Pack) -> Iterator[str]:
    """Full names of facts, lists, fields, tables and derived values that the two packs do not describe alike."""
    if not _same_sections(old, new, (_GEAR,)):
        yield _GEAR
    for section in ("facts", "tables", "derived", "lists"):
        before, after = (pack.document.mapping((section,)) for pack in (old, new))
        for name in {*before, *after}:
            if before.get(name) == after.get(name):
                continue
            if section != "lists":
                yield name
                continue
            fields = [_fields(description.get(name)) for description in (before, after)]
            yield from (
                f"{name}.{f}" for f in {*fields[0], *fields[1]} if fields[0].get(f) != fields[1].get(f)
            )
            if _but_fields(before.get(name)) != _but_fields(after.get(name)):
                yield name


def _fields(description: Plain) -> dict[str, Plain]:
    fields = description.get("fields") if isinstance(description, dict) else None
    return fields if isinstance(fields, dict) else {}


def _but_fields(description: Plain) -> Plain:
    if not isinstance(description, dict):
        return None
    return {key: value for key, value in description.items() if key != "fields"} or None


def _rests_on(pack: Pack, number: str) -> frozenset[str]:
    """Names of everything that a clause looks at."""
    clause = pack.clauses[number]
    names = set(clause.judged_by).union(*(entry.by.uses for entry in clause.earlier))
    parts = (part for check in clause.checks for part in walk(check))
    names |= {part.many.list_name for part in parts if isinstance(part, Framed) and part.many}
    if any(name.partition(".")[0] in ("weight", "percentage") for name in names):
        names |= {name for name in pack.vocabulary.facts if name.partition(".")[0] in _OF_WEIGHTS}
        names.add(_GEAR)
    return frozenset(
        names | {name.partition(".")[0] for name in names if name.partition(".")[0] in pack.vocabulary.lists}
    )
