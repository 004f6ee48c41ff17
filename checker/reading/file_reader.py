"""Stands at a document while it is read: looks at its parts, and notes what is wrong under the codes of its file.

Every reader goes on after a mistake, so that an author learns of all of them at once. What is wrong is stood in for by
something sound; what is absent is no mistake unless it is needed.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterable, Mapping, Sequence
from enum import Enum
from typing import Any, TypeVar

from checker.reading.document import Document
from checker.reading.nearest import did_you_mean
from checker.reading.paths import format_path
from checker.reading.problems import Path, Problems, Span
from checker.reading.quick_dataclasses import dataclass, field
from checker.reading.values import Plain

T = TypeVar("T")


class Mistake(Enum):
    """What may be wrong in any file; each kind of file has its own numbers for it."""

    UNKNOWN_KEY = "a key that is not known"
    SHAPE = "a mapping, a list or a single value was wanted"
    UNREADABLE = "an amount that cannot be read"
    UNIT = "no unit, or an unknown one"
    OTHER_KIND = "an amount of another dimension"
    WORD = "a word that is not among those allowed"
    DAY = "no day"
    BELOW_ZERO = "below zero, where that is not possible"
    TRUTH = "neither true nor false"


@dataclass(frozen=True, slots=True)
class Codes:
    """The codes of one kind of file: `prefix`, and a number for each mistake, which is `otherwise` if not given."""

    prefix: str
    otherwise: int
    numbers: Mapping[Mistake, int] = field(default_factory=dict)

    def of(self, what: Mistake | int) -> str:
        return f"{self.prefix}{what if isinstance(what, int) else self.numbers.get(what, self.otherwise)}"


@dataclass(slots=True)
class FileReader:
    """A document while it is read."""

    document: Document
    codes: Codes
    problems: Problems = field(default_factory=Problems)
    clause: str = ""
    """The clause that is being read, for problems."""

    # --- looking -------------------------------------------------------------------------------------------

    def get(self, *path: str | int) -> Plain:
        return self.document.get(path)

    def has(self, *path: str | int) -> bool:
        return self.document.has(path)

    def written(self, *path: str | int) -> str:
        """The scalar at `path` as text: without its quotes, a number as it is written."""
        value = self.get(*path)
        return value if isinstance(value, str) else self.document.written(path)

    def described(self, *path: str | int) -> str:
        """What stands at `path`, in words, a single value as it was typed."""
        data = self.get(*path)
        if isinstance(data, dict | list):
            return "a mapping" if isinstance(data, dict) else "a list"
        if data is None:
            return "nothing"
        if isinstance(data, bool):
            return "true" if data else "false"
        return f"the text {data!r}" if isinstance(data, str) else f"the number {self.written(*path) or data}"

    def once(
        self, path: Path, make: Callable[..., T], of: tuple[Any, ...], by: Sequence[object], also: Hashable
    ) -> T:
        """What is read of the part at a path: kept, where nothing was wrong with it, for edited copies with the same.

        Args:
            make: Reads it, by `of`; what it gives is not changed by anybody.
            by: What it rests on besides, told apart by being the same objects.
            also: The same, told apart by its value.
        """
        part = self.document.part(path)
        if part is None:
            return make(*of)
        data, mark, kept = part
        key = (make, path, id(data), id(mark), *map(id, by), also)
        found = kept.get(key)
        if found is None:
            before = self.problems.times
            made = make(*of)
            if self.problems.times > before:
                return made
            found = kept[key] = made, data, mark, by  # as long as they are kept no other object has their ids
        result: T = found[0]
        return result

    # --- problems ------------------------------------------------------------------------------------------

    def problem(
        self,
        what: Mistake | int,
        message: str,
        *path: str | int,
        hint: str = "",
        within: tuple[int, int] | None = None,
        related: tuple[tuple[str, Span], ...] = (),
        warning: bool = False,
    ) -> None:
        """Note a problem of the value at `path`, or of a stretch within its text."""
        span = self.document.span_within(path, *within) if within else self.document.span(path)
        code = self.codes.of(what)
        self.problems.add(
            code, message, span, hint=hint, clause=self.clause, related=related, warning=warning
        )

    def key_problem(self, what: Mistake | int, message: str, *path: str | int, hint: str = "") -> None:
        """Note a problem of the key that names the last part of `path`."""
        span = self.document.key_span(path)
        self.problems.add(self.codes.of(what), message, span, hint=hint, clause=self.clause)

    def not_wanted(self, what: Mistake | int, wanted: str, *path: str | int, hint: str = "") -> None:
        """Note that something else stands at `path` than what was wanted."""
        message = f"{name_of(path)} holds {self.described(*path)}; {wanted} was wanted"
        self.problem(what, message, *path, hint=hint)

    def known_keys(self, known: Iterable[str], *path: str | int, what: str, filled: bool = False) -> bool:
        """Whether the mapping at `path` has no keys but these; strangers are noted with the nearest that is known.

        Args:
            filled: Something is to be written for each.
        """
        data, known = self.document.mapping(path), tuple(known)
        strangers = [key for key in data if key not in known]
        for key in strangers:
            hint = did_you_mean(key, known) or f"known here: {', '.join(known)}"
            if any(c in key for c in "()[]'\"*/+ ") and data[key] is None:
                hint = "a comma inside { } ends a value: put it in quotes, or write it on several lines"
            self.key_problem(Mistake.UNKNOWN_KEY, f"'{key}' is not a key of {what}", *path, key, hint=hint)
        empty = [key for key in data if data[key] is None] if filled else []
        for key in empty:
            self.key_problem(Mistake.SHAPE, f"nothing is written for {name_of((*path, key))}", *path, key)
        return not strangers and not empty

    # --- values --------------------------------------------------------------------------------------------

    def mapping(self, *path: str | int, wanted: str = "a mapping", needed: bool = False) -> dict[str, Plain]:
        """The mapping at `path`, else {}."""
        data = self.get(*path)
        if isinstance(data, dict):
            return data
        self._wanted(path, wanted, needed)
        return {}

    def filled(self, *path: str | int, wanted: str) -> dict[str, Plain]:
        """The mapping at `path`, which is needed and not to be empty, else {}."""
        data = self.mapping(*path, wanted=wanted, needed=True)
        if self.get(*path) == {}:
            self.not_wanted(Mistake.SHAPE, wanted, *path)
        return data

    def listed(
        self, *path: str | int, wanted: str = "a list", needed: bool = False, hint: str = ""
    ) -> list[Plain]:
        """The list at `path`, else []."""
        data = self.get(*path)
        if isinstance(data, list):
            return data
        self._wanted(path, wanted, needed, hint or "begin it with a dash, or put it in [ ]")
        return []

    def text(self, *path: str | int, needed: bool = False) -> str:
        """The text at `path`, else ""; a text that is needed is not blank."""
        data = self.get(*path)
        if isinstance(data, str) and (data.strip() or not needed):
            return data
        self._wanted(path, "text", needed, "put it in quotes")
        return ""

    def texts(self, *path: str | int, hint: str = "") -> tuple[str, ...]:
        """The texts in the list at `path`, none of them blank."""
        return tuple(self.text(*path, at, needed=True) for at in range(len(self.listed(*path, hint=hint))))

    def word(self, words: Sequence[str], *path: str | int, default: str | None = None) -> str:
        """One of these words; where none stands at `path` the default, which is the first if not given."""
        data = self.get(*path)
        if data in words:
            return str(data)
        if self.has(*path):
            message = f"`{path[-1]}` is {' or '.join(words)}; here stands {self.described(*path)}"
            self.problem(Mistake.WORD, message, *path, hint=did_you_mean(str(data), words))
        return words[0] if default is None else default

    def truth(self, *path: str | int) -> bool:
        """True or false; false where none stands at `path`."""
        data = self.get(*path)
        if self.has(*path) and not isinstance(data, bool):
            message = f"`{path[-1]}` is true or false; here stands {self.described(*path)}"
            self.problem(Mistake.TRUTH, message, *path)
        return data is True

    def count(self, least: int, *path: str | int) -> int:
        """A whole number of `least` or more; `least` where none stands at `path`."""
        data = self.get(*path)
        if isinstance(data, int) and not isinstance(data, bool) and data >= least:
            return data
        if self.has(*path):
            wanted = f"a whole number of {least} or more"
            message = f"`{path[-1]}` needs {wanted}; here stands {self.described(*path)}"
            self.problem(Mistake.SHAPE, message, *path)
        return least

    def parsed(
        self,
        parse: Callable[[str], T],
        what: Mistake | int,
        noun: str,
        *path: str | int,
        hint: str = "",
        needed: bool = False,
    ) -> T | None:
        """The text at `path` as `parse` reads it; None where there is none, or a ValueError was noted."""
        if not self.has(*path) and not needed:
            return None
        data = self.get(*path)
        try:
            if not isinstance(data, str):
                raise ValueError(f"{noun} was wanted; here stands {self.described(*path)}")
            return parse(data)
        except ValueError as error:
            self.problem(what, f"{name_of(path)}: {error}", *path, hint=hint)
            return None

    def _wanted(self, path: Path, wanted: str, needed: bool, hint: str = "") -> None:
        if self.get(*path) is not None or needed:
            self.not_wanted(Mistake.SHAPE, wanted, *path, hint=hint)


def name_of(path: Path) -> str:
    """The path in words for messages."""
    return format_path(path) or "the file"
