"""The spread of many exact numbers in little room: how many fall into each band of an even width.

Bands begin as narrow as asked for and are made ten times wider whenever there are too many, so memory stays
bounded however many numbers come. Edges are multiples of a power of ten, 0 among them, so that no band
holds both legal and illegal margins; and the result depends on the numbers only, never on their order.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import count, pairwise
from math import floor

from checker.reading.quick_dataclasses import dataclass

MOST_BANDS = 512
FINEST = Fraction(1, 10**6)
"""Width of the bands to begin with, in the unit of the numbers."""


@dataclass(frozen=True, slots=True)
class TallyBand:
    """Numbers from `low` (inclusive) to `high` (exclusive)."""

    low: Fraction
    high: Fraction
    counts: tuple[int, ...]
    """How many of each collection lie in it."""


class Bands:
    """Counts of numbers by band, and their exact extremes."""

    __slots__ = ("_counts", "_width", "greatest", "least", "number")

    def __init__(self) -> None:
        self._counts: Counter[int] = Counter()
        self._width = FINEST
        self.number = 0
        self.least: Fraction | None = None
        self.greatest: Fraction | None = None

    def add(self, value: Fraction) -> None:
        """Count one number."""
        self.number += 1
        self.least = value if self.least is None else min(self.least, value)
        self.greatest = value if self.greatest is None else max(self.greatest, value)
        self._counts[floor(value / self._width)] += 1
        while len(self._counts) > MOST_BANDS:
            self._widen()

    def _widen(self) -> None:
        self._width *= 10
        wider: Counter[int] = Counter()
        for place, number in self._counts.items():
            wider[place // 10] += number
        self._counts = wider

    @property
    def width(self) -> Fraction:
        """Width of the bands that are kept."""
        return self._width

    def counted(self, low: Fraction, high: Fraction) -> int:
        """How many numbers lie from `low` up to `high`; both are multiples of the width."""
        first, last = low / self._width, high / self._width
        return sum(number for place, number in self._counts.items() if first <= place < last)


def side_by_side(collections: Sequence[Bands], most: int = 12) -> tuple[TallyBand, ...]:
    """The collections in the same bands: the narrowest round width (1, 2 or 5 times a power of ten) that fits.

    Args:
        collections: In one unit.
        most: The most bands wanted, 2 or more; empty ones at both ends are left out.
    """
    filled = [c for c in collections if c.least is not None]
    if not filled:
        return ()
    least = min(c.least for c in filled if c.least is not None)
    greatest = max(c.greatest for c in filled if c.greatest is not None)
    width = max(c.width for c in filled)
    if least == greatest:
        width = max(width, Fraction(1))  # nothing says how narrow a band of one number is to be
    for step in _round_steps(width):
        first, last = floor(least / step), floor(greatest / step)
        if last - first < most:
            edges = [place * step for place in range(first, last + 2)]
            return tuple(
                TallyBand(a, b, tuple(c.counted(a, b) for c in collections)) for a, b in pairwise(edges)
            )
    return ()


def _round_steps(width: Fraction) -> Iterator[Fraction]:
    for power in count():
        yield from (width * factor * 10**power for factor in (1, 2, 5))
