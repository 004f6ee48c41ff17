"""A file's text, and where in it a character stands.

While reading, places are kept as plain offsets into the text, because that is all that a fast reader
can afford. Lines and columns are worked out only for the few places that are ever shown.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Hashable, Sequence
from typing import Any

from checker.reading.patterns import pattern
from checker.reading.problems import Span

_LINE_END = pattern(r"\r\n|\n|\r")


class FileText:
    """The text of one file. `name` is the file's name as the user gave it."""

    __slots__ = ("_first_line", "_line_starts", "_lines", "name", "read", "sha256", "text")

    def __init__(self, name: str, text: str, sha256: str, first_line: int = 1) -> None:
        """Args:
        first_line: Where it begins, of a file of which it is a part.
        """
        self.name = name
        self._first_line = first_line
        self.text = text
        self.sha256 = sha256
        self._line_starts: Sequence[int] | None = None
        self._lines: dict[int, str] = {}
        self.read: dict[Hashable, Any] = {}
        """What was read of its parts, for edited copies that have the same parts: see `FileReader.once`."""

    def span(self, start: int, end: int) -> Span:
        """The stretch from offset `start` up to `end`, in characters from 0."""
        line, column = self._place(start)
        end_line, end_column = self._place(end)
        above = self._first_line - 1
        return Span(self.name, line + above, column, end_line + above, end_column, self._line(line))

    def _starts(self) -> Sequence[int]:
        if self._line_starts is None:
            self._line_starts = [0, *(found.end() for found in _LINE_END.finditer(self.text))]
        return self._line_starts

    def _place(self, offset: int) -> tuple[int, int]:
        starts = self._starts()
        line = bisect_right(starts, offset)
        return line, offset - starts[line - 1] + 1

    def _line(self, line: int) -> str:
        """One string per line, shared by its spans: a file may be one long line with many mistakes."""
        if line not in self._lines:
            starts = self._starts()
            end = starts[line] if line < len(starts) else len(self.text)
            self._lines[line] = self.text[starts[line - 1] : end].rstrip("\r\n")
        return self._lines[line]
