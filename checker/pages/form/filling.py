"""From what a car's file says to what stands in the fields of its form.

Each field is named by its place, `weighing.readings[0].front_left`; an entry of a list, and what stands under a name of
its own, by its position in the file. What no field can hold is left aside and kept as it is.
"""

from __future__ import annotations

from checker.pages.form.inputs import KEY, NONE, ORDER, WAY, Filled, shown
from checker.pages.form.parts import Either, Group, Growing, Input, Part
from checker.reading.quick_dataclasses import dataclass, field
from checker.reading.values import Plain

MOST_DEEP = 6
"""Levels of parts in parts that a form shows."""


@dataclass(slots=True)
class Filling:
    """A form with what stands in its fields."""

    filled: Filled = field(default_factory=dict)
    aside: dict[str, dict[str, Plain]] = field(default_factory=dict)
    """By the name of a group: what stands there that no field holds."""


def filled_in(part: Part, data: Plain, name: str = "", deep: int = 0) -> Filling | None:
    """What stands in the fields of a part for what the file says there; None where they cannot hold it."""
    if isinstance(part, Input):
        found = shown(part, data, name)
        return None if found is None else Filling(found)
    if isinstance(part, Either):
        return _either(part, data, name, deep)
    if data is None:
        return Filling({order_of(name): []} if isinstance(part, Growing) else {})
    if isinstance(part, Growing):
        return _entries(part, data, name, deep)
    return _mapping(part, data, name, deep)


def way_held(part: Either, data: Plain, name: str, deep: int) -> int | None:
    """Which of its ways tells what the file says there, all of it if one does; None where none does."""
    found = [filled_in(way, data, way_of(name, at), deep) for at, (_, way) in enumerate(part.ways)]
    whole = [at for at, one in enumerate(found) if one is not None and not one.aside]
    return next(iter([*whole, *(at for at, one in enumerate(found) if one is not None)]), None)


def way_of(name: str, at: int) -> str:
    """The name of what is told in one of several ways."""
    return f"{name}~{at}" if at else name


def order_of(name: str) -> str:
    """The field that tells the positions of a list's entries, in their order."""
    return name + ORDER


def below(name: str, key: str) -> str:
    """The name of a part of a group."""
    return f"{name}.{key}" if name else key


def entry_of(name: str, position: object) -> str:
    """The name of an entry of a list."""
    return f"{name}[{position}]"


def parts_of(part: Growing, deep: int) -> tuple[Part, ...]:
    """What an entry is made of, with the list of parts inside it."""
    if part.nested and deep < MOST_DEEP:
        inside = Growing("parts", "Parts inside it", part.entry, one="part", nested=True)
        return (*part.entry.parts, inside)
    return part.entry.parts


def keys_of(part: Part) -> tuple[str, ...]:
    """The keys that a part may stand under."""
    return tuple(key for key, _ in part.keys) if isinstance(part, Input) and part.keys else (part.key,)


def _either(part: Either, data: Plain, name: str, deep: int) -> Filling | None:
    held = way_held(part, data, name, deep)
    if held is None:
        return None
    sheet = Filling()
    for at, (_, way) in enumerate(part.ways):
        found = filled_in(way, data if at == held else None, way_of(name, at), deep)
        assert found is not None
        sheet.filled.update(found.filled)
        sheet.aside.update(found.aside)
    sheet.filled[name + WAY] = [str(held)]
    return sheet


def _mapping(part: Group, data: Plain, name: str, deep: int) -> Filling | None:
    if not isinstance(data, dict):
        return None
    sheet = Filling()
    left = dict(data)
    for one in part.parts:
        here = below(name, one.key)
        own = [key for key in keys_of(one) if key in data]
        key = own[0] if own else one.key
        found = filled_in(one, data.get(key), here, deep)
        if found is None:
            found = filled_in(one, None, here, deep)
        else:
            left.pop(key, None)
        assert found is not None
        if isinstance(one, Input) and one.keys:
            found.filled[here + KEY] = [key]
        sheet.filled.update(found.filled)
        sheet.aside.update(found.aside)
    if left:
        sheet.aside[name] = left
    return sheet


def _entries(part: Growing, data: Plain, name: str, deep: int) -> Filling | None:
    if not isinstance(data, dict if part.named else list):
        return None
    values = list(data.values()) if isinstance(data, dict) else data
    assert isinstance(values, list)
    sheet = Filling({order_of(name): [str(at) for at in range(len(values))]})
    if not values and not part.named:
        sheet.filled[name + NONE] = ["yes"]
    group = Group("", "", parts_of(part, deep))
    for at, value in enumerate(values):
        here = entry_of(name, at)
        found = _mapping(group, {} if value is None else value, here, deep + 1)
        if found is None:
            return None
        sheet.filled.update(found.filled)
        sheet.aside.update(found.aside)
        if isinstance(data, dict):
            sheet.filled[here + KEY] = [list(data)[at]]
    return sheet
