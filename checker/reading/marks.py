"""Marks: a tree beside the data, of the same shape, that holds where each part was written.

A mark is a plain tuple of offsets, because one is made for every value of every file that is read, and
almost none is ever looked at.
"""

from __future__ import annotations

from typing import NamedTuple, Protocol, TypeGuard

from checker.reading.problems import Path, Span
from checker.reading.quick_dataclasses import dataclass


class Places(Protocol):
    """A document, as far as another may point into it."""

    def span(self, path: Path) -> Span: ...

    def key_span(self, path: Path) -> Span: ...

    def file_at(self, path: Path) -> str: ...

    def written(self, path: Path) -> str: ...

    def is_plain(self, path: Path) -> bool: ...

    def span_within(self, path: Path, start: int, end: int) -> Span: ...


Children = dict[str, "KeyMark"] | list["Mark"]
"""The marks of what is inside a mapping or a list."""


@dataclass(frozen=True, slots=True)
class Elsewhere:
    """A part that an edit put in: its place is that of `path` in another document."""

    document: Places
    path: Path
    children: Children | None = None
    """The marks inside, where a further edit made them differ from those of the other document."""


class Whereabouts(NamedTuple):
    """Where something stands in a document; which lines these are is worked out when somebody asks."""

    document: Places
    path: Path

    @property
    def span(self) -> Span:
        return self.document.span(self.path)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Whereabouts) and self.span == other.span

    def __hash__(self) -> int:
        return hash(self.span)


def span_of(place: Whereabouts | Span | None) -> Span | None:
    """The stretch of a file, where there is one."""
    return place.span if isinstance(place, Whereabouts) else place


Here = tuple[int, int, Children | None]
"""Start and end offset of a value in this file, and its children's marks (None for a scalar)."""

Mark = Here | Elsewhere

KeyMark = tuple[int, int, Mark]
"""Start and end offset of a key (-1 where an edit made it), and the mark of its value."""


def children_of(mark: Mark) -> Children | None:
    """What is known here of the marks inside; for an `Elsewhere` often nothing."""
    return mark.children if isinstance(mark, Elsewhere) else mark[2]


def find(mark: Mark, path: Path) -> tuple[Mark, Path, tuple[int, int] | None]:
    """Go along `path` as far as the marks lead.

    Returns:
        The mark where the way ended, what is left of the path, and the offsets of the key that led to it
        (None for a list's entry, the root, and a key that no file has).
    """
    key: tuple[int, int] | None = None
    for index, part in enumerate(path):
        children = children_of(mark)
        if isinstance(children, dict) and isinstance(part, str) and part in children:
            key_start, key_end, mark = children[part]
            key = (key_start, key_end) if key_start >= 0 else None
        elif isinstance(children, list) and is_position(part) and part < len(children):
            mark, key = children[part], None
        else:
            return mark, path[index:], None
    return mark, (), key


def end_of(text: str, start: int, end: int, children: Children | None) -> int:
    """Where a value really ends.

    libyaml ends a collection without brackets at the token after it, often lines below; its last child
    tells better.
    """
    if not children or text[start : start + 1] in ("[", "{"):
        return end
    key_end: int
    last: Mark
    if isinstance(children, dict):
        _, key_end, last = children[next(reversed(children))]
    else:
        key_end, last = start, children[-1]
    if isinstance(last, Elsewhere):
        return end
    last_start, last_end, inside = last
    return max(key_end, end_of(text, last_start, last_end, inside))


def is_position(part: object) -> TypeGuard[int]:
    """Whether a part of a path is a position in a list: a whole number, 0 or more, and no truth."""
    return isinstance(part, int) and not isinstance(part, bool) and part >= 0
