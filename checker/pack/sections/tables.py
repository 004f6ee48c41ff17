"""`tables:` limits that depend on keys, used in formulas like functions.

Edges must meet exactly: a gap between bands, an overlap, or an edge that two bands own is an error when the
pack is read. Only a row with `any` may overlap others, and it applies where no earlier row does.
"""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from typing import TypeVar

from checker.pack.model import TableText
from checker.pack.reading.cells import CellError, TableRow, Word, read_key, read_result, tells_words
from checker.pack.reading.source import PackSource
from checker.pack.sections.table_edges import begun, edges_are_sound
from checker.pack.sections.table_lookup import Watch, between_rows, table_function
from checker.quantities.formula.functions import FUNCTIONS
from checker.quantities.formula.scope import TableFunction
from checker.quantities.kind import Kind
from checker.reading.problems import Path
from checker.reading.quick_dataclasses import dataclass, field
from checker.reading.values import Plain

C = TypeVar("C")

MOST_ROWS = 500
"""Of a table. Each row is held against each other, so that no two own an edge."""

_WORDS_HINT = "if the column holds words, put its first cell in quotes"


@dataclass(frozen=True, slots=True)
class ReadTable:
    """A table for formulas and for the book."""

    table: TableFunction
    text: TableText
    asked: list[tuple[Kind, ...]]
    """The kinds of the keys it is asked with, for each place in a formula that does; grows while formulas are read."""


def read_tables(source: PackSource, watch: Watch | None = None) -> dict[str, ReadTable]:
    """Every table of the pack by name; tables with mistakes are left out, the mistakes noted."""
    found: dict[str, ReadTable] = {}
    for name in source.mapping("tables"):
        if not source.name(name, "tables", name, what="a table"):
            continue
        if name in FUNCTIONS:
            source.key_problem(202, f"'{name}' is a function and cannot be a table", "tables", name)
            continue
        table = read_table(source, name, watch)
        if table is not None:
            found[name] = table
    return found


def read_table(source: PackSource, name: str, watch: Watch | None = None) -> ReadTable | None:
    """One table; None where it has mistakes, which are noted."""
    path = ("tables", name)
    given = source.mapping(*path)
    if not source.known_keys(("by", "rows", "interpolate"), *path, what="a table"):
        return None
    by = given.get("by")
    named = by if isinstance(by, list) else [by]
    keys = [key for key in named if isinstance(key, str)]
    if not keys or len(set(keys)) < len(named):
        message = f"table {name} needs `by` with the names of its keys"
        source.problem(108, message, *path, "by", hint="by: [capacity]")
        return None
    written = given.get("rows")
    if not isinstance(written, list) or not written:
        source.problem(108, f"table {name} needs `rows`", *path, "rows")
        return None
    if len(written) > MOST_ROWS:
        message = f"table {name} has {len(written)} rows; at most {MOST_ROWS} are read"
        source.problem(117, message, *path, "rows", hint="words in great number are a list of `words_from`")
        return None
    reader = _RowReader(source, name, tuple(keys))
    rows = reader.rows(written)
    if rows is None:
        return None
    interpolated = "interpolate" in given
    if interpolated and not _can_be_interpolated(source, reader, rows):
        return None
    rows = begun(rows)
    if not edges_are_sound(source, name, rows):
        return None
    asked: list[tuple[Kind, ...]] = []
    key_kinds = tuple((key, reader.kinds[key] or Kind("any")) for key in keys)
    columns = {column: kind for column, kind in reader.kinds.items() if kind and column not in keys}
    table = table_function(name, key_kinds, columns, tuple(rows), asked, watch=watch)
    if interpolated:
        table = between_rows(table, tuple(rows), watch)
    cells = (
        {
            key: _as_written(source, (*path, "rows", row.place, key))
            for key in source.mapping(*path, "rows", row.place)
        }
        for row in rows
    )
    text = TableText(
        name, tuple(keys), tuple(columns), tuple(cells), read=tuple(rows), interpolated=interpolated
    )
    return ReadTable(table, text, asked)


def _can_be_interpolated(source: PackSource, reader: _RowReader, rows: list[TableRow]) -> bool:
    """Whether the last key holds single amounts and every result is one (else a problem is noted)."""
    path = ("tables", reader.name)
    if source.get(*path, "interpolate") != "linear":
        source.problem(108, "`interpolate` is linear", *path, "interpolate", hint="interpolate: linear")
        return False
    key = reader.keys[-1]
    for row in rows:
        cell = row.keys[-1]
        if cell.band is not None or len(cell.values) != 1 or not isinstance(cell.values[0], Fraction):
            message = f"between rows there are values only where the key {key} holds single amounts"
            source.problem(403, message, *path, "rows", row.place, key)
            return False
        for column, result in row.results.items():
            if not isinstance(result.value, Fraction):
                message = "between rows there are values only where every result is an amount"
                source.problem(403, message, *path, "rows", row.place, column)
                return False
    return True


def _as_written(source: PackSource, path: Path) -> str:
    given = source.get(*path)
    if isinstance(given, list):
        return ", ".join(_as_written(source, (*path, place)) for place in range(len(given)))
    return source.written(*path)


@dataclass(slots=True)
class _RowReader:
    """Reads the rows of one table, and from their cells of what kind each key and column is."""

    source: PackSource
    name: str
    keys: tuple[str, ...]
    kinds: dict[str, Kind | None] = field(default_factory=dict)
    """None: nothing but `any`, or `no limit`, so far."""
    words: set[str] = field(default_factory=set)
    """Keys and columns that hold words."""
    first: dict[str, Path] = field(default_factory=dict)
    """Where the first cell of each stands that tells of what kind it is."""

    def rows(self, given: list[Plain]) -> list[TableRow] | None:
        """Every row, or None where one has a mistake, which is noted."""
        path = ("tables", self.name, "rows")
        first = given[0]
        if not isinstance(first, dict):
            self.source.problem(108, "a row holds its keys and results", *path, 0)
            return None
        wanted = tuple(key for key in first if key not in self.keys)
        sound = [self.source.name(column, *path, 0, column, what="a column") for column in wanted]
        if not all(sound):
            return None
        if not wanted:
            message = f"table {self.name} has no result column"
            self.source.problem(405, message, *path, 0, hint="add value: ...")
            return None
        self.words = {column for column in (*self.keys, *wanted) if self._holds_words(column, given)}
        read = [self._row(place, row, wanted) for place, row in enumerate(given)]
        rows = [row for row in read if row is not None]
        if len(rows) < len(read):
            return None
        for column in wanted:
            if self.kinds[column] is None:
                message = f"column '{column}' of table {self.name} says nothing but no limit"
                self.source.problem(403, message, *path[:2])
                return None
        return rows

    def _holds_words(self, column: str, rows: list[Plain]) -> bool:
        """Whether the first cell of a column that tells what it is is a word: then all of them are."""
        source = self.source
        for place in range(len(rows)):
            for where in source.one_or_several("tables", self.name, "rows", place, column):
                told = tells_words(source.get(*where), not source.document.is_plain(where), source.currency)
                if told is not None:
                    return told
        return False

    def _given(self, path: Path, column: str) -> object:
        """What stands in a cell; in a column of words its numbers as they are written."""
        given = self.source.get(*path)
        if column not in self.words or isinstance(given, bool) or given is None:
            return given
        if isinstance(given, list):
            return [self._given((*path, at), column) for at in range(len(given))]
        return Word(self.source.written(*path))

    def _row(self, place: int, row: object, wanted: tuple[str, ...]) -> TableRow | None:
        path: Path = ("tables", self.name, "rows", place)
        if not isinstance(row, dict):
            self.source.problem(108, "a row holds its keys and results", *path)
            return None
        strange = [column for column in row if column not in self.keys and column not in wanted]
        missing = [column for column in (*self.keys, *wanted) if column not in row]
        for column in missing if not strange else ():
            self.source.problem(405, f"the row has no cell for '{column}'", *path)
        for column in strange:
            message = f"'{column}' is no column of table {self.name}; the first row has {', '.join(wanted)}"
            self.source.key_problem(101, message, *path, column)
        if missing or strange:
            return None
        cells = [self._cell((*path, key), read_key) for key in self.keys]
        results = {column: self._cell((*path, column), read_result) for column in wanted}
        keys = tuple(cell for cell in cells if cell is not None)
        found = {column: cell for column, cell in results.items() if cell is not None}
        return TableRow(place, keys, found) if len(keys) + len(found) == len(cells) + len(results) else None

    def _cell(
        self, path: Path, read: Callable[[object, bool, str | None], tuple[C, Kind | None]]
    ) -> C | None:
        """One cell; None, with a problem noted, where it cannot be read or is of another kind than those above it."""
        column = str(path[-1])
        try:
            quoted = not self.source.document.is_plain(path)
            cell, kind = read(self._given(path, column), quoted, self.source.currency)
        except CellError as error:
            self.source.problem(error.number, str(error), *path, hint=error.hint)
            return None
        known = self.kinds.setdefault(column, kind)
        if kind is not None:
            self.first.setdefault(column, path)
        joined = _joined(known, kind) if known and kind else known or kind
        if joined is None and kind:
            what = "key" if column in self.keys else "column"
            message = f"this cell is {kind}; the others of {what} '{column}' are {known}"
            words = known is not None and "text" in (known.name, kind.name)
            others = _as_written(self.source, self.first[column])
            hint = _WORDS_HINT if words else f"write it as the others, such as {others}"
            self.source.problem(403, message, *path, hint=hint)
            return None
        self.kinds[column] = joined
        return cell


def _joined(a: Kind, b: Kind) -> Kind | None:
    """The kind of a key or column that holds both, or None."""
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
