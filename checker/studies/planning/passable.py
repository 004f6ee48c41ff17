"""Limits of what may be done that could be let be passed, and what that comes to."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import Protocol

from checker.car.described.planning import BallastPlace, Planning
from checker.reading.quick_dataclasses import dataclass
from checker.studies.planning.model import Model
from checker.studies.planning.program import Constraint
from checker.studies.planning.race import Start


@dataclass(frozen=True, slots=True)
class WiderPlace:
    """A place that carries more."""

    name: str
    most_kg: Fraction | None
    """In all; None: nothing more than may be."""
    more_kg: Fraction
    pieces: int | None
    """In all; None: no more than may be."""
    more_pieces: int


@dataclass(frozen=True, slots=True)
class WiderSlide:
    """A thing that slides further."""

    what: str
    end: BallastPlace
    """As far as it slides."""
    more_mm: Fraction


@dataclass(frozen=True, slots=True)
class WiderStart:
    """A race that is begun with more fuel than may be, or with less."""

    mm3: Fraction
    more_mm3: Fraction
    """Below nothing: less."""


@dataclass(frozen=True, slots=True)
class Passable:
    """A limit that may be passed."""

    within: Constraint
    """Holds where it is not passed; what passes it is taken off its sum."""
    kg: float
    """How large a change one of it is."""
    step: Fraction
    """What it is passed by is a whole number of these."""
    whole: bool


Allowed = tuple[Planning, Start | None]


class Limits(Protocol):
    """One kind of limits."""

    def there(self) -> bool:
        """Whether the file tells of any."""

    def lifted(self, allowed: Allowed) -> Allowed:
        """What may be done without them."""

    def limits(self, model: Model) -> Iterator[Passable]:
        """Each of them, in the program of what may be done without them; always as many, in the same order."""

    def widened(self, allowed: Allowed, by: Sequence[Fraction]) -> Allowed:
        """What may be done where each is let be passed by so much."""

    def told(self, by: Sequence[Fraction]) -> Iterator[WiderPlace | WiderSlide | WiderStart]:
        """What that comes to."""
