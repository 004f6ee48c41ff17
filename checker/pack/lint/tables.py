"""Rows of tables that no car can find, because rows before them hold all that they hold."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import product
from math import prod

from checker.pack.model import Pack, TableText
from checker.pack.reading.cells import TableRow
from checker.pack.sections.key_values import standing_for
from checker.pack.sections.table_lookup import closest_row
from checker.reading.problems import Path, Problem

_MOST_COMBINATIONS = 20000


def unreachable_rows(pack: Pack) -> Iterator[Problem]:
    """Rows that other rows leave no car (406): an `any` row that stands first, a `true` written for a `false`."""
    for name, table in pack.tables.items():
        keys = [standing_for(table.read, place) for place in range(len(table.keys))]
        found = _found(table, keys)
        for row in table.read:
            if row.place in found:
                continue
            held = list(product(*(filter(cell.holds, key) for cell, key in zip(row.keys, keys, strict=True))))
            first = next(
                (b.place + 1 for b in table.read if b.place < row.place and all(map(b.holds, held))), None
            )
            whose = "rows before it hold" if first is None else f"row {first} before it holds"
            path: Path = ("tables", name, "rows", row.place)
            yield Problem(
                "PK406",
                f"no car ever finds this row of table {name}: {whose} all that it holds",
                pack.document.span(path),
                hint="put the row with any last, or correct the key",
                warning=True,
            )


def _found(table: TableText, keys: list[list[object]]) -> frozenset[int]:
    """The places of all rows that some keys find; every place where there are too many combinations to look at."""
    if prod(map(len, keys)) > _MOST_COMBINATIONS:
        return frozenset(row.place for row in table.read)
    rows = (closest_row(table.read, values) for values in product(*keys))
    return frozenset(row.place for row in rows if isinstance(row, TableRow))
