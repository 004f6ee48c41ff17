"""Edited copies: "this car with 150 kg on the front left".

An edit copies only the mappings and lists on the way to what it changes; everything else is shared with
the original. Marks are exchanged along with the data, so that a mistake in a new value is shown where that
value was written (a test case, the command line) and not in the file that was edited.
"""

from __future__ import annotations

from enum import Enum
from typing import Final, TypeVar

from checker.reading.marks import Elsewhere, KeyMark, Mark, Places, children_of, is_position
from checker.reading.paths import format_path
from checker.reading.problems import Path
from checker.reading.quick_dataclasses import dataclass
from checker.reading.values import Plain

V = TypeVar("V")


class Remove(Enum):
    """The type of `REMOVE`."""

    REMOVE = "remove"


REMOVE: Final = Remove.REMOVE
"""Stands for "take this path away"."""


@dataclass(frozen=True, slots=True)
class Edit:
    """One edit: put `value` at `path`, or take the path away with `REMOVE`."""

    path: Path
    value: Plain | Remove
    source: Places | None = None
    """The file that asks for the change; None for the command line."""
    source_path: Path = ()
    """Where in `source` the value stands."""
    after: str = ""
    """The key of the same mapping that a new key is to follow; else it comes last."""


class CannotEditError(Exception):
    """A change that does not fit the data; its text is fit for a user."""


def apply(data: Plain, mark: Mark, change: Edit, origin: Elsewhere, depth: int = 0) -> tuple[Plain, Mark]:
    """Data and mark with one change made; the arguments stay as they are.

    Args:
        data, mark: What stands at the first `depth` parts of the change's path.
        origin: Where the new value was written.

    Raises:
        CannotEditError: The path leads through a scalar or past a list's end, or there is nothing to remove.
    """
    if depth == len(change.path):
        if isinstance(change.value, Remove):
            raise CannotEditError("the whole file cannot be taken away")
        return change.value, origin
    part = change.path[depth]
    if data is None and not isinstance(change.value, Remove):
        data = [] if isinstance(part, int) else {}
    if isinstance(data, dict) and isinstance(part, str):
        return _in_mapping(data, mark, change, origin, depth, part)
    if isinstance(data, list) and is_position(part):
        return _in_list(data, mark, change, origin, depth, part)
    here = format_path(change.path[:depth]) or "the file"
    if isinstance(data, list):
        raise CannotEditError(f"{here} is a list: a position such as [0] comes after it, not {part!r}")
    if isinstance(data, dict):
        raise CannotEditError(f"{here} is a mapping: a key comes after it, not [{part}]")
    raise CannotEditError(f"{here} is a single value: nothing inside it can be changed")


def _in_mapping(
    data: dict[str, Plain], mark: Mark, change: Edit, origin: Elsewhere, depth: int, key: str
) -> tuple[Plain, Mark]:
    entries = dict(data)
    marks = _marks_of_mapping(data, mark)
    if isinstance(change.value, Remove) and key not in data:
        raise CannotEditError(f"there is no {format_path(change.path[: depth + 1])} to take away")
    if isinstance(change.value, Remove) and depth + 1 == len(change.path):
        del entries[key], marks[key]
    else:
        start, end, inner = marks.get(key, (-1, -1, origin))
        entries[key], inner = apply(data.get(key), inner, change, origin, depth + 1)
        marks[key] = (start, end, inner)
        if key not in data and change.after in data and depth + 1 == len(change.path):
            entries, marks = _following(entries, key, change.after), _following(marks, key, change.after)
    return entries, _with_children(mark, marks)


def _following(mapping: dict[str, V], key: str, place: str) -> dict[str, V]:
    """The mapping with its last key moved to stand behind another."""
    moved = mapping.pop(key)
    found: dict[str, V] = {}
    for other, value in mapping.items():
        found[other] = value
        if other == place:
            found[key] = moved
    return found


def _in_list(
    data: list[Plain], mark: Mark, change: Edit, origin: Elsewhere, depth: int, position: int
) -> tuple[Plain, Mark]:
    entries = list(data)
    marks = _marks_of_list(data, mark)
    here = format_path(change.path[:depth]) or "the file"
    removes = isinstance(change.value, Remove)
    inside = len(data) > 0 and depth + 1 < len(change.path)
    if position > len(data) or (position == len(data) and (removes or inside)):
        many = "entry" if len(data) == 1 else "entries"
        held = f"has {len(data)} {many}, counted from [0]" if data else "is empty"
        whole = "{...}" if not data or isinstance(data[-1], dict) else "..."
        cure = "" if removes else f"; to add one, give it whole: {here}[{len(data)}]={whole}"
        raise CannotEditError(f"there is no {here}[{position}]: {here} {held}{cure}")
    if removes and depth + 1 == len(change.path):
        del entries[position], marks[position]
    elif position == len(data):
        value, inner = apply(None, origin, change, origin, depth + 1)
        entries.append(value)
        marks.append(inner)
    else:
        entries[position], marks[position] = apply(data[position], marks[position], change, origin, depth + 1)
    return entries, _with_children(mark, marks)


def _marks_of_mapping(data: dict[str, Plain], mark: Mark) -> dict[str, KeyMark]:
    """A copy of the marks in a mapping, with every key; made up where only another document knows them."""
    known = children_of(mark)
    if isinstance(known, dict):
        return dict(known)
    if isinstance(mark, Elsewhere):
        return {key: (-1, -1, Elsewhere(mark.document, (*mark.path, key))) for key in data}
    return {}  # an empty value, which the edit makes a mapping


def _marks_of_list(data: list[Plain], mark: Mark) -> list[Mark]:
    known = children_of(mark)
    if isinstance(known, list):
        return list(known)
    if isinstance(mark, Elsewhere):
        return [Elsewhere(mark.document, (*mark.path, position)) for position in range(len(data))]
    return []


def _with_children(mark: Mark, marks: dict[str, KeyMark] | list[Mark]) -> Mark:
    if isinstance(mark, Elsewhere):
        return Elsewhere(mark.document, mark.path, marks)
    return mark[0], mark[1], marks
