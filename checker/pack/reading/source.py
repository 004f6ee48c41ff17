"""Stands at a pack while it is read: looks at sections, notes problems.

Every section is read by a module of its own; each notes what is wrong and goes on, so that an author learns
of every mistake at once.
"""

from __future__ import annotations

import os
from datetime import date

from checker.kinds.reading.naming import is_name
from checker.kinds.reading.reader import CheckReader, Surroundings
from checker.quantities.days import parse_day
from checker.quantities.formula.expression import Expression
from checker.quantities.formula.problem import FormulaError
from checker.quantities.formula.scope import Scope
from checker.quantities.kind import Kind
from checker.quantities.units import Unit, UnknownUnit, parse_unit
from checker.reading.document import Document
from checker.reading.file_reader import Codes, FileReader, Mistake
from checker.reading.problems import Path
from checker.reading.quick_dataclasses import dataclass, field, replace

_CODES = Codes("PK", 108, {Mistake.UNKNOWN_KEY: 101, Mistake.DAY: 106})


@dataclass(slots=True)
class PackSource(FileReader):
    """A pack's document while it is read."""

    codes: Codes = _CODES
    currency: str | None = None
    files: list[Document] = field(default_factory=list)
    """Other files that belong to the rules: word lists, bulletins."""

    @property
    def folder(self) -> str:
        return os.path.dirname(os.path.abspath(self.document.name))

    def of_clause(self, number: str) -> PackSource:
        """The same source, whose problems are those of a clause."""
        return replace(self, clause=number)

    def day(self, *path: str | int) -> date | None:
        """The day at `path`; None where there is none or it cannot be read (106 noted)."""
        return self.parsed(parse_day, Mistake.DAY, "a day", *path, hint="a day is written 2026-03-01")

    def one_or_several(self, *path: str | int) -> list[Path]:
        """The places of the values at `path`, one or a list of them; none where nothing stands there."""
        given = self.get(*path)
        if isinstance(given, list):
            return [(*path, place) for place in range(len(given))]
        return [path] if self.has(*path) else []

    def in_quotes(self, *path: str | int) -> str:
        """A name or number at `path`, which stands in quotes; "" where there is none, or a plain number (102 noted)."""
        given = self.get(*path)
        if given is None or isinstance(given, str):
            return (given or "").strip()
        written = self.written(*path)
        self.problem(102, f"'{written}' needs quotes", *path, hint=f'write "{written}"')
        return ""

    def unit(self, *path: str | int) -> Unit | None:
        """The unit at `path`; None where it is none (104 noted)."""
        try:
            return parse_unit(self.written(*path), self.currency)
        except UnknownUnit as error:
            self.problem(104, f"'{self.written(*path)}' is not a unit", *path, hint=error.hint)
            return None

    def name(self, word: str, *path: str | int, what: str) -> bool:
        """Whether `word` can be a name in formulas; noted (202) where it cannot."""
        if is_name(word):
            return True
        hint = "use letters, digits and _, beginning with a letter"
        self.key_problem(202, f"'{word}' cannot be the name of {what}", *path, hint=hint)
        return False

    def formula(
        self, scope: Scope, *path: str | int, expected: Kind | None = None, what: str = ""
    ) -> Expression | None:
        """The formula at `path`, read as in a check; None, with problems noted, where it cannot be used."""
        return self._reader(scope).formula(*path, expected=expected, what=what)

    def _reader(self, scope: Scope) -> CheckReader:
        return CheckReader(self.document, (), Surroundings(scope, self.problems, {}, clause=self.clause))

    def note(self, error: FormulaError, path: Path) -> None:
        """Note the mistakes of a formula at their exact places."""
        self._reader(Scope()).note(error, path)
