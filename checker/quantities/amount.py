"""Amounts and bounds as data: what a report shows, exact, before any rounding or choice of words."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from checker.quantities.display import show_value
from checker.quantities.kind import Kind
from checker.quantities.sense import Sense
from checker.quantities.units import Unit, parse_unit
from checker.reading.quick_dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Amount:
    """A value to show: exact, with its kind and the unit that the rule or the car's file writes it in."""

    value: Any
    """As `checker.quantities.kind` says: a Fraction in base units, a day, a word, a truth, a tuple."""
    kind: Kind
    unit: Unit | None = None

    def __str__(self) -> str:
        """As rooms before `report` tell it: in the unit of the rules."""
        return show_value(self.value, self.kind, self.unit)


_KG, _MM = parse_unit("kg", None), parse_unit("mm", None)


def kilograms(kg: Fraction) -> Amount:
    """A mass that nobody has written in a unit of their own."""
    return Amount(kg, _KG.kind, _KG)


def millimetres(mm: Fraction) -> Amount:
    """The same for a length."""
    return Amount(mm, _MM.kind, _MM)


@dataclass(frozen=True, slots=True)
class Bound:
    """What the value was held to."""

    sense: Sense
    amount: Amount | None
    """None: no limit."""


Statement = tuple[str | Amount, ...]
"""A formula or sentence with values in place: its words as written, and amounts that a report has yet to show."""
