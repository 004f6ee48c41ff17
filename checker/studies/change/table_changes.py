"""Two tables compared by what they say for every key, not by how their rows are written.

The keys of both are cut at every edge and word that either knows. For each piece both tables are asked, and pieces next
to each other that changed alike are put together again. So a row that was split in two says nothing new.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from datetime import date, timedelta
from fractions import Fraction
from itertools import product
from typing import Any

from checker.pack.model import TableText
from checker.quantities.display import show_value
from checker.quantities.folding import fold
from checker.quantities.formula.scope import Cell, NoLimit
from checker.quantities.kind import NUMBER
from checker.quantities.literal import parse_literal
from checker.quantities.misread import LiteralError
from checker.reading.patterns import pattern
from checker.reading.quick_dataclasses import dataclass

MOST_PIECES = 4000

_OTHER = "\0 any other"
"""Stands for every word that neither table knows."""
_EDGES = pattern(r"(?:from|above|up\s+to|below|before)\s+(.+?)(?=\s+(?:up\s+to|below|before)\s|\Z)")


@dataclass(frozen=True, slots=True)
class Piece:
    """A stretch of one key, or one word of it."""

    value: Any
    """A value inside it, to ask the tables with."""
    words: str = ""
    """For a word or truth: what to call it."""
    edge: bool = False
    """It is a single value, at which a band begins or ends."""


@dataclass(frozen=True, slots=True)
class CellChange:
    """One result that is another than before, for some keys."""

    column: str
    where: str
    """For which keys, in words; "" where for all."""
    old: Cell | None
    """None: no row."""
    new: Cell | None

    @property
    def words(self) -> str:
        before, after = cell_text(self.old), cell_text(self.new)
        where = f"{self.where}: " if self.where else ""
        return f"{where}{before} becomes {after}"


def table_changes(old: TableText, new: TableText, currency: str | None) -> list[CellChange] | None:
    """Every result that changed, or None where the tables cannot be compared key by key."""
    if old.keys != new.keys:
        return None
    if old.interpolated or new.interpolated:
        return [] if (old.interpolated, old.rows) == (new.interpolated, new.rows) else None
    axes = [_pieces(old, new, place) for place in range(len(old.keys))]
    if any(axis is None for axis in axes):
        return None
    known = [axis for axis in axes if axis is not None]
    if math.prod(map(len, known)) > MOST_PIECES:
        return None
    texts = _edge_texts(old, currency) | _edge_texts(new, currency)
    found: list[CellChange] = []
    for column in dict.fromkeys([*old.columns, *new.columns]):
        found += _of_column(old, new, column, known, texts)
    return found


# --- cutting the keys ------------------------------------------------------------------------------------------


def _pieces(old: TableText, new: TableText, place: int) -> list[Piece] | None:
    """One key cut at everything that either table knows of it; None where the two speak of different things."""
    cells = [row.keys[place] for table in (old, new) for row in table.read]
    kinds = {(cell.kind.name, cell.kind.dimension) for cell in cells if cell.kind is not None}
    if len({name for name, _ in kinds}) > 1 or len(kinds) > 1:
        return None
    values: dict[Any, None] = {}
    for cell in cells:
        values.update(dict.fromkeys(cell.values))
        if cell.band is not None:
            edges = [edge.value for edge in (cell.band.low, cell.band.high) if edge is not None]
            values.update(dict.fromkeys(edges))
    if not values:
        return [Piece(_OTHER)]
    if all(isinstance(value, bool) for value in values):
        return [Piece(True, "true"), Piece(False, "false")]
    if all(isinstance(value, str) for value in values):
        named = {fold(word): word for cell in cells for word in cell.words}
        words = [Piece(value, named.get(value, value)) for value in values]
        return [*words, Piece(_OTHER, "any other")]
    return list(_stretches(sorted(values)))


def _stretches(edges: Sequence[object]) -> Iterator[Piece]:
    """Each edge, and a value from each stretch between and beyond them."""
    for place, edge in enumerate(edges):
        before = edges[place - 1] if place else None
        inside = _between(before, edge)
        if inside is not None:
            yield Piece(inside)
        yield Piece(edge, edge=True)
    beyond = _between(edges[-1], None)
    if beyond is not None:
        yield Piece(beyond)


def _between(low: Any, high: Any) -> object:
    if isinstance(low, date) or isinstance(high, date):
        if low is None:
            return None if high == date.min else high - timedelta(days=1)
        if high is None:
            return None if low == date.max else low + timedelta(days=1)
        return low + timedelta(days=1) if high - low > timedelta(days=1) else None
    if low is None:
        return high - 1
    return low + 1 if high is None else (Fraction(low) + high) / 2


# --- asking both -----------------------------------------------------------------------------------------------


_Both = tuple[Cell | None, Cell | None]
"""A cell of the older and of the newer table; None: no row."""


def _of_column(
    old: TableText, new: TableText, column: str, axes: list[list[Piece]], texts: dict[object, str]
) -> Iterator[CellChange]:
    """The changes of one column: the last key is put together again where it changed alike."""
    *outer, inner = axes
    for others in product(*outer):
        run: list[Piece] = []
        held: _Both | None = None
        ends: list[tuple[list[Piece], _Both]] = []
        for piece in inner:
            keys = tuple(one.value for one in (*others, piece))
            pair = (_cell(old, column, keys), _cell(new, column, keys))
            changed = None if same_cell(*pair) else pair
            if run and held is not None and (changed is None or not _alike(held, changed)):
                ends.append((run, held))
                run = []
            held = changed
            if changed is not None:
                run = [*run, piece]
        if run and held is not None:
            ends.append((run, held))
        for pieces, (before, after) in _words_together(ends):
            told = [piece.words for piece in others if piece.value != _OTHER or len(outer) > 0]
            where = ", ".join(filter(None, (*told, _stretch_words(pieces, inner, texts))))
            yield CellChange(column, where, before, after)


def _words_together(ends: list[tuple[list[Piece], _Both]]) -> list[tuple[list[Piece], _Both]]:
    """Words that changed alike in one; stretches stay as they are."""
    found: list[tuple[list[Piece], _Both]] = []
    for pieces, pair in ends:
        last = next(
            (one for one in found if one[0][0].words and pieces[0].words and _alike(one[1], pair)), None
        )
        if last is None:
            found.append((list(pieces), pair))
        else:
            last[0].extend(pieces)
    return found


def _cell(table: TableText, column: str, keys: tuple[object, ...]) -> Cell | None:
    return next((row.results.get(column) for row in table.read if row.holds(keys)), None)


def _alike(a: _Both, b: _Both) -> bool:
    return same_cell(a[0], b[0]) and same_cell(a[1], b[1])


def same_cell(a: Cell | None, b: Cell | None) -> bool:
    """Whether two cells say the same; a list is the same in any order."""
    if a is None or b is None:
        return a is b
    if isinstance(a.value, NoLimit) or isinstance(b.value, NoLimit):
        return isinstance(a.value, NoLimit) and isinstance(b.value, NoLimit)
    if isinstance(a.value, tuple) and isinstance(b.value, tuple):
        return sorted(map(_form, a.value), key=repr) == sorted(map(_form, b.value), key=repr)
    return bool(_form(a.value) == _form(b.value))


def _form(value: object) -> object:
    return fold(value) if isinstance(value, str) else value


# --- words -----------------------------------------------------------------------------------------------------


def cell_text(cell: Cell | None) -> str:
    """A cell as the rulebook shows it."""
    if cell is None:
        return "no row"
    if isinstance(cell.value, NoLimit):
        return "no limit"
    return show_value(cell.value, NUMBER, cell.unit)


def _stretch_words(pieces: list[Piece], axis: list[Piece], texts: dict[object, str]) -> str:
    if len(pieces) == len(axis):
        return ""
    if pieces[0].words:
        return " or ".join(piece.words for piece in pieces)
    first, last = pieces[0], pieces[-1]
    if first.edge and first is last:
        return f"at {_edge_text(first.value, texts)}"
    before = axis[axis.index(first) - 1] if axis.index(first) else None
    after = axis[axis.index(last) + 1] if axis.index(last) + 1 < len(axis) else None
    low = f"from {_edge_text(first.value, texts)}" if first.edge else ""
    if not low and before is not None:
        low = f"above {_edge_text(before.value, texts)}"
    high = f"up to {_edge_text(last.value, texts)}" if last.edge else ""
    if not high and after is not None:
        high = f"below {_edge_text(after.value, texts)}"
    return " ".join(filter(None, (low, high)))


def _edge_texts(table: TableText, currency: str | None) -> dict[object, str]:
    """Edges and single values as they are written in the table."""
    found: dict[object, str] = {}
    for row in table.rows:
        for key in table.keys:
            written = row.get(key, "")
            for text in [*_EDGES.findall(written), written]:
                try:
                    found.setdefault(parse_literal(text, currency).value, text)
                except LiteralError:
                    continue
    return found


def _edge_text(value: object, texts: dict[object, str]) -> str:
    return texts.get(value) or show_value(value, NUMBER, None)
