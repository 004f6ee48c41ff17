"""Plain data that still knows where each of its parts was written.

A document is ordinary dicts, lists and scalars, and beside them a tree of marks. Rules never see the
marks; only a message that must point somewhere asks for a place. A document that was read quickly has its marks
made then, by reading its text again.

Data is shared between a document, its edited copies and the aliases in it: treat it as read-only.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, Sequence
from enum import Enum
from fractions import Fraction
from typing import Any, Final

from checker.reading.edits import REMOVE, CannotEditError, Edit, apply
from checker.reading.marks import Children, Elsewhere, Mark, end_of, find, is_position
from checker.reading.problems import InputError, Path, Problem, Span
from checker.reading.source import FileText
from checker.reading.values import Plain, text_of_number

__all__ = ["REMOVE", "Document", "Edit", "Plain"]

COMMAND_LINE: Final = "--set"
"""The "file" of a value that stands in no file."""


class _Absent(Enum):
    ABSENT = "absent"


class Document:
    """One file as plain data, with the place of every part of it."""

    __slots__ = (
        *("_known_mark", "_make_mark", "_sketch", "_source"),
        *("data", "edited_sections", "name", "sha256", "text"),
    )

    def __init__(self, source: FileText, data: Plain, mark: Mark | Callable[[], Mark]) -> None:
        """Args:
        mark: The marks, or what makes them when a place is asked for.
        """
        self._source = source
        self.name, self.text, self.sha256 = source.name, source.text, source.sha256
        """As the user gave the first, without a byte order mark, and of the file's bytes in hex, also when edited."""
        self._known_mark: Mark | None = None if callable(mark) else mark
        self._make_mark: Callable[[], Mark] | None = mark if callable(mark) else None
        self._sketch: Mark | None = None
        self.data: Plain = data
        self.edited_sections: frozenset[str | int] = frozenset()
        """The keys at the top under which something was edited."""

    @property
    def _mark(self) -> Mark:
        if self._known_mark is None:
            assert self._make_mark is not None
            self._known_mark, self._make_mark = self._make_mark(), None
        return self._known_mark

    def __repr__(self) -> str:
        return f"Document({self.name!r})"

    # -- what it says --------------------------------------------------------------------------------

    def get(self, path: Path, default: Plain = None) -> Plain:
        """The value at `path`, or `default` where there is none."""
        value = self._look_up(path)
        return default if isinstance(value, _Absent) else value

    def has(self, path: Path) -> bool:
        """Whether something, be it null, stands at `path`."""
        return not isinstance(self._look_up(path), _Absent)

    def mapping(self, path: Path) -> dict[str, Plain]:
        """The mapping at `path`, else {}."""
        value = self._look_up(path)
        return value if isinstance(value, dict) else {}

    def _look_up(self, path: Path) -> Plain | _Absent:
        value = self.data
        for part in path:
            if isinstance(value, dict):
                if part not in value:
                    return _Absent.ABSENT
                value = value[part]
            elif isinstance(value, list) and is_position(part) and part < len(value):
                value = value[part]
            else:
                return _Absent.ABSENT
        return value

    def part(self, path: Path) -> tuple[object, object, dict[Hashable, Any]] | None:
        """What stands at `path`, its marks, and what is kept with the file; None where the file does not have it.

        Where two documents of one file have the very same two, they say the same there, and in the same place. Marks
        that have not been made are stood in for by the text, where nothing was edited.
        """
        if self._known_mark is None:
            edited = not path or path[0] in self.edited_sections
            return None if edited else (self.get(path), self._source, self._source.read)
        mark, rest, _ = find(self._mark, path)
        return None if rest or isinstance(mark, Elsewhere) else (self.get(path), mark, self._source.read)

    def file_at(self, path: Path) -> str:
        """The name of the file in which the value at `path` is written: of an edited one that of its edit."""
        if not self.edited_sections or (path and path[0] not in self.edited_sections):
            return self.name
        mark, rest, _ = find(self._marks_of_edits(), path)
        return mark.document.file_at(mark.path + rest) if isinstance(mark, Elsewhere) else self.name

    # -- where it says it ----------------------------------------------------------------------------

    def span(self, path: Path) -> Span:
        """The place of the value at `path`, or of the nearest part above it that the file has."""
        mark, rest, _ = find(self._mark, path)
        if isinstance(mark, Elsewhere):
            return mark.document.span(mark.path + rest)
        return self._source.span(mark[0], end_of(self.text, *mark))

    def key_span(self, path: Path) -> Span:
        """The place of the key that names the last part of `path`.

        An entry of a list has no key: then the entry itself. Where the file does not have the path, the
        nearest part above it.
        """
        mark, rest, key = find(self._mark, path)
        if key is not None and not rest:
            return self._source.span(*key)
        if isinstance(mark, Elsewhere):
            return mark.document.key_span(mark.path + rest)
        return self.span(path)

    def extent(self, path: Path) -> tuple[int, int] | None:
        """Offsets in the text of the value at `path`; None where the file does not hold it."""
        mark, rest, _ = find(self._mark, path)
        if isinstance(mark, Elsewhere) or rest:
            return None
        return mark[0], end_of(self.text, *mark)

    def written(self, path: Path) -> str:
        """The scalar at `path` exactly as in the file, quotes included; "" where there is none."""
        number = text_of_number(self.get(path)) if self._known_mark is None else None
        if number is not None and self._sketch is None:
            return number
        mark, rest, _ = find(self._mark if number is None else self._marks_of_edits(), path)
        if isinstance(mark, Elsewhere):
            return mark.document.written(mark.path + rest)
        return "" if rest or mark[2] is not None else self.text[mark[0] : mark[1]]

    def number_text(self, value: Plain) -> str | None:
        """How a number of this document is written, where the number itself tells that."""
        return text_of_number(value) if self._known_mark is None and not self.edited_sections else None

    def is_plain(self, path: Path) -> bool:
        """Whether a scalar stands at `path` and is written without quotes (or `|`, `>`)."""
        mark, rest, _ = find(self._mark, path)
        if isinstance(mark, Elsewhere):
            return mark.document.is_plain(mark.path + rest)
        return not rest and mark[2] is None and self._is_plain(mark[0], mark[1])

    def _is_plain(self, start: int, end: int) -> bool:
        return self.name == COMMAND_LINE or not self.text.startswith(('"', "'", "|", ">"), start, end)

    def span_within(self, path: Path, start: int, end: int) -> Span:
        """The place of characters `start` up to `end` (from 0) of the text at `path`.

        Exact where the scalar stands on one line and is plain or quoted without escapes. Elsewhere
        columns do not map, and the place is the first character of the scalar.
        """
        mark, rest, _ = find(self._mark, path)
        if isinstance(mark, Elsewhere):
            return mark.document.span_within(mark.path + rest, start, end)
        if rest or mark[2] is not None:
            return self.span(path)
        first, last, _ = mark
        if not self._is_plain(first, last):
            quote, first, last = self.text[first], first + 1, last - 1
            escape = {"'": "'", '"': "\\"}.get(quote)
            if escape is None or escape in self.text[first:last]:
                return self._source.span(first - 1, first)
        if "\n" in self.text[first:last] or "\r" in self.text[first:last]:
            return self._source.span(mark[0], mark[0] + 1)
        start = min(max(start, 0), last - first)
        end = min(max(end, start), last - first)
        return self._source.span(first + start, first + end)

    # -- edited copies -------------------------------------------------------------------------------

    def edited(self, changes: Sequence[Edit], code: str) -> Document:
        """A copy with these paths set or taken away, in the order given; this document stays as it is.

        Setting makes the mappings that are missing on the way; a position one past the end of a list appends.

        Raises:
            InputError: With `code`, for each change that leads through a scalar, names an entry that a list
                does not have, or takes away what is not there.
        """
        later = self._known_mark is None and all(change.path for change in changes)
        data, mark = self.data, Elsewhere(self, ()) if later else self._mark
        problems = []
        origins = [Elsewhere(one.source or _typed(one), one.source_path) for one in changes]
        for change, origin in zip(changes, origins, strict=True):
            try:
                data, mark = apply(data, mark, change, origin)
            except CannotEditError as error:
                problems.append(Problem(code, str(error), origin.document.key_span(origin.path)))
        if problems:
            raise InputError(problems)
        if later:
            edited = Document(self._source, data, lambda: _marks(self.data, self._mark, changes, origins))
            edited._sketch = mark
        else:
            edited = Document(self._source, data, mark)
        edited.edited_sections = self.edited_sections.union(one.path[0] for one in changes if one.path)
        return edited

    def _marks_of_edits(self) -> Mark:
        """The marks; where they have not been made, those of the edits alone, with all else in what was edited."""
        return self._sketch if self._known_mark is None and self._sketch is not None else self._mark


def _marks(data: Plain, mark: Mark, changes: Sequence[Edit], origins: Sequence[Elsewhere]) -> Mark:
    """The marks of what was edited, by those of what it was before."""
    for change, origin in zip(changes, origins, strict=True):
        data, mark = apply(data, mark, change, origin)
    return mark


def _typed(change: Edit) -> Document:
    """A value from the command line, as a document whose text is the value."""
    value = change.value
    if isinstance(value, str):
        text = value
    elif isinstance(value, Fraction):
        text = str(value)
    elif change.value is REMOVE:
        text = ""
    else:
        import json

        text = json.dumps(value, ensure_ascii=False, default=str)
    children: Children | None = {} if isinstance(value, dict) else [] if isinstance(value, list) else None
    return Document(FileText(COMMAND_LINE, text, ""), None, (0, len(text), children))
