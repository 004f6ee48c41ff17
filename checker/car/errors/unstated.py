"""Readings of whose error nobody says anything.

A margin that rests on one of them is known no better than that reading is, whatever is stated of the others. So each
is named, and nobody is told how probable it is that such a clause is met.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator

from checker.car.car import Car
from checker.car.described.standard import AXLES
from checker.car.described.stated import ACROSS, ALONG, DEFAULT, FROM_REAR, Stated
from checker.car.described.vocabulary import ORGANISER
from checker.quantities.dimension import MONEY

LOADS, FLOOR = "weighing.readings", "weighing.floor"
HEIGHTS = "weighing.floor.pad_height"
"""How far single pads stand out of the plane of the others: single wheels and the cross weight follow that."""

_PAIRS = {"total", *AXLES, "left", "right", "inside", "outside"}


def unstated(car: Car, names: Collection[str], entries: Collection[str]) -> tuple[str, ...]:
    """The readings among these names that have no stated error, by their full names, in order.

    Args:
        names: Of facts, parts of the structure, fields ("ballast.mass"), weights and percentages.
        entries: Paths of the entries that a check is made for; a field counts in these, or in all of a list that is
            named as a whole.
    """
    weights = {name.partition(".")[2] for name in names if name.startswith(("weight.", "percentage."))}
    shares = any(name.startswith("percentage.") for name in names)
    found = {name for name in names if _is_unstated(car, name, names, entries)}
    if weights:
        found.update(_of_weighing(car, shares or weights != {"total"}))
    floor = car.weighing.floor
    if not weights <= _PAIRS and not (floor.pad_height_mm and floor.stiffness_kg_per_mm):
        found.add(HEIGHTS)
    return tuple(sorted(found))


def places_aside(names: Collection[str]) -> set[str]:
    """Those of the names behind a car's weights that its total may rest on: no place and no lever moves that."""
    return {name for name in names if not name.startswith("dimensions.") and not name.endswith(_OF_LEVERS)}


_OF_LEVERS = (*(key.removeprefix("at") for key in (ALONG, FROM_REAR, ACROSS)), ".section", ".radius")


def _of_weighing(car: Car, by_parts: bool) -> Iterator[str]:
    gear = car.gear
    if gear is None or not gear.tells_error:
        yield LOADS
    if gear is None and by_parts:
        yield FLOOR


def _is_unstated(car: Car, name: str, names: Collection[str], entries: Collection[str]) -> bool:
    stated = car.stated(name)
    if stated is not None:
        fact = car.vocabulary.facts.get(name)
        return (fact is None or fact.stated_by != ORGANISER) and _lacks_error(car, stated)
    list_name, _, field = name.partition(".")
    return any(
        (own := entry.stated(field)) is not None and _lacks_error(car, own)
        for entry in car.every_entry(list_name)
        if list_name in names or entry.path in entries
    )


def _lacks_error(car: Car, stated: Stated) -> bool:
    """Whether it was measured, and nothing says how well. Counts, prices and days are not measured."""
    if stated.origin == DEFAULT or stated.uncertainty is not None or stated.unit is None:
        return False
    kind = stated.unit.kind
    if kind.name not in ("quantity", "percent") or kind.dimension == MONEY:
        return False
    gear = car.instrument(stated.instrument)
    return gear is None or not gear.tells_error
