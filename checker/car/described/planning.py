"""What may be added to a car, moved on it and taken off it, as its file or a file beside it says."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

from checker.car.described.stated import Stated
from checker.reading.problems import Path, Span
from checker.reading.quick_dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class BallastPlace:
    """Where ballast may be bolted, or a thing may sit."""

    name: str
    fields: Mapping[str, Stated]
    """Where it is, under `ALONG` or `FROM_REAR`, `ACROSS` and `ABOVE`; and what a piece has there, as `fixings`."""
    most_kg: Fraction | None = None
    """What it may carry; None: nothing is said."""
    pieces: int | None = None
    """How many pieces it takes; None: nothing is said."""
    span: Span | None = None


@dataclass(frozen=True, slots=True)
class ShelfPiece:
    """Ballast on the shelf: pieces that are alike, or stock of which any multiple of a step may be cut."""

    label: str
    fields: Mapping[str, Stated]
    """What is stated of it beside its label and mass."""
    kg: Fraction
    """Of one piece, or the step."""
    count: int
    """How many there are: pieces, or steps."""
    is_stock: bool = False
    """It is cut: several steps at one place are one piece."""
    span: Span | None = None


@dataclass(frozen=True, slots=True)
class Movable:
    """A thing on the car that may sit elsewhere."""

    what: str
    path: Path
    """Where the car's file tells of it: an entry of a list, or a place such as `("driver", "at")`."""
    to: tuple[BallastPlace, ...]
    between: tuple[BallastPlace, BallastPlace] | None = None
    """It slides between two places, as a seat on its rails does."""
    span: Span | None = None


@dataclass(frozen=True, slots=True)
class Removable:
    """An entry that may come off."""

    what: str
    path: Path
    span: Span | None = None


@dataclass(frozen=True, slots=True)
class RaceFuel:
    """What a race burns, and with how much fuel it may be begun. All in mm3."""

    per_lap: Fraction
    laps: int
    least: Fraction | None = None
    """At the start; None: what the race burns, and the unusable rest."""
    most: Fraction | None = None
    """At the start; None: what the tank holds."""
    span: Span | None = None

    @property
    def burnt(self) -> Fraction:
        return self.per_lap * self.laps


@dataclass(frozen=True, slots=True)
class Planning:
    """All that may be done."""

    places: tuple[BallastPlace, ...] = ()
    shelf: tuple[ShelfPiece, ...] = ()
    movable: tuple[Movable, ...] = ()
    may_come_off: tuple[Removable, ...] = ()
    race: RaceFuel | None = None

    def __bool__(self) -> bool:
        return bool((self.places and self.shelf) or self.movable or self.may_come_off)
