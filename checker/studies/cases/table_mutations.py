"""Mutations of tables: each edge moved, each edge given to its neighbour, each result changed."""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction
from typing import Any

from checker.pack.model import TableText
from checker.reading.document import REMOVE, Document, Edit
from checker.reading.patterns import pattern
from checker.reading.printer import number_text
from checker.reading.problems import Path, Span
from checker.studies.cases.misprints import moved, moved_number

Made = tuple[str, Span, tuple[Edit, ...]]
"""What was changed, where, and the changes."""

_EDGE = pattern(r"\b(from|above|up\s+to|below|before)\s+(.+?)(?=\s+(?:from|above|up\s+to|below|before)\s|\Z)")
_OTHER_OWNER = {"up to": "below", "below": "up to", "before": "up to", "above": "from", "from": "above"}


def table_mutations(document: Document, table: TableText) -> Iterator[Made]:
    """Every mutation of one table that leaves it without gaps or overlaps."""
    rows: Path = ("tables", table.name, "rows")
    if table.interpolated:
        between: Path = ("tables", table.name, "interpolate")
        yield "interpolate: without values between rows", document.span(between), (Edit(between, REMOVE),)
    for key in table.keys:
        yield from _edges(document, table, rows, key)
    for place, row in enumerate(table.rows):
        for column in table.columns:
            if column in row:
                yield from _result(document, table, rows, place, column)


def _edges(document: Document, table: TableText, rows: Path, key: str) -> Iterator[Made]:
    """An edge is written in one or more cells; all of them are changed together."""
    cells = {place: document.get((*rows, place, key)) for place in range(len(table.rows))}
    edges: dict[str, list[int]] = {}
    for place, cell in cells.items():
        for found in _EDGE.finditer(cell) if isinstance(cell, str) else ():
            edges.setdefault(found[2].strip(), []).append(place)
    for edge, places in edges.items():
        span = document.span((*rows, places[0], key))
        for other in moved(edge):
            changes = tuple(
                Edit((*rows, place, key), _with_edge(str(cells[place]), edge, other))
                for place in dict.fromkeys(places)
            )
            yield f"{key}: {edge} as {other}", span, changes
        turned = tuple(
            Edit((*rows, place, key), _with_owner(str(cells[place]), edge)) for place in dict.fromkeys(places)
        )
        yield f"{key}: {edge} itself on the other side", span, turned


def _with_edge(cell: str, edge: str, other: str) -> str:
    return _EDGE.sub(lambda found: f"{found[1]} {other if found[2].strip() == edge else found[2]}", cell)


def _with_owner(cell: str, edge: str) -> str:
    def turned(found: re.Match[str]) -> str:
        word = " ".join(found[1].split())
        return f"{_OTHER_OWNER[word]} {found[2]}" if found[2].strip() == edge else found[0]

    return _EDGE.sub(turned, cell)


def _result(document: Document, table: TableText, rows: Path, place: int, column: str) -> Iterator[Made]:
    path: Path = (*rows, place, column)
    given, span = document.get(path), document.span(path)
    shown = f"row {place + 1}, {column}"
    if isinstance(given, list):
        for entry, word in enumerate(given):
            yield f"{shown}: without {word}", document.span((*path, entry)), (Edit((*path, entry), REMOVE),)
        return
    for other in _others(document, table, rows, place, column):
        before = given if isinstance(given, str) else document.written(path)
        yield f"{shown}: {before} as {value_text(other)}", span, (Edit(path, other),)


def _others(document: Document, table: TableText, rows: Path, place: int, column: str) -> Iterator[Any]:
    """What might stand in a result cell by mistake."""
    path: Path = (*rows, place, column)
    given = document.get(path)
    if isinstance(given, bool):
        yield not given
    elif isinstance(given, (int, Fraction)):
        yield from moved_number(given, document.written(path))
    elif isinstance(given, str):
        changed = list(moved(given)) if any(c.isdigit() for c in given) and document.is_plain(path) else []
        yield from changed
        if not changed:
            cells = [document.get((*rows, other, column)) for other in range(len(table.rows))]
            yield from [cell for cell in cells if not isinstance(cell, list) and cell != given][:1]


def value_text(value: Any) -> str:
    """A value as a pack states it."""
    if isinstance(value, bool):
        return "true" if value else "false"
    return value if isinstance(value, str) else number_text(value)
