"""Ballast in free pieces: where a car's file tells of places for it alone, and of nothing that may be done besides."""

from __future__ import annotations

from fractions import Fraction

from checker.car.car import Car
from checker.car.described.planning import Planning, ShelfPiece
from checker.car.described.stated import Entry
from checker.reading.quick_dataclasses import replace

STEP_KG = Fraction(1, 2)
MOST_KG = Fraction(100)
LABEL = "ballast"
"""Of pieces that are nobody's yet."""


def with_free_ballast(car: Car, planning: Planning) -> Planning:
    """The same, with pieces of any multiple of half a kilogram for its places, where nothing else may be done."""
    if planning or not planning.places:
        return planning
    of_places = {key for place in planning.places for key in place.fields}
    like = alike(car)
    fields = {} if like is None else like.fields
    own = {key: stated for key, stated in fields.items() if key not in (*of_places, "label", "mass", "count")}
    own = {key: stated for key, stated in own.items() if not key.startswith("at.")}
    return replace(planning, shelf=(ShelfPiece(LABEL, own, STEP_KG, int(MOST_KG / STEP_KG), is_stock=True),))


def is_free(planning: Planning) -> bool:
    return any(piece.label == LABEL and piece.span is None for piece in planning.shelf)


def alike(car: Car) -> Entry | None:
    """The ballast on the car that further ballast is taken to be like: the first of it."""
    return next(iter(car.every_entry("ballast")), None)
