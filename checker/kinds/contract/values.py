"""Which values pass a check and which can occur, where that can be told without a car."""

from __future__ import annotations

from datetime import date
from fractions import Fraction
from typing import Any, Protocol

from checker.quantities.display import show_value
from checker.quantities.folding import fold
from checker.quantities.formula.expression import Expression
from checker.quantities.kind import Kind, Unknown
from checker.quantities.units import Unit, base_unit
from checker.reading.quick_dataclasses import dataclass

Ordered = Any
"""A Fraction, a day, or the place of a grade: whatever a bound can be."""


@dataclass(frozen=True, slots=True)
class ValueInterval:
    """The values that pass, or that can occur. None: no end."""

    low: Ordered = None
    high: Ordered = None
    low_open: bool = False
    high_open: bool = False

    def meets(self, other: ValueInterval) -> bool:
        """Whether some value lies in both."""
        return _below(self.low, self.low_open, other.high, other.high_open) and _below(
            other.low, other.low_open, self.high, self.high_open
        )

    def holds(self, other: ValueInterval) -> bool:
        """Whether every value of the other lies in this one."""
        return _reaches(self.low, self.low_open, other.low, other.low_open, 1) and _reaches(
            self.high, self.high_open, other.high, other.high_open, -1
        )

    def widened(self, below: Fraction, above: Fraction) -> ValueInterval:
        """With both ends further out, by days for days."""
        return ValueInterval(
            _moved(self.low, -below), _moved(self.high, above), self.low_open, self.high_open
        )

    def words(self, kind: Kind, unit: Unit | None = None) -> str:
        """In words, in a unit or in base units: "0 to 40 kg"."""

        def shown(value: Ordered) -> str:
            if kind.name == "grade" and isinstance(value, Fraction):
                return str((kind.words or ())[int(value)])
            own = base_unit(kind, None) if kind.name in ("quantity", "percent") else None
            return show_value(value, kind, own if unit is None else unit)

        if self.low == self.high:
            return shown(self.low)
        if self.high is None:
            return f"{shown(self.low)} or more"
        return (
            f"at most {shown(self.high)}" if self.low is None else f"{shown(self.low)} to {shown(self.high)}"
        )


class Occurring(Protocol):
    """What can be told of the values of a pack's formulas without a car."""

    def __call__(self, limit: Expression) -> ValueInterval | None:
        """The values that what a formula gives can take; None where nothing is known of them."""

    def written(self, bound: Expression) -> ValueInterval | None:
        """The least and the greatest value that a bound is written with: one, those of a choice, a table's cells."""

    def is_stated(self, limit: Expression) -> bool:
        """Whether a formula is nothing but what a car's declaration states."""


@dataclass(frozen=True, slots=True)
class Passing:
    """What passes a check, as far as it is fixed."""

    about: tuple[str, ...]
    """What is held to it; two checks about the same must be met by one value."""
    key: str
    """Where it is written."""
    interval: ValueInterval | None = None
    word: Any = None
    """The one word or truth that passes; None where it is no word, or not fixed."""

    def excludes(self, other: Passing) -> bool:
        """Whether no value passes both."""
        if self.interval is not None and other.interval is not None:
            return not self.interval.meets(other.interval)
        return None not in (self.word, other.word) and _folded(self.word) != _folded(other.word)


def constant(expression: Expression) -> Any:
    """What a formula gives for every car; None where that differs or cannot be told."""
    return expression.value if expression.constant and not isinstance(expression.value, Unknown) else None


def own_unit(expression: Expression) -> Unit | None:
    """The unit that a formula's facts, fields and derived values have."""
    return expression.written_unit(None, (2, 3))


def place_of(value: object, kind: Kind) -> Ordered:
    """A value on a scale: grades by their place. Words and truths stand on none."""
    if kind.name == "grade" and isinstance(value, str):
        order = [fold(word) for word in kind.words or ()]
        return Fraction(order.index(fold(value))) if fold(value) in order else None
    return value if isinstance(value, (Fraction, date)) and not isinstance(value, bool) else None


def _below(low: Ordered, low_open: bool, high: Ordered, high_open: bool) -> bool:
    if low is None or high is None or low < high:
        return True
    return bool(low == high and not (low_open or high_open))


def _reaches(outer: Ordered, outer_open: bool, inner: Ordered, inner_open: bool, sign: int) -> bool:
    if outer is None:
        return True
    if inner is None:
        return False
    if outer == inner:
        return inner_open or not outer_open
    return bool((outer < inner) == (sign > 0))


def _moved(value: Ordered, by: Fraction) -> Ordered:
    if not by or value is None:
        return value
    return date.fromordinal(value.toordinal() + int(by)) if isinstance(value, date) else value + by


def _folded(value: object) -> object:
    return fold(value) if isinstance(value, str) else value
