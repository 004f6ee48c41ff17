"""Anchors (`&name`) and aliases (`*name`), kept within bounds.

A club may write a list once and repeat it. Nine lines of aliases of aliases can also stand for a billion
values, or for a list inside itself; so it is counted what an alias stands for before it is used.
"""

from __future__ import annotations

from typing import Final

from checker.reading.marks import Mark
from checker.reading.patterns import pattern
from checker.reading.pitfalls import Fault
from checker.reading.plain_text import shortened
from checker.reading.quick_dataclasses import dataclass
from checker.reading.values import DEEPEST, Plain

_PROPERTY: Final = pattern(r"[&!][^\s,\[\]{}]*|\s|#[^\r\n]*")
"""An anchor, a tag, a blank or a comment."""
MOST_REPEATED: Final = 10_000
"""Values that all aliases of a file may stand for together."""


@dataclass(slots=True)
class Anchor:
    """A value with a name."""

    start: int
    """Offset of the `&`."""
    nodes: int = 0
    """Values in it, itself included."""
    data: Plain = None
    mark: Mark | None = None
    """None while the value is being read."""


def refusal(
    anchor: Anchor | None, name: str, start: int, end: int, repeated: int, levels_above: int
) -> Fault | None:
    """Why the `*name` from `start` to `end` cannot be used, or None.

    Args:
        anchor: What the name stands for; None if nothing above has it.
        repeated: Values that the aliases before this one stand for.
        levels_above: Lists and mappings round the alias.
    """
    name = shortened(name)
    if anchor is None:
        hint = "Text that begins with '*' goes in quotes."
        return Fault(f"there is no '&{name}' above", start, end, hint, "115")
    if anchor.mark is None:
        return Fault(f"'*{name}' stands inside what it repeats", start, end, number="115")
    if repeated + anchor.nodes > MOST_REPEATED:
        message = f"the aliases of this file stand for more than {MOST_REPEATED} values"
        return Fault(message, start, end, number="115", is_last=True)
    if levels_above + _height(anchor.data) > DEEPEST:
        message = f"what '*{name}' stands for is nested more than {DEEPEST} levels deep here"
        return Fault(message, start, end, number="117")
    return None


def _height(data: Plain) -> int:
    """Levels of lists and mappings in `data`; 0 for a scalar."""
    if isinstance(data, dict | list):
        return 1 + max(map(_height, data.values() if isinstance(data, dict) else data), default=0)
    return 0


def skip_properties(text: str, start: int, end: int) -> tuple[int, tuple[int, int] | None]:
    """Where a value begins after the anchor and tag at `start`, and where the tag stands.

    `end` is where the value ends; for a collection, where its first line does not yet end it will do.
    """
    at, tag = start, None
    while at < end and (found := _PROPERTY.match(text, at)):
        at = found.end()
        if found[0][0] == "!":
            tag = found.span()
    return at, tag
