"""From numbers to places on a sheet, and the round numbers between two ends."""

from __future__ import annotations

import math

from checker.reading.quick_dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Scale:
    """A straight scale."""

    low: float
    high: float
    start: float
    """Where the low end stands."""
    end: float

    def __call__(self, value: float) -> float:
        """Where a value stands."""
        return self.start + (value - self.low) / (self.high - self.low) * (self.end - self.start)

    def size(self, difference: float) -> float:
        """How long a difference is drawn, with its sign."""
        return difference / (self.high - self.low) * (self.end - self.start)


def ticks(scale: Scale, about: int) -> list[float]:
    """Round numbers within a scale, about so many of them."""
    step = round_below((scale.high - scale.low) / about)
    first = math.ceil(scale.low / step)
    return [round(n * step, 10) for n in range(first, math.floor(scale.high / step + 1e-9) + 1)]


def round_below(number: float) -> float:
    """The largest of 1, 2 and 5 times a power of ten that is not more than a number above 0."""
    power = 10.0 ** math.floor(math.log10(number))
    return next(part * power for part in (5, 2, 1) if part * power <= number * (1 + 1e-9))
