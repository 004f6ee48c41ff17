"""Sets of numbers made of intervals, each end of which belongs to it or does not.

Such a set is a tuple of intervals in order, with a gap between any two of them.
"""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from checker.reading.quick_dataclasses import dataclass, replace

_Edge = tuple[Fraction, int]
"""A number, just before it (-1) or just behind it (+1)."""


@dataclass(frozen=True, slots=True)
class Interval:
    """All numbers from `low` to `high`; one number where both are the same."""

    low: Fraction
    high: Fraction
    low_in: bool = True
    """Whether the end itself belongs to it."""
    high_in: bool = True

    def __contains__(self, x: Fraction) -> bool:
        return self._first <= (x, 0) <= self._last

    @property
    def _first(self) -> _Edge:
        return (self.low, 0 if self.low_in else 1)

    @property
    def _last(self) -> _Edge:
        return (self.high, 0 if self.high_in else -1)

    def mapped(self, start: Fraction, per_unit: Fraction) -> Interval:
        """Each number x of it as `start + per_unit * x`; a `per_unit` below 0 turns it round."""
        low, high = start + per_unit * self.low, start + per_unit * self.high
        if per_unit < 0:
            return Interval(high, low, self.high_in, self.low_in)
        return replace(self, low=low, high=high)


Intervals = tuple[Interval, ...]


def union(intervals: Iterable[Interval]) -> Intervals:
    """Everything that lies in any of them."""
    found: list[Interval] = []
    for one in sorted(intervals, key=lambda i: i._first):
        if one._first > one._last:
            continue
        if found and one._first <= _behind(found[-1]._last):
            if one._last > found[-1]._last:
                found[-1] = replace(found[-1], high=one.high, high_in=one.high_in)
        else:
            found.append(one)
    return tuple(found)


def without(whole: Interval, taken: Iterable[Interval]) -> Intervals:
    """What of the whole lies in none of the others."""
    found: list[Interval] = []
    first = whole._first
    for one in union(taken):
        found.append(_from_to(first, _before(one._first)))
        first = max(first, _behind(one._last))
    found.append(_from_to(first, whole._last))
    return union(_cut(one, whole) for one in found)


def common(first: Iterable[Interval], second: Iterable[Interval]) -> Intervals:
    """What lies in both sets."""
    others = tuple(second)
    return union(_cut(one, other) for one in first for other in others)


def _cut(one: Interval, whole: Interval) -> Interval:
    return _from_to(max(one._first, whole._first), min(one._last, whole._last))


def _from_to(first: _Edge, last: _Edge) -> Interval:
    return Interval(first[0], last[0], first[1] == 0, last[1] == 0)


def _behind(edge: _Edge) -> _Edge:
    return edge[0], edge[1] + 1


def _before(edge: _Edge) -> _Edge:
    return edge[0], edge[1] - 1
