"""A mixed-integer linear program as plain data, whatever solves it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from enum import StrEnum

from checker.reading.quick_dataclasses import dataclass, field, replace

_NEAR = 1e-7
"""Floats that differ by less are the same."""


@dataclass(frozen=True, slots=True)
class Decided:
    """Something to be decided: a number from `low` to `high`."""

    name: str
    low: float
    high: float
    whole: bool = True


@dataclass(frozen=True, slots=True)
class Constraint:
    """A sum of columns that is at least `low` and at most `high`."""

    group: str
    """What it belongs to: a clause as "clause 3.1", a place, a piece."""
    terms: Mapping[int, float]
    low: float = float("-inf")
    high: float = float("inf")
    number: int = -1
    """Which row of the model it came from; -1: none."""

    def holds(self, values: Sequence[float]) -> bool:
        found = sum(by * values[at] for at, by in self.terms.items()) if values else 0.0
        return self.low - _NEAR <= found <= self.high + _NEAR


@dataclass(frozen=True, slots=True)
class Program:
    """What to decide, and what must hold."""

    columns: tuple[Decided, ...]
    constraints: tuple[Constraint, ...]

    def with_constraints(self, *more: Constraint) -> Program:
        return replace(self, constraints=(*self.constraints, *more))

    def relaxed(self) -> Program:
        """The same as if everything could be cut to any size."""
        return replace(self, columns=tuple(replace(column, whole=False) for column in self.columns))


class Status(StrEnum):
    """How a solver ended."""

    OPTIMAL = "optimal"
    """No better solution exists: proven."""
    TIME = "time"
    """The time was up; what is told is the best that was found, or none was."""
    INFEASIBLE = "infeasible"
    NOT_SHOWN = "not_shown"
    """Nothing was looked for: something that a clause asks about is not stated."""


@dataclass(frozen=True, slots=True)
class Solution:
    status: Status
    values: tuple[float, ...] = ()
    """One for each column; () where none was found."""
    objective: float = 0.0
    duals: tuple[float, ...] = field(default=())
    """By how much the objective changes with each constraint's limit; () for whole numbers."""
