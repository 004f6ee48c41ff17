"""From what stands in the fields back to what the car's file is to say.

A field that still shows what the file says leaves it as it is written, and so does one that was not sent; so what was
not typed does not change.
"""

from __future__ import annotations

from collections.abc import Iterable
from itertools import chain, count

from checker.pages.form.filling import (
    below,
    entry_of,
    filled_in,
    keys_of,
    order_of,
    parts_of,
    way_held,
    way_of,
)
from checker.pages.form.inputs import DROP, KEY, NONE, WAY, Filled, one_of, shown, taken
from checker.pages.form.parts import CarForm, Either, Group, Growing, Input, Part
from checker.reading.problems import Path
from checker.reading.quick_dataclasses import dataclass, field
from checker.reading.values import Plain


@dataclass(slots=True)
class Told:
    """What the form tells."""

    data: dict[str, Plain]
    names: dict[Path, str] = field(default_factory=dict)
    """By the path of each part of the data: the name of its field, or of its group."""


def told_by(form: CarForm, data: Plain, filled: Filled) -> Told:
    """What the file is to say.

    Args:
        data: What it says.
        filled: What stands in the fields; those that are not there leave what the file says.
    """
    before = data if isinstance(data, dict) else {}
    taking = _Taking(filled)
    after = taking.mapping(form.root, before, "", (), 0)
    if "formula" not in after:
        after = {"formula": form.formula, **after}
    return Told(after, taking.names)


class _Taking:
    """Puts together what the fields tell."""

    def __init__(self, filled: Filled) -> None:
        self.filled = filled
        self.names: dict[Path, str] = {}

    def part(self, part: Part, before: Plain, name: str, path: Path, deep: int) -> Plain:
        """What one part tells; None for nothing."""
        if isinstance(part, Input):
            return self._input(part, before, name)
        if before is not None and filled_in(part, before, name, deep) is None:
            return before  # not for a form to say
        if isinstance(part, Either):
            held = way_held(part, before, name, deep) or 0
            told = one_of(self.filled, name + WAY)
            at = int(told) if told in map(str, range(len(part.ways))) else held
            return self.part(part.ways[at][1], before if at == held else None, way_of(name, at), path, deep)
        if isinstance(part, Growing):
            return self._entries(part, before, name, path, deep)
        after = self.mapping(part, before if isinstance(before, dict) else {}, name, path, deep)
        return (after or None) if after or before != {} else before

    def _input(self, part: Input, before: Plain, name: str) -> Plain:
        if name not in self.filled:
            return before
        was = shown(part, before, name)
        if was is None:
            was, empty = {}, taken(part, self.filled, name) is None
            if empty:
                return before
        if taken(part, self.filled, name) == taken(part, was, name) and before is not None:
            return before
        return taken(part, self.filled, name)

    def mapping(
        self, part: Group, before: dict[str, Plain], name: str, path: Path, deep: int
    ) -> dict[str, Plain]:
        """What the parts of a group tell together."""
        after = dict(before)
        gone = set(self.filled.get(name + DROP, ()))
        after = {key: value for key, value in after.items() if key not in gone}
        for one in part.parts:
            here = below(name, one.key)
            own = [key for key in keys_of(one) if key in after]
            key = own[0] if own else one.key
            to = self._key(one, key, here)
            value = self.part(one, after.get(key), here, (*path, to), deep)
            empty = value is None and not (key in before and before[key] is None and self._is_untouched(here))
            self.names.setdefault((*path, to), here)  # one of several ways bears a name of its own
            if empty:
                after.pop(key, None)
            elif to == key:
                after[key] = value
            else:
                after = _renamed(after, key, to, value)
        self.names[path] = name
        return after

    def _key(self, part: Part, key: str, name: str) -> str:
        if not isinstance(part, Input) or not part.keys:
            return key
        wanted = one_of(self.filled, name + KEY)
        return wanted if wanted in keys_of(part) else key

    def _is_untouched(self, name: str) -> bool:
        """Whether nothing stands in the field, or any field of the part."""
        return not any(
            any(texts)
            for one, texts in self.filled.items()
            if one == name or (one.startswith((f"{name}.", f"{name}[", f"{name}~")) and "|" not in one)
        )

    def _entries(self, part: Growing, before: Plain, name: str, path: Path, deep: int) -> Plain:
        if order_of(name) not in self.filled:
            return before
        known: list[tuple[str, Plain]] = []
        if isinstance(before, dict):
            known = list(before.items())
        elif isinstance(before, list):
            known = [("", value) for value in before]
        group = Group("", "", parts_of(part, deep))
        found: list[tuple[str, Plain]] = []
        for position in _positions(self.filled[order_of(name)]):
            here = entry_of(name, position)
            label, value = known[position] if position < len(known) else ("", None)
            if part.named:
                label = _unused(one_of(self.filled, here + KEY) or label, part, found)
            to: str | int = label if part.named else len(found)
            entry = self.mapping(group, value if isinstance(value, dict) else {}, here, (*path, to), deep + 1)
            if entry or one_of(self.filled, here + KEY) or position < len(known):
                found.append((label, value if value is None and not entry else entry))
        self.names[path] = name
        if part.named:
            return dict(found) or ({} if before == {} else None)
        if not found:
            return [] if one_of(self.filled, name + NONE) else None
        return [entry for _, entry in found]


def _positions(texts: Iterable[str]) -> list[int]:
    numbers = [int(text) for text in texts if text.isascii() and text.isdigit() and len(text) < 7]
    return list(dict.fromkeys(numbers))


def _unused(label: str, part: Growing, found: Iterable[tuple[str, Plain]]) -> str:
    """A name of its own for an entry that bears none, or another's."""
    taken = {name for name, _ in found}
    names = chain(
        [label] if label else [], (f"{label or part.one} {number}" for number in count(1 + bool(label)))
    )
    return next(name for name in names if name not in taken)


def _renamed(mapping: dict[str, Plain], old: str, new: str, value: Plain) -> dict[str, Plain]:
    """The mapping with one key by another name, at its place."""
    if old not in mapping:
        return {**mapping, new: value}
    return {(new if key == old else key): (value if key == old else one) for key, one in mapping.items()}
