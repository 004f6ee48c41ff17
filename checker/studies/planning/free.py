"""Ballast in free pieces: where a car's file tells of places for it alone, and of nothing that may be done besides."""

from __future__ import annotations

from fractions import Fraction

from checker.car.car import Car
from checker.car.described.planning import Planning, ShelfPiece
from checker.car.described.stated import Entry, Stated
from checker.reading.quick_dataclasses import replace

STEP_KG = Fraction(1, 2)
MOST_KG = Fraction(100)
LABEL = "ballast"
"""Of pieces that are nobody's yet."""


def with_free_ballast(car: Car, planning: Planning) -> Planning:
    """The same, with pieces of any multiple of half a kilogram for its places, where nothing else may be done."""
    if planning or not planning.places:
        return planning
    free = ShelfPiece(LABEL, fields_alike(car, planning), STEP_KG, int(MOST_KG / STEP_KG), is_stock=True)
    return replace(planning, shelf=(free,))


def is_free(planning: Planning) -> bool:
    return any(piece.label == LABEL and piece.span is None for piece in planning.shelf)


def alike(car: Car) -> Entry | None:
    """The ballast on the car that further ballast is taken to be like: the first of it."""
    return next(iter(car.every_entry("ballast")), None)


def fields_alike(car: Car, planning: Planning) -> dict[str, Stated]:
    """What is stated of that, but for what its place and each piece say themselves."""
    like = alike(car)
    own = {"label", "mass", "count"}.union(*(place.fields for place in planning.places))
    fields = {} if like is None else like.fields
    return {key: told for key, told in fields.items() if key not in own and not key.startswith("at.")}
