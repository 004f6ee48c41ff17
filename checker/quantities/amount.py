"""Amounts and bounds as data: what a report shows, exact, before any rounding or choice of words."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from checker.quantities.kind import Kind
from checker.quantities.units import Unit


@dataclass(frozen=True, slots=True)
class Amount:
    """A value to show: exact, with its kind and the unit that the rule or the car's file writes it in."""

    value: Any
    """As `checker.quantities.kind` says: a Fraction in base units, a day, a word, a truth, a tuple."""
    kind: Kind
    unit: Unit | None = None


@dataclass(frozen=True, slots=True)
class Bound:
    """What the value was held to."""

    sense: str
    """at_least, at_most, above, below, exactly, nominal; for other kinds their own word, e.g. "last day"."""
    amount: Amount | None
    """None: no limit."""


Statement = tuple[str | Amount, ...]
"""A formula or sentence with values in place: its words as written, and amounts that a report has yet to show."""
