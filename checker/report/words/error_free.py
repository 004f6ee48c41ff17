"""Readings that have no stated error, as a reader calls them."""

from __future__ import annotations

from collections.abc import Collection

from checker.car.errors.unstated import FLOOR, HEIGHTS, LOADS

_SECTIONS = {"wear": "wear", "tyres": "the tyres", "dimensions": "the dimensions", "fluids": "the fluids"}
_WORDS = {
    LOADS: "what the scales show",
    HEIGHTS: "the pads' heights (a millimetre under one of them moves single wheels and the cross weight: state"
    " pad_height and stiffness under weighing.floor)",
    FLOOR: "the floor",
    "weighing.fuel": "fuel on board",
    "fuel.unusable": "fuel that can't be drawn",
    "fuel.at": "the place of the fuel",
    "driver.at": "the place of the driver",
}


def error_free_words(names: Collection[str]) -> tuple[str, ...]:
    """Readings as a reader calls them: those of one section as one, e.g. "fuel on board", "wear"."""
    ordered = sorted(names, key=lambda name: (name not in (LOADS, FLOOR), name != "weighing.fuel", name))
    return tuple(dict.fromkeys(_called(name) for name in ordered))


def _called(name: str) -> str:
    section = name.partition(".")[0]
    for begins, words in _WORDS.items():
        if name.startswith(begins):
            return words
    return _SECTIONS.get(section) or name.replace("_", " ").replace(".", " ")
