"""Changes of what no clause speaks of by itself: what entrants declare, gear, how values near a limit are decided."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping

from checker.car.described.vocabulary import Condition, FactType, Instrument
from checker.kinds.comparing.changes import compare_words
from checker.kinds.comparing.meaning import same_meaning
from checker.pack.model import Pack
from checker.quantities.display import decimal_text
from checker.studies.change.foundation_changes import fact_changes
from checker.studies.change.table_changes import table_changes

Told = tuple[str, str, tuple[str, ...]]
"""Of which part, how it changed (added, withdrawn, changed), and in words."""


def section_changes(old: Pack, new: Pack, told: Collection[str]) -> Iterator[Told]:
    """Every change outside the clauses.

    Args:
        old, new: The two packs.
        told: Names that clauses have spoken of already.
    """
    yield from _head(old, new)
    yield from _facts("facts", old.vocabulary.facts, new.vocabulary.facts, told)
    for name in dict.fromkeys([*old.vocabulary.lists, *new.vocabulary.lists]):
        before, after = old.vocabulary.lists.get(name), new.vocabulary.lists.get(name)
        if before is not None and after is not None:
            yield from _facts(f"lists.{name}", before.fields, after.fields, told, f"{name}.")
        else:
            yield f"lists.{name}", "added" if before is None else "withdrawn", ()
    yield from _instruments(old.vocabulary.instruments, new.vocabulary.instruments)
    yield from _conditions(old.vocabulary.conditions, new.vocabulary.conditions)
    yield from _worked_out(old, new, told)
    yield from _words(old, new, told)


def _head(old: Pack, new: Pack) -> Iterator[Told]:
    for part, before, after in (
        ("course", old.vocabulary.course, new.vocabulary.course),
        ("tyre_sets", *(", ".join(p.vocabulary.tyre_sets) or "left open" for p in (old, new))),
        ("currency", old.vocabulary.currency or "none", new.vocabulary.currency or "none"),
        ("decision.official", old.decision.official, new.decision.official),
        ("decision.confidence", *(f"{decimal_text(p.decision.confidence * 100)} %" for p in (old, new))),
    ):
        if before != after:
            yield part, "changed", (f"{before} becomes {after}",)


def _facts(
    section: str,
    old: Mapping[str, FactType],
    new: Mapping[str, FactType],
    told: Collection[str],
    prefix: str = "",
) -> Iterator[Told]:
    for name in dict.fromkeys([*old, *new]):
        part = f"{section}.{name}"
        if name not in old or name not in new:
            yield part, "added" if name not in old else "withdrawn", ()
            continue
        words = [] if f"{prefix}{name}" in told else fact_changes(old[name], new[name])
        if (old[name].low, old[name].high) != (new[name].low, new[name].high):
            words.append("the range that a slip of the pen falls out of is another")
        if words:
            yield part, "changed", tuple(words)


def _instruments(old: Mapping[str, Instrument], new: Mapping[str, Instrument]) -> Iterator[Told]:
    for name in dict.fromkeys([*old, *new]):
        before, after = old.get(name), new.get(name)
        if before is None or after is None:
            yield f"instruments.{name}", "added" if before is None else "withdrawn", ()
            continue
        words = [
            f"{what} is another"
            for what, same in (
                ("resolution", before.resolution == after.resolution),
                ("permissible error", before.permissible_error == after.permissible_error),
            )
            if not same
        ]
        if words:
            yield f"instruments.{name}", "changed", tuple(words)


def _conditions(old: Mapping[str, Condition], new: Mapping[str, Condition]) -> Iterator[Told]:
    """Clauses tell of conditions that they ask for; here stand those that came or went."""
    for name in dict.fromkeys([*old, *new]):
        if name not in old or name not in new:
            yield f"conditions.{name}", "added" if name not in old else "withdrawn", ()


def _worked_out(old: Pack, new: Pack, told: Collection[str]) -> Iterator[Told]:
    """Tables and derived values that no clause speaks of."""
    for name in dict.fromkeys([*old.derived, *new.derived]):
        before, after = old.derived.get(name), new.derived.get(name)
        if before is None or after is None:
            yield f"derived.{name}", "added" if before is None else "withdrawn", ()
        elif name not in told and not same_meaning(before.expression, after.expression):
            words = f"{before.expression.text} becomes {after.expression.text}"
            yield f"derived.{name}", "changed", (words,)
    for name in dict.fromkeys([*old.tables, *new.tables]):
        earlier, later = old.tables.get(name), new.tables.get(name)
        if earlier is None or later is None:
            yield f"tables.{name}", "added" if earlier is None else "withdrawn", ()
        elif name not in told:
            changes = table_changes(earlier, later, new.vocabulary.currency)
            if changes:
                yield f"tables.{name}", "changed", tuple(change.words for change in changes)
            elif changes is None and (earlier.rows != later.rows or earlier.keys != later.keys):
                yield f"tables.{name}", "changed", ("it is laid out anew",)


def _words(old: Pack, new: Pack, told: Collection[str]) -> Iterator[Told]:
    """Words that came or went; what they belong to is told by the clauses that name a family."""
    for section, what, before, after in (
        ("categories", "category", old.vocabulary.categories, new.vocabulary.categories),
        ("materials", "material", old.vocabulary.materials, new.vocabulary.materials),
    ):
        if any(name.startswith(f"{what} ") for name in told):
            continue
        found = compare_words(section, before.words, after.words, more_is_tighter=True)
        if found.change != "same":
            yield section, "changed", found.words
            continue
        moved = [
            word
            for word in after.words
            if {w.lower() for w in before.families(word)} != {w.lower() for w in after.families(word)}
        ]
        if moved:
            yield section, "changed", tuple(f"{word} belongs to another family" for word in moved)
