"""Says how a table of weighings, entries or parts is read: which column is what, in which units, what words mean.

A mapping is a YAML file that goes with one kind of display or spreadsheet and is kept from meeting to meeting.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from checker.car.described.standard import WHEELS
from checker.meeting.tables.table import COMMA, POINT, known_encoding
from checker.meeting.tables.times import known_pattern, offset_of
from checker.quantities.folding import fold
from checker.reading.document import Document
from checker.reading.file_reader import Codes, FileReader
from checker.reading.quick_dataclasses import KW_ONLY, dataclass, field

LOADS = (*WHEELS, "front", "rear", "left", "right", "total")
STATE = ("gear", "pads", "fuel", "driver", "tyres", "wear")
THINGS = ("car", *LOADS, *STATE, "time", "occasion", "again")
"""What a column may hold."""

WEIGHINGS, ENTRIES, PARTS = "weighings", "entries", "parts"
"""What a table may hold."""

KEYS = ("import", "columns", "units", "decimal", "separator", "encoding", "time", "zone", "words", "fixed")
UNITS = ("loads", "fuel")
SEPARATORS = {";": ";", ",": ",", "tab": "\t"}
_CODES = Codes("MT", 251)


@dataclass(frozen=True, slots=True)
class TableMapping:
    """How to read a table of weighings."""

    columns: Mapping[str, str]
    """By what it holds (one of `THINGS`), the heading of the column."""
    load_unit: str = "kg"
    fuel_unit: str = "L"
    decimal: str = ""
    """`POINT`, `COMMA`, or "" where the table speaks for itself."""
    _: KW_ONLY
    separator: str = ""
    encoding: str = ""
    time: str = ""
    """How days and times are written: a pattern, "serial 1900", "serial 1904", or "" for ISO 8601 or a day number."""
    zone: str = ""
    """Of times without one: "UTC", "+01:00", or "" for that of the computer."""
    words: Mapping[str, Mapping[str, str]] = field(default_factory=dict)
    """What the table's own words mean, by what the column holds."""
    fixed: Mapping[str, str] = field(default_factory=dict)
    """What holds for every row."""

    def meaning(self, thing: str, word: str) -> str:
        """A word of the table in the record's words; a word that is not listed stays as it is."""
        for own, meant in self.words.get(thing, {}).items():
            if fold(own) == fold(word):
                return meant
        return word


def read_mapping(document: Document, table: str = WEIGHINGS, things: Sequence[str] = THINGS) -> TableMapping:
    """The mapping that a file describes.

    Args:
        document: The file.
        table: What the table holds: `WEIGHINGS`, `ENTRIES` or `PARTS`.
        things: What a column of it may hold.

    Raises:
        InputError: MT251, with every mistake found.
    """
    return _Reader(document, _CODES, table=table, things=tuple(things)).mapped()


@dataclass(slots=True, kw_only=True)
class _Reader(FileReader):
    table: str
    things: tuple[str, ...]

    def mapped(self) -> TableMapping:
        self.mapping(needed=True)
        self.known_keys(KEYS, what="a mapping", filled=True)
        if self.get("import") != self.table:
            hint = f"begin it with import: {self.table}"
            self.problem(251, f"this is no mapping of {self.table}", "import", hint=hint)
        columns = self._texts(self.things, "columns")
        needed, what = ("name", "what a part is called") if self.table == PARTS else ("car", "the car")
        if needed not in columns:
            self.problem(
                251, f"no column tells {what}", "columns", hint=f"columns: {{{needed}: HEADING, ...}}"
            )
        units = self._texts(UNITS, "units")
        self.known_keys(STATE, "words", what="`words`")
        separator = self.word(tuple(SEPARATORS), "separator", default="")
        found = TableMapping(
            columns=columns,
            load_unit=units.get("loads", "kg"),
            fuel_unit=units.get("fuel", "L"),
            decimal=self.word((POINT, COMMA), "decimal", default=""),
            separator=SEPARATORS.get(separator, ""),
            encoding=self.parsed(known_encoding, 251, "text", "encoding", hint="for instance windows-1252")
            or "",
            time=self.parsed(known_pattern, 251, "text", "time", hint='for instance "%d.%m.%Y %H:%M"') or "",
            zone=self._zone(),
            words={thing: self._texts(None, "words", thing) for thing in self.mapping("words")},
            fixed=self._texts((*STATE, "occasion"), "fixed"),
        )
        for thing in found.fixed:
            if thing in columns:
                message = f"{thing} is fixed, and a column holds it"
                self.problem(251, message, "fixed", thing, hint="keep one of the two")
        self.problems.raise_if_any()
        return found

    def _texts(self, known: tuple[str, ...] | None, *path: str) -> dict[str, str]:
        if known is not None:
            self.known_keys(known, *path, what=f"`{path[-1]}`")
        return {key: self.text(*path, key, needed=True) for key in self.mapping(*path)}

    def _zone(self) -> str:
        text = self.text("zone")
        if text and offset_of(text) is None:
            hint = 'write UTC, or how far it is ahead of it, zone: "+01:00"'
            self.problem(251, f"'{text}' is no zone", "zone", hint=hint)
        return text
