"""What a clause looks at.

So only the clauses that a change can touch are judged again, and a report can say whether officials measured what a
clause rests on or took the entrant's word for it.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping

from checker.car.car import Car
from checker.car.described.standard import STRUCTURE, standard_facts
from checker.car.described.stated import DECLARED, READINGS, Stated
from checker.car.described.vocabulary import Vocabulary
from checker.pack.model import Pack
from checker.reading.values import Plain

WEIGHTS = "weight"
"""Stands for everything that is worked out from a weighing."""

MEASURED, PARTLY, DECLARED_ONLY, NOT_STATED = (
    "measured",
    "partly measured",
    "declared, not verified",
    "not stated",
)
"""On whose word a clause rests: officials', both's, the entrant's, nobody's."""

_WEIGHING_SECTIONS = ("weight", "percentage")
_WEIGHED_BY = frozenset(
    {name.partition(".")[0] for name in standard_facts()} | set(STRUCTURE) | {"ballast"}
) - {"car"}


def on_weights(pack: Pack) -> frozenset[str]:
    """The clauses that a weighing bears on."""
    return frozenset(
        number
        for number, clause in pack.clauses.items()
        if any(name.partition(".")[0] in _WEIGHING_SECTIONS for name in clause.looks_at)
    )


def clauses_that_follow(
    pack: Pack, looked_at: Mapping[str, frozenset[str]], changed: Collection[str]
) -> set[str]:
    """Clauses that a change of these names can touch, with those that they set aside."""
    touched = {
        number for number, names in looked_at.items() if any(_touches(name, changed) for name in names)
    }
    return touched | {replaced for number in touched for replaced in pack.clauses[number].instead_of}


def _touches(name: str, changed: Collection[str]) -> bool:
    first = name.partition(".")[0]
    if first in _WEIGHING_SECTIONS:
        return WEIGHTS in changed
    return name in changed or first in changed


def changed_names(
    before: Mapping[str, Plain], after: Mapping[str, Plain], vocabulary: Vocabulary
) -> set[str]:
    """What differs between two readings of a car, whose declaration, pack and gear are the same.

    Args:
        before: Readings as plain data, see `checker.meeting.session.readings`.
        after: The later ones.
        vocabulary: Of the pack.

    Returns:
        Facts by full name, lists, and `WEIGHTS` where anything changed that a weight may be worked out from: every
        section that is the same in all packs counts as such.
    """
    changed: set[str] = set()
    for section in before.keys() | after.keys():
        was, now = before.get(section), after.get(section)
        if was == now:
            continue
        if section in vocabulary.lists:
            changed.add(section)
        else:
            changed |= {
                f"{section}.{key}" for key in _keys(was) | _keys(now) if _at(was, key) != _at(now, key)
            }
        if section in _WEIGHED_BY:
            changed.add(WEIGHTS)
    return changed


def may_weigh(fact: str) -> bool:
    """Whether a weight may be worked out from a fact."""
    return fact.partition(".")[0] in _WEIGHED_BY


def _keys(section: object) -> set[str]:
    return set(section) if isinstance(section, dict) else set()


def _at(section: object, key: str) -> object:
    return section.get(key) if isinstance(section, dict) else None


def verified(names: frozenset[str], car: Car, *, seen: bool) -> str:
    """On whose word a clause that looks at these names rests; what an official has seen to be as declared counts."""
    origins = {origin for name in names for origin in _origins(name, car)}
    if not origins:
        return NOT_STATED
    if seen or origins == {READINGS}:
        return MEASURED
    return DECLARED_ONLY if READINGS not in origins else PARTLY


def _origins(name: str, car: Car) -> Iterator[str]:
    """Who stated what stands under a name: defaults, and the day of the meeting, are nobody's word."""
    first, _, rest = name.partition(".")
    found: list[Stated] = []
    if first in _WEIGHING_SECTIONS:
        found = [load for reading in car.weighing.readings for load in reading.loads.values()]
    elif name in car.vocabulary.facts:
        found = [car.facts[name]] if name in car.facts and name != "event.date" else []
    elif first in car.vocabulary.lists:
        entries = car.every_entry(first)
        if not rest:
            yield from (DECLARED for _ in entries[:1])
        found = [entry.fields[rest] for entry in entries if rest in entry.fields]
    yield from (stated.origin for stated in found if stated.origin in (DECLARED, READINGS))
