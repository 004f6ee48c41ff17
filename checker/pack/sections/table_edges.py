"""Where the bands of a table begin and end: each edge has one owner, and nothing lies between two bands.

Only a row with `any` may overlap others, and it may fill what lies between two bands.
"""

from __future__ import annotations

from itertools import islice, pairwise, product
from typing import Any

from checker.pack.reading.cells import BandEnd, KeyCell, TableRow, ValueBand
from checker.pack.reading.source import PackSource
from checker.pack.sections.key_values import MOST_COMBINATIONS, standing_for
from checker.reading.quick_dataclasses import replace


def begun(rows: list[TableRow]) -> list[TableRow]:
    """Bands with one upper edge begin where the row before with the same other keys ends."""
    made: list[TableRow] = []
    for at, row in enumerate(rows):
        keys = list(row.keys)
        for place, cell in enumerate(keys):
            if not cell.only_upper or cell.band is None or cell.band.high is None:
                continue
            befores = (before for before in reversed(rows[:at]) if _same_others(before, row, place))
            end = next((end for before in befores if (end := _ends(before, place)[1])), None)
            if end is None or _lies_beyond(end, cell.band.high):
                continue  # the first, or not in rising order and so found as an overlap
            keys[place] = replace(cell, band=ValueBand(BandEnd(end.value, not end.owned), cell.band.high))
        made.append(replace(row, keys=tuple(keys)))
    return made


def _lies_beyond(end: BandEnd, high: BandEnd) -> bool:
    """Whether nothing is left between the end of one band and the upper edge of the next."""
    return bool(end.value > high.value or (end.value == high.value and end.owned))


def _ends(row: TableRow, place: int) -> tuple[BandEnd | None, BandEnd | None]:
    """The lower and the upper edge of a row's band; none where it is open or no band."""
    band = row.keys[place].band
    return (None, None) if band is None else (band.low, band.high)


def _same_others(a: TableRow, b: TableRow, place: int) -> bool:
    """Whether the key cells but one are the same."""

    def others(row: TableRow) -> list[Any]:
        cells = (*row.keys[:place], *row.keys[place + 1 :])
        return [(cell.is_any, set(cell.values), cell.band) for cell in cells]

    return others(a) == others(b)


def edges_are_sound(source: PackSource, name: str, rows: list[TableRow]) -> bool:
    """No overlap but under `any`, no gap, no edge with two owners (401, 402 noted)."""
    sound = True
    certain = [row for row in rows if not row.has_any]
    for i, row in enumerate(certain):
        for other in certain[:i]:
            if all(a.meets(b) for a, b in zip(row.keys, other.keys, strict=True)):
                source.problems.add(
                    "PK402",
                    f"this row of table {name} overlaps row {other.place + 1}{_shared(row, other)}",
                    source.document.span(("tables", name, "rows", row.place)),
                    hint="up to X and above X give the edge to the lower band, below X and from X to the upper one",
                    related=(
                        ("overlaps this row", source.document.span(("tables", name, "rows", other.place))),
                    ),
                )
                sound = False
    for place in range(len(rows[0].keys)):
        sound &= _no_gaps(source, name, rows, place)
    return sound


def _shared(row: TableRow, other: TableRow) -> str:
    def touch(a: KeyCell, b: KeyCell) -> bool:
        return bool(
            a.band and b.band and a.band.low and b.band.high and a.band.low.value == b.band.high.value
        )

    return ": both own the edge" if any(map(touch, row.keys, other.keys)) else ""


def _no_gaps(source: PackSource, name: str, rows: list[TableRow], place: int) -> bool:
    """Bands that follow each other, with the same other keys, leave no value between them without a row."""
    sound = True
    waiting = [row for row in rows if row.keys[place].band is not None]
    while waiting:
        group = [row for row in waiting if _same_others(row, waiting[0], place)]
        grouped = {row.place for row in group}
        waiting = [row for row in waiting if row.place not in grouped]
        group.sort(key=lambda row: _low_place(_ends(row, place)[0]))
        for before, after in pairwise(group):
            high, low = _ends(before, place)[1], _ends(after, place)[0]
            if high is None or low is None or high.value > low.value:
                continue  # an overlap, reported as such
            if high.value == low.value and (high.owned or low.owned):
                continue
            if _filled(rows, before, place, high, low):
                continue
            where = (
                "the edge itself" if high.value == low.value else "what lies between it and the row before"
            )
            message = f"table {name} has a gap below this row: no row holds {where}"
            hint = "let the edges meet: `up to 1300 cc` is followed by `above 1300 cc`, `below` by `from`"
            source.problem(401, message, "tables", name, "rows", after.place, hint=hint)
            sound = False
    return sound


def _filled(rows: list[TableRow], before: TableRow, place: int, high: BandEnd, low: BandEnd) -> bool:
    """Whether other rows hold all that lies between the end of one band and the beginning of the next."""
    gap = ValueBand(BandEnd(high.value, not high.owned), BandEnd(low.value, not low.owned))
    asked = [
        [
            value
            for value in standing_for(rows, at)
            if (gap.holds(value) if at == place else cell.holds(value))
        ]
        for at, cell in enumerate(before.keys)
    ]
    return all(
        any(row.holds(values) for row in rows) for values in islice(product(*asked), MOST_COMBINATIONS)
    )


def _low_place(low: BandEnd | None) -> tuple[bool, object, bool]:
    """For sorting by the lower edge; an open end comes first."""
    return (False, 0, False) if low is None else (True, low.value, not low.owned)
