"""`tables:` limits that depend on keys, used in formulas like functions.

Edges must meet exactly: a gap between bands, an overlap, or an edge that two bands own is an error when the
pack is read. Only a row with `any` may overlap others, and it applies where no earlier row does.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import islice, pairwise, product
from typing import Any

from checker.pack.model import TableText
from checker.pack.reading.cells import BandEnd, CellError, KeyCell, TableRow, ValueBand, read_key, read_result
from checker.pack.reading.source import PackSource
from checker.quantities.folding import fold
from checker.quantities.formula.functions import FUNCTIONS
from checker.quantities.formula.scope import Cell, Column, TableFunction
from checker.quantities.kind import Kind, Unknown
from checker.reading.nearest import did_you_mean

_MOST_COMBINATIONS = 2000


@dataclass(frozen=True, slots=True)
class ReadTable:
    """A table for formulas and for the book."""

    table: TableFunction
    text: TableText
    rows: tuple[TableRow, ...]
    asked: list[tuple[Kind, ...]]
    """The kinds of the keys it is asked with, for each place in a formula that does; grows while formulas are read."""


Watch = Callable[[str, int], None]
"""Told of each row that a lookup finds: the table's name and the row's place, from 0."""


def read_tables(source: PackSource, watch: Watch | None = None) -> dict[str, ReadTable]:
    """Every table of the pack by name; tables with mistakes are left out, the mistakes noted."""
    found: dict[str, ReadTable] = {}
    for name in source.mapping("tables"):
        if not source.name(name, "tables", name, what="a table"):
            continue
        if name in FUNCTIONS:
            source.key_problem(202, f"'{name}' is a function and cannot be a table", "tables", name)
            continue
        table = _read(source, name, watch)
        if table is not None:
            found[name] = table
    return found


def _read(source: PackSource, name: str, watch: Watch | None) -> ReadTable | None:
    path = ("tables", name)
    given = source.mapping(*path, what=name)
    if not source.known_keys(given, ("by", "rows"), *path, what="a table"):
        return None
    by = given.get("by")
    keys = [by] if isinstance(by, str) else by
    if (
        not isinstance(keys, list)
        or not keys
        or not all(isinstance(k, str) for k in keys)
        or len(set(keys)) < len(keys)
    ):
        source.problem(
            108, f"table {name} needs `by` with the names of its keys", *path, "by", hint="by: [capacity]"
        )
        return None
    rows_given = given.get("rows")
    if not isinstance(rows_given, list) or not rows_given:
        source.problem(108, f"table {name} needs `rows`", *path, "rows")
        return None
    read = _rows(source, name, tuple(keys), rows_given)
    if read is None:
        return None
    rows, columns = read
    key_kinds = _key_kinds(source, name, tuple(keys), rows)
    if key_kinds is None:
        return None
    rows = _begun(rows)
    if not _sound(source, name, rows):
        return None
    asked: list[tuple[Kind, ...]] = []
    table = _table(name, tuple(zip(keys, key_kinds, strict=True)), columns, tuple(rows), asked, watch)
    text = TableText(
        name,
        tuple(keys),
        tuple(columns),
        tuple(
            {k: _as_written(source, (*path, "rows", r.place, k)) for k in rows_given[r.place]} for r in rows
        ),
        tuple(rows),
    )
    return ReadTable(table, text, tuple(rows), asked)


def _as_written(source: PackSource, path: tuple[str | int, ...]) -> str:
    given = source.get(*path)
    if isinstance(given, list):
        return ", ".join(_as_written(source, (*path, place)) for place in range(len(given)))
    return given if isinstance(given, str) else source.document.written(path)


def _rows(
    source: PackSource, name: str, keys: tuple[str, ...], given: list[Any]
) -> tuple[list[TableRow], dict[str, Column]] | None:
    columns: dict[str, Kind | None] = {}
    if not isinstance(given[0], dict):
        source.problem(108, "a row holds its keys and results", "tables", name, "rows", 0)
        return None
    wanted = [key for key in given[0] if key not in keys]
    named = [source.name(column, "tables", name, "rows", 0, column, what="a column") for column in wanted]
    if not all(named):
        return None
    if not wanted:
        source.problem(
            405, f"table {name} has no result column", "tables", name, "rows", 0, hint="add value: ..."
        )
        return None
    rows: list[TableRow] = []
    failed = False
    for place, row in enumerate(given):
        path: tuple[str | int, ...] = ("tables", name, "rows", place)
        if not isinstance(row, dict):
            source.problem(108, "a row holds its keys and results", *path)
            failed = True
            continue
        missing = [column for column in (*keys, *wanted) if column not in row]
        strange = [column for column in row if column not in keys and column not in wanted]
        for column in missing if not strange else ():
            source.problem(405, f"the row has no cell for '{column}'", *path)
        for column in strange:
            source.key_problem(
                101,
                f"'{column}' is no column of table {name}; the first row has {', '.join(wanted)}",
                *path,
                column,
            )
        if missing or strange:
            failed = True
            continue
        cells = [_key(source, (*path, key)) for key in keys]
        results: dict[str, Cell] = {}
        for column in wanted:
            cell = _result(source, (*path, column), column, columns)
            if cell is None:
                failed = True
            else:
                results[column] = cell
        if None in cells:
            failed = True
            continue
        rows.append(TableRow(place, tuple(c for c in cells if c is not None), results))
    if failed:
        return None
    settled = {column: Column(kind or Kind("any")) for column, kind in columns.items()}
    for column, kind in columns.items():
        if kind is None:
            source.problem(
                403, f"column '{column}' of table {name} says nothing but no limit", "tables", name
            )
            return None
    return rows, settled


def _key(source: PackSource, path: tuple[str | int, ...]) -> KeyCell | None:
    try:
        return read_key(source.get(*path), not source.document.is_plain(path), source.currency)
    except CellError as error:
        source.problem(error.number, str(error), *path, hint=error.hint)
        return None


def _result(
    source: PackSource, path: tuple[str | int, ...], column: str, columns: dict[str, Kind | None]
) -> Cell | None:
    try:
        cell, kind = read_result(source.get(*path), not source.document.is_plain(path), source.currency)
    except CellError as error:
        source.problem(error.number, str(error), *path, hint=error.hint)
        return None
    known = columns.setdefault(column, kind)
    if known is None:
        columns[column] = kind
    elif kind is not None:
        joined = _joined(known, kind)
        if joined is None:
            source.problem(403, f"this cell is {kind}; the others of column '{column}' are {known}", *path)
            return None
        columns[column] = joined
    return cell


def _joined(a: Kind, b: Kind) -> Kind | None:
    """The kind of a column that holds both, or None."""
    if a.name == b.name == "list" and a.element is not None and b.element is not None:
        if a.element.words == ():
            return b
        if b.element.words == ():
            return a
        inner = _joined(a.element, b.element)
        return None if inner is None else inner.listed()
    if a.name != b.name or a.dimension != b.dimension:
        return None
    if a.name == "text":
        return Kind("text", words=tuple(dict.fromkeys((*(a.words or ()), *(b.words or ())))))
    return a


def _key_kinds(
    source: PackSource, name: str, keys: tuple[str, ...], rows: list[TableRow]
) -> list[Kind] | None:
    found: list[Kind] = []
    for place, key in enumerate(keys):
        kind: Kind | None = None
        for row in rows:
            cell = row.keys[place]
            if cell.kind is None:
                continue
            if kind is not None and (kind.name, kind.dimension) != (cell.kind.name, cell.kind.dimension):
                source.problem(
                    403,
                    f"this cell is {cell.kind}; the others of key '{key}' are {kind}",
                    "tables",
                    name,
                    "rows",
                    row.place,
                    key,
                )
                return None
            words = (*(kind.words or () if kind else ()), *cell.words)
            kind = Kind("text", words=words) if cell.kind.is_word else cell.kind
        found.append(kind or Kind("any"))
    return found


def _begun(rows: list[TableRow]) -> list[TableRow]:
    """Bands with one upper edge begin where the row before with the same other keys ends."""
    begun: list[TableRow] = []
    for at, row in enumerate(rows):
        keys = list(row.keys)
        for place, cell in enumerate(keys):
            if not cell.only_upper or cell.band is None or cell.band.high is None:
                continue
            ends = (
                end
                for before in reversed(rows[:at])
                if _same_others(before, row, place) and (end := _upper(before, place)) is not None
            )
            end = next(ends, None)
            if end is None or _lies_beyond(end, cell.band.high):
                continue  # the first, or not in rising order and so found as an overlap
            keys[place] = replace(cell, band=ValueBand(BandEnd(end.value, not end.owned), cell.band.high))
        begun.append(replace(row, keys=tuple(keys)))
    return begun


def _lies_beyond(end: BandEnd, high: BandEnd) -> bool:
    """Whether nothing is left between the end of one band and the upper edge of the next."""
    return bool(end.value > high.value or (end.value == high.value and end.owned))


def _upper(row: TableRow, place: int) -> BandEnd | None:
    band = row.keys[place].band
    return None if band is None else band.high


def _same_others(a: TableRow, b: TableRow, place: int) -> bool:
    """Whether the key cells but one are the same."""
    for i, (x, y) in enumerate(zip(a.keys, b.keys, strict=True)):
        if i == place:
            continue
        if x.is_any != y.is_any or set(x.values) != set(y.values) or (x.band is None) != (y.band is None):
            return False
        if x.band is not None and y.band is not None and x.band != y.band:
            return False
    return True


def _sound(source: PackSource, name: str, rows: list[TableRow]) -> bool:
    """No overlap but under `any`, no gap, no edge with two owners (401, 402)."""
    sound = True
    for i, row in enumerate(rows):
        for other in rows[:i]:
            if row.has_any or other.has_any:
                continue
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
    for a, b in zip(row.keys, other.keys, strict=True):
        if a.band and b.band and a.band.low and b.band.high and a.band.low.value == b.band.high.value:
            return ": both own the edge"
    return ""


def _no_gaps(source: PackSource, name: str, rows: list[TableRow], place: int) -> bool:
    """Bands that follow each other, with the same other keys, leave no value between them without a row."""
    sound = True
    waiting = [row for row in rows if row.keys[place].band is not None]
    while waiting:
        group = [row for row in waiting if row is waiting[0] or _same_others(row, waiting[0], place)]
        waiting = [row for row in waiting if row not in group]
        group.sort(key=lambda row: _low_place(row.keys[place].band))
        for before, after in pairwise(group):
            high, low = _upper(before, place), _lower(after, place)
            if high is None or low is None or high.value > low.value:
                continue  # an overlap, reported as such
            if (high.value < low.value or not (high.owned or low.owned)) and not _filled(
                rows, before, after, place
            ):
                source.problem(
                    401,
                    f"table {name} has a gap below this row: no row holds "
                    + (
                        "the edge itself"
                        if high.value == low.value
                        else "what lies between it and the row before"
                    ),
                    "tables",
                    name,
                    "rows",
                    after.place,
                    hint="let the edges meet: `up to 1300 cc` is followed by `above 1300 cc`, `below` by `from`",
                )
                sound = False
    return sound


def _filled(rows: list[TableRow], before: TableRow, after: TableRow, place: int) -> bool:
    """Whether a row with `any` holds all that lies between two bands."""
    high, low = _upper(before, place), _lower(after, place)
    if high is None or low is None:
        return False
    for row in rows:
        cell = row.keys[place]
        across = cell.is_any or (
            cell.band is not None and cell.band.holds(high.value) and cell.band.holds(low.value)
        )
        others = (c.is_any or c == before.keys[i] for i, c in enumerate(row.keys) if i != place)
        if across and row.has_any and all(others):
            return True
    return False


def _lower(row: TableRow, place: int) -> BandEnd | None:
    band = row.keys[place].band
    return None if band is None else band.low


def _low_place(band: ValueBand | None) -> tuple[bool, Any, bool]:
    """For sorting by the lower edge; an open end comes first."""
    if band is None or band.low is None:
        return (False, 0, False)
    return (True, band.low.value, not band.low.owned)


def _table(
    name: str,
    keys: tuple[tuple[str, Kind], ...],
    columns: dict[str, Column],
    rows: tuple[TableRow, ...],
    asked: list[tuple[Kind, ...]],
    watch: Watch | None,
) -> TableFunction:
    def lookup(values: tuple[Any, ...]) -> Any:
        row = _closest(rows, values)
        if isinstance(row, TableRow):
            if watch is not None:
                watch(name, row.place)
            return row.results
        told = ", ".join(f"{key} {_shown(value)}" for (key, _), value in zip(keys, values, strict=True))
        what = "no row" if row is None else "several rows, none of them the nearest,"
        return Unknown(reasons=(f"table {name} has {what} for {told}",))

    def check_words(given: tuple[Kind, ...]) -> tuple[int, int, str, str] | None:
        asked.append(given)
        return _uncovered(name, rows, given)

    edges = tuple(_edges(rows, place) for place in range(len(keys)))
    words = tuple(tuple(word for row in rows for word in row.keys[place].words) for place in range(len(keys)))
    return TableFunction(name, keys, columns, lookup, check_words=check_words, words=words, edges=edges)


def _closest(rows: tuple[TableRow, ...], values: tuple[Any, ...]) -> TableRow | list[TableRow] | None:
    """The row for the keys: the first that holds, but of rows for families the nearest; those that are equally near."""
    held = [row for row in rows if row.holds(values)]
    first_any = next((place for place, row in enumerate(held) if row.has_any), len(held))
    named = held[:first_any]
    if not named:
        return held[0] if held else None
    nearest = [row for row in named if not any(other.nearer(row, values) for other in named)]
    return nearest[0] if len(nearest) == 1 else nearest


def _edges(rows: tuple[TableRow, ...], place: int) -> tuple[Fraction, ...]:
    """Where the bands of one key begin and end, from low to high; only numbers, for days are never uncertain."""
    bands = [row.keys[place].band for row in rows]
    ends = {
        end.value for band in bands if band is not None for end in (band.low, band.high) if end is not None
    }
    return tuple(sorted(end for end in ends if isinstance(end, Fraction)))


def _shown(value: Any) -> str:
    from checker.quantities.display import show_value
    from checker.quantities.kind import NUMBER

    return show_value(value, NUMBER, None)


def _uncovered(
    name: str, rows: tuple[TableRow, ...], given: tuple[Kind, ...]
) -> tuple[int, int, str, str] | None:
    """A listed word that a key can be and no row covers (404)."""
    choices = [(True, False) if kind.name == "truth" else kind.words for kind in given]
    listed = [place for place, words in enumerate(choices) if words is not None]
    combinations = list(islice(product(*(choices[place] or () for place in listed)), _MOST_COMBINATIONS))
    if not listed:
        return None
    for combination in combinations:
        if not any(
            all(row.keys[p].holds(v) for p, v in zip(listed, combination, strict=True)) for row in rows
        ):
            told = ", ".join(f"'{_shown(value)}'" for value in combination)
            return listed[0], 404, f"table {name} has no row for {told}", "add a row, or one with any"
    return None


def refuse_strange_words(source: PackSource, tables: Mapping[str, ReadTable]) -> None:
    """A word of a key cell that none of the keys the table is asked with can ever be (204)."""
    for name, table in tables.items():
        for place, (key, _) in enumerate(table.table.keys):
            kinds = [asked[place] for asked in table.asked]
            if not kinds or any(kind.words is None for kind in kinds):
                continue
            possible = [word for kind in kinds for word in kind.words or ()]
            folded = {fold(word) for word in possible}
            for row in table.rows:
                for word in row.keys[place].words:
                    if fold(word) not in folded:
                        hint = (
                            did_you_mean(word, possible) or f"possible: {', '.join(dict.fromkeys(possible))}"
                        )
                        message = f"'{word}' is nothing that the key {key} can be"
                        source.problem(204, message, "tables", name, "rows", row.place, key, hint=hint)
