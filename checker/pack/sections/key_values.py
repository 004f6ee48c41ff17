"""Values that stand for all that a key of a table can be: what holds for these holds for every value of the key.

A row is found by words and amounts that its cells name, and by the edges of bands. So it is enough to look at each of
these, at one value between any two of them, at one beyond either end, and at a word that no cell names.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date, timedelta
from fractions import Fraction
from itertools import pairwise
from typing import Any

from checker.pack.reading.cells import KeyCell, TableRow

MOST_COMBINATIONS = 2000
"""How many combinations of the values of several keys are looked at."""
ANOTHER_WORD = "\0"
"""Stands for every word that no cell names."""


def standing_for(rows: Iterable[TableRow], place: int) -> list[Any]:
    """Values that stand for all that the key at `place` can be."""
    cells = [row.keys[place] for row in rows]
    named = dict.fromkeys(value for cell in cells for value in _named(cell))
    if any(isinstance(value, bool) for value in named):
        return [True, False]
    words = [value for value in named if isinstance(value, str)]
    ordered = sorted(value for value in named if not isinstance(value, str))
    return [*words, *_with_what_lies_between(ordered), *([] if ordered else [ANOTHER_WORD])]


def _named(cell: KeyCell) -> Iterator[Any]:
    yield from cell.values
    if cell.band is not None:
        yield from (end.value for end in (cell.band.low, cell.band.high) if end is not None)


def _with_what_lies_between(values: list[Any]) -> Iterator[Any]:
    """Values in order, with one between any two and one beyond either end; whole days have nothing between them."""
    if not values:
        return
    one = timedelta(1) if isinstance(values[0], date) else Fraction(1)
    yield values[0] - one
    for low, high in pairwise(values):
        yield low
        between = low + (high - low) / 2
        if between not in (low, high):
            yield between
    yield values[-1]
    yield values[-1] + one
