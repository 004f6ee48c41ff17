"""Stands at a pack while it is read: looks at sections, notes problems.

Every section is read by a module of its own; each notes what is wrong and goes on, so that an author learns
of every mistake at once.
"""

from __future__ import annotations

import os
from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import date
from typing import Any

from checker.kinds.reading.naming import is_name
from checker.kinds.reading.reader import CheckReader, Surroundings
from checker.quantities.days import parse_day
from checker.quantities.formula.expression import Expression
from checker.quantities.formula.problem import FormulaError
from checker.quantities.formula.scope import Scope
from checker.quantities.kind import Kind
from checker.reading.document import Document
from checker.reading.nearest import did_you_mean
from checker.reading.problems import Path, Problems


@dataclass(slots=True)
class PackSource:
    """A pack's document while it is read."""

    document: Document
    problems: Problems = field(default_factory=Problems)
    currency: str | None = None
    files: list[Document] = field(default_factory=list)
    """Other files that belong to the rules: word lists, bulletins."""

    @property
    def folder(self) -> str:
        return os.path.dirname(os.path.abspath(self.document.name))

    def get(self, *path: str | int) -> Any:
        return self.document.get(path)

    def has(self, *path: str | int) -> bool:
        return self.document.has(path)

    def written(self, *path: str | int) -> str:
        """The scalar at `path` as text: without its quotes, a number as it is written."""
        value = self.get(*path)
        return value if isinstance(value, str) else self.document.written(path)

    def problem(
        self,
        number: int,
        message: str,
        *path: str | int,
        hint: str = "",
        clause: str = "",
        warning: bool = False,
    ) -> None:
        """Note a problem at the value of `path`."""
        span = self.document.span(path)
        self.problems.add(f"PK{number}", message, span, hint=hint, clause=clause, warning=warning)

    def key_problem(
        self, number: int, message: str, *path: str | int, hint: str = "", clause: str = ""
    ) -> None:
        """Note a problem at the key that names the last part of `path`."""
        self.problems.add(f"PK{number}", message, self.document.key_span(path), hint=hint, clause=clause)

    def mapping(self, *path: str | int, what: str = "", clause: str = "") -> dict[str, Any]:
        """The mapping at `path`; empty, with a problem noted, where something else stands there."""
        value = self.get(*path)
        if isinstance(value, dict):
            return value
        if self.has(*path) and value is not None:
            self.problem(108, f"`{what or path[-1]}` needs names and values", *path, clause=clause)
        return {}

    def text(self, *path: str | int, clause: str = "") -> str:
        """The text at `path`; "" where there is none, with a problem noted where something else stands there."""
        value = self.get(*path)
        if isinstance(value, str):
            return value
        if value is not None:
            self.problem(108, f"`{path[-1]}` needs text", *path, clause=clause, hint="put it in quotes")
        return ""

    def day(self, *path: str | int, clause: str = "") -> date | None:
        """The day at `path`; None where there is none or it cannot be read (106 noted)."""
        value = self.get(*path)
        if value is None:
            return None
        try:
            if not isinstance(value, str):
                raise ValueError(f"'{self.document.written(path)}' is not a day")
            return parse_day(value)
        except ValueError as error:
            self.problem(106, str(error), *path, clause=clause, hint="a day is written 2026-03-01")
            return None

    def known_keys(
        self, data: Iterable[str], allowed: Iterable[str], *path: str | int, what: str, clause: str = ""
    ) -> bool:
        """Whether all keys are among `allowed`; strangers are noted (101) with the nearest known key."""
        known = tuple(allowed)
        sound = True
        for key in data:
            if key not in known:
                hint = did_you_mean(key, known) or f"known: {', '.join(known)}"
                if any(c in key for c in "()[]'\"*/+ ") and self.get(*path, key) is None:
                    hint = "a comma inside { } ends a value: put it in quotes, or write it on several lines"
                self.key_problem(101, f"'{key}' is not a key of {what}", *path, key, hint=hint, clause=clause)
                sound = False
        return sound

    def name(self, word: str, *path: str | int, what: str) -> bool:
        """Whether `word` can be a name in formulas; noted (202) where it cannot."""
        if is_name(word):
            return True
        self.key_problem(
            202,
            f"'{word}' cannot be the name of {what}",
            *path,
            hint="use letters, digits and _, beginning with a letter",
        )
        return False

    def formula(
        self, scope: Scope, *path: str | int, expected: Kind | None = None, what: str = "", clause: str = ""
    ) -> Expression | None:
        """The formula at `path`, read as in a check; None, with problems noted, where it cannot be used."""
        return self._reader(scope, clause).formula(*path, expected=expected, what=what)

    def _reader(self, scope: Scope, clause: str) -> CheckReader:
        return CheckReader(self.document, (), Surroundings(scope, self.problems, {}, clause=clause))

    def note(self, error: FormulaError, path: Path) -> None:
        """Note the mistakes of a formula at their exact places."""
        self._reader(Scope(), "").note(error, path)
