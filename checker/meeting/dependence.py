"""What a clause looks at.

So only the clauses that a change can touch are judged again, and a report can say whether officials measured what a
clause rests on or took the entrant's word for it.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from typing import Any

from checker.car.car import Car
from checker.car.stated import DECLARED, READINGS, Entry, Stated
from checker.kinds.shared.check import uses
from checker.pack.model import Clause, Pack, Penalty

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
_MODEL = ("dimensions", "fuel", "driver", "tyres", "wear", "weighing")
"""Sections that weights in another state than the weighed one are worked out from."""


def looks_at(clause: Clause) -> frozenset[str]:
    """Full names of every fact, list, field and weight that bears on a clause."""
    names = uses(clause.check)
    for earlier in clause.earlier:
        names |= earlier.by.uses
        if earlier.check is not None:
            names |= uses(earlier.check)
    if isinstance(clause.penalty, Penalty):
        names |= clause.penalty.amount.uses
    return names


def clauses_that_follow(
    pack: Pack, looked_at: Mapping[str, frozenset[str]], changed: Collection[str]
) -> set[str]:
    """Clauses that a change of these names can touch, with those that set them aside or are set aside by them."""
    touched = {
        number for number, names in looked_at.items() if any(_touches(name, changed) for name in names)
    }
    while True:
        related = {
            number
            for number, clause in pack.clauses.items()
            if (number in touched or touched & set(clause.instead_of))
        } | {replaced for number in touched for replaced in pack.clauses[number].instead_of}
        if related <= touched:
            return touched
        touched |= related


def _touches(name: str, changed: Collection[str]) -> bool:
    first = name.partition(".")[0]
    if first in _WEIGHING_SECTIONS:
        return WEIGHTS in changed
    return name in changed or first in changed


def changed_names(before: Car, after: Car) -> set[str] | None:
    """Facts by full name, lists, and `WEIGHTS`, that differ between two versions of a car; None: too much to tell."""
    if before.sha256 != after.sha256 or before.instruments != after.instruments:
        return None
    if before.approvals != after.approvals or before.tyre_sets != after.tyre_sets:
        return None
    changed: set[str] = set()
    for name in before.facts.keys() | after.facts.keys():
        if _said(before.facts.get(name)) != _said(after.facts.get(name)):
            changed.add(name)
    if {n: _said(s) for n, s in before.structure.items()} != {
        n: _said(s) for n, s in after.structure.items()
    }:
        changed.add(WEIGHTS)
    if _weighing(before) != _weighing(after) or any(name.partition(".")[0] in _MODEL for name in changed):
        changed.add(WEIGHTS)
    for name in after.vocabulary.lists:
        if (name in before.lists) != (name in after.lists) or _entries(before, name) != _entries(after, name):
            changed.add(name)
    return changed


def _said(stated: Stated | None) -> Any:
    if stated is None:
        return None
    return stated.value, stated.written, stated.unit, stated.instrument, stated.uncertainty


def _weighing(car: Car) -> Any:
    readings = [
        (reading.pads, {name: _said(load) for name, load in reading.loads.items()})
        for reading in car.weighing.readings
    ]
    return car.weighing.instrument, readings


def _entries(car: Car, name: str) -> Any:
    return [
        (e.label, e.path, e.count, e.parent.path if e.parent else "", _fields(e), _place(e))
        for e in car.every_entry(name)
    ]


def _fields(entry: Entry) -> Any:
    return {name: _said(stated) for name, stated in entry.fields.items()}


def _place(entry: Entry) -> Any:
    place = entry.place
    return None if place is None else (_said(place.behind_front_axle), _said(place.left_of_centre))


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
