"""What a car is said to be: single facts, and entries of lists, each with who said it and where.

A value never travels without its origin, because a report must tell what an official measured from what
an entrant declared, and what nobody stated from what was taken by default.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from checker.quantities.kind import Unknown
from checker.quantities.units import Unit
from checker.reading.problems import Span

DECLARED, READINGS, DEFAULT, WHAT_IF, GEAR = "declared", "readings", "default", "what-if", "gear"
"""Origins of a value: the car's own file, an official's file, the pack's default, a what-if, a club's gear file."""


@dataclass(frozen=True, slots=True)
class Stated:
    """One value as somebody stated it."""

    value: Any
    """In base units, as `checker.quantities.kind` describes; a tuple where several values may be stated."""
    written: str
    """As in the file, without quotes."""
    unit: Unit | None
    """The unit it was written in (of several: the first one's); None where there is none."""
    origin: str
    """`DECLARED`, `READINGS`, `DEFAULT` or `WHAT_IF`."""
    span: Span | None
    """Where it is written; None for a default."""
    instrument: str = ""
    """Name of the instrument it was measured with, if one is known."""
    uncertainty: Fraction | None = None
    """Standard uncertainty in base units, where one is stated."""
    names_instrument: bool = False
    """Whether the file itself names the instrument; else it is what the pack says the fact is measured with."""


ALONG, ACROSS, ABOVE = "at.behind_front_axle", "at.left_of_centre", "at.above_ground"
"""Where something sits: mm behind the front axle, and left of the middle between the wheels, for the levers; what a
file calls `right_of_centre` is here with its sign turned. How high it sits is for rules alone."""
RIGHT = "at.right_of_centre"
"""The same as `ACROSS` as seen from the other side, for formulas."""


@dataclass(frozen=True, slots=True, eq=False)
class Entry:
    """One entry of a list: a component, a piece of ballast, a document, or what the pack defines."""

    list_name: str
    label: str
    """What reports call it by; its path where it has no name."""
    path: str
    """Where it stands in the file that declares it, e.g. "components[2].parts[0]"."""
    fields: Mapping[str, Stated]
    """What is stated of it, or taken by default; where it sits under `ALONG` and `ACROSS`."""
    count: int
    """How many of it there are; masses and prices are per piece."""
    parent: Entry | None
    """The component that it is a part of."""
    span: Span | None

    def value(self, field: str) -> Any:
        """The field's value, or `Unknown` naming the entry and the field."""
        stated = self.fields.get(field)
        if stated is None:
            return Unknown(absent=(f"{self.label}: {field}",), item=self.label)
        return stated.value

    def stated(self, field: str) -> Stated | None:
        return self.fields.get(field)

    @property
    def standing(self) -> int:
        """How often it stands on the car: its count times that of what it is a part of."""
        return self.count * (self.parent.standing if self.parent else 1)
