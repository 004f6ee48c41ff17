"""Stands at a document of one known shape while it is read, and notes what is wrong under one code.

Every reader goes on after a mistake, so that an author learns of all of them at once.
"""

from __future__ import annotations

from typing import Any

from checker.reading.document import Document
from checker.reading.nearest import did_you_mean
from checker.reading.problems import Path, Problems


class FileReader:
    """Looks at the parts of one document.

    Args:
        document: What is read.
        code: Of every problem, e.g. "MT250".
    """

    def __init__(self, document: Document, code: str) -> None:
        self.document = document
        self.problems = Problems()
        self._code = code

    def note(self, path: Path, message: str, hint: str = "") -> None:
        """Note a problem of the value at `path`."""
        self.problems.add(self._code, message, self.document.span(path), hint=hint)

    def mapping(self, path: Path, known: tuple[str, ...] | None) -> dict[str, Any]:
        """The mapping at `path`; {}, with a problem noted, for anything else. None: its keys are names of its own."""
        data = self.document.get(path)
        if not isinstance(data, dict):
            self.note(path, f"{path[-1] if path else 'the file'} needs names and values")
            return {}
        for key in data:
            if known is not None and key not in known:
                hint = did_you_mean(key, known) or f"known here: {', '.join(known)}"
                span = self.document.key_span((*path, key))
                self.problems.add(self._code, f"'{key}' is not known here", span, hint=hint)
        return data

    def listed(self, path: Path) -> list[Any]:
        """The list at `path`; [], with a problem noted, for anything else."""
        data = self.document.get(path)
        if isinstance(data, list):
            return data
        self.note(path, f"`{path[-1]}` needs a list", "put it in [ ]")
        return []

    def text(self, path: Path) -> str:
        """The text at `path`; "", with a problem noted, for anything else and for blanks."""
        data = self.document.get(path)
        if isinstance(data, str) and data.strip():
            return data
        self.note(path, f"`{path[-1]}` needs a text", "put it in quotes")
        return ""

    def word(self, path: Path, words: tuple[str, ...]) -> str:
        """One of these words; the first of them, with a problem noted, for anything else."""
        data = self.document.get(path)
        if data in words:
            return str(data)
        hint = did_you_mean(str(data), words) or f"one of: {', '.join(words)}"
        self.note(path, f"'{data}' is not known here", hint)
        return words[0]

    def count(self, path: Path, least: int) -> int:
        """A whole number of `least` or more; `least`, with a problem noted, for anything else."""
        data = self.document.get(path)
        if isinstance(data, int) and not isinstance(data, bool) and data >= least:
            return data
        self.note(path, f"`{path[-1]}` needs a whole number of {least} or more")
        return least
