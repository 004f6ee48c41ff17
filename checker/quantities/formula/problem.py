"""A mistake in a formula: which code, what was read, and where in the text it stands.

The loader of the file turns these into problems with file, line and column.
"""

from __future__ import annotations

from checker.reading.quick_dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class FormulaProblem:
    number: int
    """The number of the problem code, e.g. 301 for dimensions that differ (PK301)."""
    message: str
    start: int = 0
    """Offset in the formula's text, in characters. A problem that lies behind a name has start and end 0."""
    end: int = 0
    hint: str = ""
    as_meant: bool = False
    """It was read as it was meant: no other notation lies behind it."""


class FormulaError(ValueError):
    """A formula that cannot be used, with every mistake found in it; none where all were reported before."""

    def __init__(self, *problems: FormulaProblem) -> None:
        self.problems = problems
        super().__init__("; ".join(p.message for p in problems))
