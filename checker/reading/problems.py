"""A mistake in a file is data with a place.

Everything that reads a file collects `Problem`s and raises them together as one `InputError`,
so that an author learns of every mistake in one run. A clause that a car fails is not a problem:
it is an outcome.
"""

from __future__ import annotations

from collections.abc import Iterable

from checker.reading.quick_dataclasses import dataclass

Path = tuple[str | int, ...]
"""A place in plain data: mapping keys and list positions (from 0), outermost first."""


@dataclass(frozen=True, slots=True)
class Span:
    """A stretch of a file. Lines and columns count from 1; the end is exclusive."""

    file: str
    line: int
    column: int
    end_line: int
    end_column: int
    source_line: str = ""
    """The text of line `line`, for excerpts; empty where there is none."""

    def __str__(self) -> str:
        return f"{self.file}:{self.line}:{self.column}"


@dataclass(frozen=True, slots=True)
class Problem:
    """One mistake: what was read, what was wanted, where, and the cure."""

    code: str
    """Stable for ever once released: PKxxx packs, CDxxx car declarations, RDxxx readings, MTxxx meetings."""
    message: str
    span: Span | None = None
    hint: str = ""
    """The change that would cure it."""
    clause: str = ""
    """The clause it belongs to, e.g. "3.1"."""
    related: tuple[tuple[str, Span], ...] = ()
    """Other places that matter: ("first given here", span)."""
    warning: bool = False
    """A warning is reported but does not stop the file from being used."""


class InputError(Exception):
    """Input that cannot be judged, with every problem found in it."""

    def __init__(self, problems: Iterable[Problem]) -> None:
        self.problems: tuple[Problem, ...] = tuple(problems)
        super().__init__(f"{len(self.problems)} problem(s)")


MOST_PROBLEMS = 100
"""So many mistakes of one file are told at once."""


class Problems:
    """Collects problems while a file is read; raises them once, at the latest when there are `MOST_PROBLEMS`."""

    def __init__(self) -> None:
        self.found: list[Problem] = []
        self._known: set[Problem] = set()
        self.times = 0
        """How often a problem was noted, repeats included."""

    def add(
        self,
        code: str,
        message: str,
        span: Span | None = None,
        *,
        hint: str = "",
        clause: str = "",
        related: tuple[tuple[str, Span], ...] = (),
        warning: bool = False,
    ) -> None:
        """Note a problem; an equal one already noted is not repeated.

        Raises:
            InputError: With all that was found, when nobody would read on.
        """
        self.times += 1
        problem = Problem(code, message, span, hint, clause, related, warning)
        if problem in self._known:
            return
        self._known.add(problem)
        self.found.append(problem)
        if len(self._known) >= MOST_PROBLEMS:
            self.raise_if_any()

    @property
    def errors(self) -> tuple[Problem, ...]:
        return tuple(p for p in self.found if not p.warning)

    @property
    def warnings(self) -> tuple[Problem, ...]:
        return tuple(p for p in self.found if p.warning)

    def raise_if_any(self) -> None:
        """Raise `InputError` with everything found, if any of it is an error."""
        if self.errors:
            raise InputError(self.found)
