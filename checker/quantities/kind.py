"""What kind of value an expression has, known before any car is seen.

A pack is checked for kinds and dimensions when it is read, so that adding kilograms to millimetres
is an error of the pack with line and column, never a surprise at weigh-in.

At run time values are plain Python objects; the kind says how to understand them:

- number, quantity, percent, days, months: `Fraction` (base units kg, mm, s, deg, ...; percent as a ratio,
  52.5 % is 21/40; months as whole months)
- date: `datetime.date`; text and grade: `str`; truth: `bool`
- list: a `tuple` of such values; items: a `tuple` of items
- anything not stated: `Unknown`
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Any, Self, TypeVar

from checker.quantities.dimension import MONEY, NO_DIMENSION, Dimension
from checker.quantities.reason import Reason, Why
from checker.reading.quick_dataclasses import dataclass

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Kind:
    """The kind of a value: its name, and what belongs to it."""

    name: str
    dimension: Dimension = NO_DIMENSION
    """For quantities only."""
    words: tuple[str, ...] | None = None
    """The possible words of a text, where known; the grades of a grade, lowest first."""
    tree: str | None = None
    """"material" or "category" for words that stand in one of the pack's trees."""
    element: Kind | None = None
    """For lists: the kind of one element."""
    items: str | None = None
    """For items and an item: the name of their list. For a row: of its table."""

    def __str__(self) -> str:
        match self.name:
            case "quantity":
                return self.dimension.name
            case "list" if self.element is not None:
                return f"list of {self.element}"
            case "items":
                return f"entries of {self.items}"
            case "item":
                return f"entry of {self.items}"
            case "row":
                return f"row of table {self.items}"
            case "truth":
                return "true or false"
            case _:
                return self.name

    @property
    def is_word(self) -> bool:
        return self.name in ("text", "grade")

    @property
    def is_measure(self) -> bool:
        """True for what can be added and compared as a magnitude."""
        return self.name in ("number", "quantity", "percent", "days", "months")

    def same_measure(self, other: Kind) -> bool:
        """True when values of both can be added or compared: same name and, for quantities, dimension."""
        return self.name == other.name and self.dimension == other.dimension

    def listed(self) -> Kind:
        return Kind("list", element=self)


NUMBER = Kind("number")
PERCENT = Kind("percent")
DAYS = Kind("days")
MONTHS = Kind("months")
DATE = Kind("date")
TEXT = Kind("text")
TRUTH = Kind("truth")


def quantity(dimension: Dimension) -> Kind:
    """The kind of a quantity; a quantity without dimension is a number."""
    return NUMBER if dimension == NO_DIMENSION else Kind("quantity", dimension)


def kind_in_words(kind: Kind) -> str:
    """A kind with its article, for sentences: "a mass", "an area", "a sum of money", "a percentage"."""
    special = {
        "number": "a plain number",
        "percent": "a percentage",
        "days": "a number of days",
        "months": "a number of months",
        "date": "a day",
    }
    if kind.name in special:
        return special[kind.name]
    words = "sum of money" if kind.name == "quantity" and kind.dimension == MONEY else str(kind)
    return f"an {words}" if words[0] in "aeio" else f"a {words}"


@dataclass(frozen=True, slots=True)
class TooFew:
    """A fact, or a field of an entry, of which not enough readings are stated."""

    name: str
    stated: int
    needed: int


IS_NOT_STATED = " is not stated"
"""How what is told of something absent ends."""


@dataclass(frozen=True, slots=True)
class Unknown:
    """A value that is not shown: what is absent, and other reasons why it cannot be told.

    An unknown is never equal to anything, and no check passes on one (promise: never a silent pass).
    """

    absent: tuple[str, ...] = ()
    """Names of facts that are not stated, e.g. "engine.capacity"."""
    reasons: tuple[Reason, ...] = ()
    """Other reasons, such as a table without a row for it."""
    too_few: tuple[TooFew, ...] = ()
    """What has fewer readings than it needs."""

    @classmethod
    def because(cls, why: Why, *parts: object) -> Self:
        return cls(reasons=(Reason(why, parts),))

    @property
    def is_told(self) -> bool:
        """Whether anything is named that would settle it."""
        return bool(self.absent or self.too_few or self.reasons)

    def told(self, show: Callable[[Any], str] = str) -> tuple[str, ...]:
        """Everything that would settle it, each a clause of a sentence; `show` as `Reason.told` takes it."""
        few = tuple(
            f"{one.name} has {one.stated} of the {one.needed} readings it needs" for one in self.too_few
        )
        reasons = tuple(reason.told(show) for reason in self.reasons)
        return tuple(name + IS_NOT_STATED for name in self.absent) + few + reasons


def unite(unknowns: Iterable[Unknown]) -> Unknown:
    """One unknown that lacks all that any of these lacks, each named once, in order."""
    absent: dict[str, None] = {}
    reasons: dict[Reason, None] = {}
    too_few: dict[TooFew, None] = {}
    every = tuple(unknowns)
    if len(every) == 1:  # as mostly, and a reason with its amounts is slow to hash
        return Unknown(every[0].absent, every[0].reasons, too_few=every[0].too_few)
    for unknown in every:
        absent.update(dict.fromkeys(unknown.absent))
        too_few.update(dict.fromkeys(unknown.too_few))
        reasons.update(dict.fromkeys(unknown.reasons))
    return Unknown(tuple(absent), tuple(reasons), too_few=tuple(too_few))


def lacking(values: Iterable[object]) -> Unknown | None:
    """One unknown that lacks all that the values lack; None where each is known."""
    unknown = [value for value in values if isinstance(value, Unknown)]
    return unite(unknown) if unknown else None


def where_known(compute: Callable[..., T], *values: object) -> T | Unknown:
    """What is computed of values that are all known, else what they lack."""
    return lacking(values) or compute(*values)
