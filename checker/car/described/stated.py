"""What a car is said to be: single facts, and entries of lists, each with who said it and where.

A value never travels without its origin, because a report must tell what an official measured from what
an entrant declared, and what nobody stated from what was taken by default.
"""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from typing import Any, NamedTuple

from checker.quantities.kind import Unknown
from checker.quantities.units import Unit
from checker.reading.marks import Whereabouts, span_of
from checker.reading.problems import Span
from checker.reading.quick_dataclasses import dataclass

DECLARED, READINGS, DEFAULT, WHAT_IF, GEAR = "declared", "readings", "default", "what-if", "gear"
"""Origins of a value: the car's own file, an official's file, the pack's default, a what-if, a club's gear file."""

DAY_JUDGED = "event.date"
"""The fact that is the day which a car is judged for."""


class Stated(NamedTuple):
    """One value as somebody stated it: of all that is made of a car's file there are most of these."""

    value: Any
    """In base units, as `checker.quantities.kind` describes; a tuple where several values may be stated."""
    written: str
    """As in the file, without quotes."""
    unit: Unit | None
    """The unit it was written in (of several: the first one's); None where there is none."""
    origin: str
    """`DECLARED`, `READINGS`, `DEFAULT` or `WHAT_IF`."""
    place: Whereabouts | Span | None
    """Where it is written; None for a default."""
    instrument: str = ""
    """Name of the instrument it was measured with, if one is known."""
    uncertainty: Fraction | None = None
    """Standard uncertainty in base units, where one is stated."""
    names_instrument: bool = False
    """Whether the file itself names the instrument; else it is what the pack says the fact is measured with."""

    @property
    def span(self) -> Span | None:
        """Where it is written; None for a default."""
        return span_of(self.place)


def with_moved(
    every: Mapping[str, Stated], name: str, place: int | None, step: Fraction
) -> dict[str, Stated]:
    """The same values, one of them moved; of several values the one at `place`, or all."""
    stated = every[name]
    if isinstance(stated.value, tuple):
        value: Any = tuple(v + step if place in (None, at) else v for at, v in enumerate(stated.value))
    else:
        value = stated.value + step
    return {**every, name: stated._replace(value=value)}


ALONG, FROM_REAR, ACROSS = "at.behind_front_axle", "at.behind_rear_axle", "at.left_of_centre"
"""Where something sits, for the levers: mm behind the front axle or the rear one, whichever it is told from, and left
of the middle between the wheels; what a file tells the other way round is here with its sign turned."""
ABOVE = "at.above_ground"
"""How high an entry sits, which is for rules alone."""
RIGHT = "at.right_of_centre"
"""The same as `ACROSS` as seen from the other side, for formulas."""

_FROM = ("behind_front_axle", "behind_rear_axle")


def told_otherwise(name: str) -> tuple[str, ...]:
    """The other name that tells the same, and counts where it is stated and this one is not: a place from the other
    axle; for the tyre at one wheel, both tyres of its axle.

    Args:
        name: Of a part of the structure, or of an entry's field.
    """
    owner, _, key = name.rpartition(".")
    if key in _FROM:
        return (f"{owner}.{_FROM[1 - _FROM.index(key)]}",)
    axle, _, side = owner.rpartition(".")
    return (f"{axle}.{key}",) if name.startswith("tyres.") and side in ("left", "right") else ()


@dataclass(frozen=True, slots=True, eq=False)
class Entry:
    """One entry of a list: a component, a piece of ballast, a document, or what the pack defines."""

    list_name: str
    label: str
    """What reports call it by; its path where it has no name."""
    path: str
    """Where it stands in the file that declares it, e.g. "components[2].parts[0]"."""
    fields: Mapping[str, Stated]
    """What is stated of it, or taken by default; where it sits under `ALONG` or `FROM_REAR`, and `ACROSS`."""
    count: int
    """How many of it there are; masses and prices are per piece."""
    parent: Entry | None
    """The component that it is a part of."""
    place: Whereabouts | Span | None

    @property
    def span(self) -> Span | None:
        """Where it is written."""
        return span_of(self.place)

    def value(self, field: str) -> Any:
        """The field's value, or `Unknown` naming the entry and the field."""
        stated = self.fields.get(field)
        if stated is None:
            return Unknown(absent=(f"{self.label}: {field}",))
        return stated.value

    def stated(self, field: str) -> Stated | None:
        return self.fields.get(field)

    @property
    def standing(self) -> int:
        """How often it stands on the car: its count times that of what it is a part of."""
        return self.count * (self.parent.standing if self.parent else 1)
