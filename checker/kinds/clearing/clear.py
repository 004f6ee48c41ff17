"""Whether a margin is clear of its guard band, told by floats that know their own error.

How well a margin is known is exact, and costs far more than the margin itself. Where a bound on it, rounded upwards
at every step, leaves the margin beyond the band, the outcome is that of the exact comparison, and the exact figures
wait until somebody asks for them.
"""

from __future__ import annotations

import math
from fractions import Fraction

from checker.kinds.judging.assessment import DecisionRule
from checker.reading.quick_dataclasses import dataclass

_ROOM = 1 + 1e-5
"""More than all that the floats of one margin are rounded by."""


@dataclass(frozen=True, slots=True)
class Scatter:
    """Bounds on how errors move a value, in base units."""

    deviation: float
    """Not less than its standard uncertainty."""
    steepest: float = 0.0
    """Not less than what it changes by with one base unit of any one lever."""
    size: float = math.inf
    """Not less than its magnitude; infinite where that is not told."""
    degrees: Fraction | None = None
    """The fewest degrees of freedom of any error behind it."""

    def and_with(self, other: Scatter) -> Scatter:
        """Of the sum, or the difference, of two values, whatever errors they have in common."""
        if other is STILL:
            return self
        return Scatter(
            self.deviation + other.deviation,
            self.steepest + other.steepest,
            self.size + other.size,
            fewest(self.degrees, other.degrees),
        )

    @property
    def is_still(self) -> bool:
        """No error moves it."""
        return self.deviation == 0 == self.steepest


STILL = Scatter(0.0)
"""No error moves it, by the exact figures."""


def fewest(one: Fraction | None, other: Fraction | None) -> Fraction | None:
    """The fewer of two degrees of freedom; None: the standard uncertainty is known."""
    if one is None or other is None:
        return other if one is None else one
    return min(one, other)


def guard_at_most(scatter: Scatter, rule: DecisionRule) -> float:
    """More than the square of the guard band of a margin that scatters so.

    Degrees of freedom that are effective are never fewer than the fewest, and with fewer the factor is larger.
    """
    if not scatter.deviation:
        return 0.0
    band = float(rule.factor(scatter.degrees)) * scatter.deviation
    return band * band * _ROOM


def is_beyond(margin: Fraction, guard_squared: float) -> bool:
    """Whether a margin lies certainly beyond a guard band of which no more is known than `guard_at_most`."""
    size = abs(float(margin))
    return size * size > guard_squared * _ROOM
