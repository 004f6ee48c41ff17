"""A table as formulas ask it: the row for given keys, and words of keys that no row or no key can have."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from itertools import islice, product

from checker.pack.reading.cells import TableRow
from checker.pack.reading.source import PackSource
from checker.pack.sections.key_values import MOST_COMBINATIONS
from checker.quantities.amount import Amount
from checker.quantities.folding import fold
from checker.quantities.formula.scope import Cell, TableFunction
from checker.quantities.kind import NUMBER, Kind, Unknown
from checker.quantities.reason import NoValue
from checker.reading.nearest import did_you_mean
from checker.reading.quick_dataclasses import replace

Watch = Callable[[str, int], None]
"""Told of each row that a lookup finds: the table's name and the row's place, from 0."""


def table_function(
    name: str,
    keys: tuple[tuple[str, Kind], ...],
    columns: dict[str, Kind],
    rows: tuple[TableRow, ...],
    asked: list[tuple[Kind, ...]],
    watch: Watch | None,
) -> TableFunction:
    """The table for formulas; the kinds of the keys that each place asks with are added to `asked`."""

    def lookup(values: tuple[object, ...]) -> object:
        row = closest_row(rows, values)
        if isinstance(row, TableRow):
            if watch is not None:
                watch(name, row.place)
            return row.results
        asked_for = zip(keys, units, values, strict=True)
        told = [part for (key, kind), unit, x in asked_for for part in (f", {key} ", Amount(x, kind, unit))]
        why = NoValue.NO_ROW if row is None else NoValue.SEVERAL_ROWS
        return Unknown.because(why, name, (f"{keys[0][0]} ", *told[1:]))

    units = [next((row.keys[at].unit for row in rows if row.keys[at].unit), None) for at in range(len(keys))]

    def check_words(given: tuple[Kind, ...]) -> tuple[int, int, str, str] | None:
        asked.append(given)
        return _uncovered(name, rows, given)

    edges = tuple(_edges(rows, place) for place in range(len(keys)))
    words = tuple(tuple(word for row in rows for word in row.keys[place].words) for place in range(len(keys)))
    return TableFunction(name, keys, columns, lookup, check_words=check_words, words=words, edges=edges)


def between_rows(table: TableFunction, rows: tuple[TableRow, ...], watch: Watch | None) -> TableFunction:
    """The same table, which gives between two neighbouring values of its last key what lies between their rows."""
    points = sorted({_amount(row.keys[-1].values[0]) for row in rows})
    at_a_row = table.lookup

    def row_at(others: tuple[object, ...], point: Fraction) -> TableRow | None:
        found = closest_row(rows, (*others, point))
        return found if isinstance(found, TableRow) else None

    def lookup(values: tuple[object, ...]) -> object:
        *others, value = values
        found = [(point, row) for point in points if (row := row_at(tuple(others), point)) is not None]
        below = [pair for pair in found if pair[0] <= _amount(value)][-1:]
        above = [pair for pair in found if pair[0] >= _amount(value)][:1]
        if not below or not above or below == above:
            return at_a_row(values)
        (low, before), (high, after) = below[0], above[0]
        if watch is not None:
            watch(table.name, before.place)
            watch(table.name, after.place)
        share = (_amount(value) - low) / (high - low)
        made: dict[str, Cell] = {}
        for column, cell in before.results.items():
            start, end = _amount(cell.value), _amount(after.results[column].value)
            made[column] = Cell(start + share * (end - start), cell.unit)
        return made

    ends = (points[0], points[-1])
    return replace(table, lookup=lookup, degree=2, edges=(*table.edges[:-1], ends))


def _amount(value: object) -> Fraction:
    assert isinstance(value, Fraction), "keys and results between rows are amounts"
    return value


def closest_row(rows: tuple[TableRow, ...], values: tuple[object, ...]) -> TableRow | list[TableRow] | None:
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
    bands = [band for row in rows if (band := row.keys[place].band) is not None]
    ends = {end.value for band in bands for end in (band.low, band.high) if end is not None}
    return tuple(sorted(end for end in ends if isinstance(end, Fraction)))


def _shown(value: object) -> str:
    from checker.quantities.display import show_value

    return show_value(value, NUMBER, None)


def _uncovered(
    name: str, rows: tuple[TableRow, ...], given: tuple[Kind, ...]
) -> tuple[int, int, str, str] | None:
    """A listed word that a key can be and no row covers (404)."""
    choices = [(True, False) if kind.name == "truth" else kind.words for kind in given]
    listed = [place for place, words in enumerate(choices) if words is not None]
    if not listed:
        return None
    for combination in islice(product(*(choices[place] or () for place in listed)), MOST_COMBINATIONS):
        asked = list(zip(listed, combination, strict=True))
        if not any(all(row.keys[place].holds(word) for place, word in asked) for row in rows):
            told = ", ".join(f"'{_shown(value)}'" for value in combination)
            return listed[0], 404, f"table {name} has no row for {told}", "add a row, or one with any"
    return None


def refuse_strange_words(
    source: PackSource, table: TableFunction, rows: tuple[TableRow, ...], asked: list[tuple[Kind, ...]]
) -> None:
    """A word of a key cell that none of the keys the table is asked with can ever be (204)."""
    for place, (key, _) in enumerate(table.keys):
        kinds = [given[place] for given in asked]
        if not kinds or any(kind.words is None for kind in kinds):
            continue
        possible = [word for kind in kinds for word in kind.words or ()]
        folded = {fold(word) for word in possible}
        for row in rows:
            for word in row.keys[place].words:
                if fold(word) not in folded:
                    hint = did_you_mean(word, possible) or f"possible: {', '.join(dict.fromkeys(possible))}"
                    message = f"'{word}' is nothing that the key {key} can be"
                    source.problem(204, message, "tables", table.name, "rows", row.place, key, hint=hint)
