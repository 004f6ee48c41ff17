"""Says how a table of weighings is to be read: which column is what, in which units, which words mean what.

A mapping is a YAML file that goes with one kind of display or spreadsheet and is kept from meeting to meeting.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from checker.car.described.standard import WHEELS
from checker.meeting.taking.table import COMMA, POINT
from checker.meeting.taking.times import offset_of
from checker.quantities.folding import fold
from checker.reading.document import Document
from checker.reading.file_reader import FileReader
from checker.reading.problems import Path

LOADS = (*WHEELS, "front", "rear", "left", "right", "total")
STATE = ("gear", "pads", "fuel", "driver", "tyres", "wear")
THINGS = ("car", *LOADS, *STATE, "time", "occasion", "again")
"""What a column may hold."""

WEIGHINGS, ENTRIES = "weighings", "entries"
"""What a table may hold."""

_KEYS = ("import", "columns", "units", "decimal", "separator", "encoding", "time", "zone", "words", "fixed")
_UNITS = ("loads", "fuel")
_SEPARATORS = {";": ";", ",": ",", "tab": "\t"}
_CODE = "MT251"


@dataclass(frozen=True, slots=True)
class TableMapping:
    """How to read a table of weighings."""

    columns: Mapping[str, str]
    """By what it holds (one of `THINGS`), the heading of the column."""
    load_unit: str = "kg"
    fuel_unit: str = "L"
    decimal: str = ""
    """`POINT`, `COMMA`, or "" where the table speaks for itself."""
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
        table: What the table holds: `WEIGHINGS` or `ENTRIES`.
        things: What a column of it may hold.

    Raises:
        InputError: MT251, with every mistake found.
    """
    return _Reader(document, table, tuple(things)).table()


class _Reader(FileReader):
    def __init__(self, document: Document, table: str, things: tuple[str, ...]) -> None:
        super().__init__(document, _CODE)
        self._table = table
        self._things = things

    def table(self) -> TableMapping:
        top = self.mapping((), _KEYS)
        if top.get("import") != self._table:
            self.note(
                ("import",), f"this is no mapping of {self._table}", f"begin it with import: {self._table}"
            )
        columns = self._texts(("columns",), self._things)
        if "car" not in columns:
            self.note(("columns",), "no column tells the car", "columns: {car: HEADING, ...}")
        units = self._texts(("units",), _UNITS) if "units" in top else {}
        words: dict[str, dict[str, str]] = {}
        for thing in self.mapping(("words",), STATE) if "words" in top else {}:
            words[thing] = self._texts(("words", thing), None)
        found = TableMapping(
            columns=columns,
            load_unit=units.get("loads", "kg"),
            fuel_unit=units.get("fuel", "L"),
            decimal=self.word(("decimal",), (POINT, COMMA)) if "decimal" in top else "",
            separator=_SEPARATORS[self.word(("separator",), tuple(_SEPARATORS))]
            if "separator" in top
            else "",
            encoding=self.text(("encoding",)) if "encoding" in top else "",
            time=self.text(("time",)) if "time" in top else "",
            zone=self._zone() if "zone" in top else "",
            words=words,
            fixed=self._texts(("fixed",), (*STATE, "occasion")) if "fixed" in top else {},
        )
        for thing in found.fixed:
            if thing in columns:
                self.note(("fixed", thing), f"{thing} is fixed, and a column holds it", "keep one of the two")
        self.problems.raise_if_any()
        return found

    def _texts(self, path: Path, known: tuple[str, ...] | None) -> dict[str, str]:
        return {key: self.text((*path, key)) for key in self.mapping(path, known)}

    def _zone(self) -> str:
        text = self.text(("zone",))
        if text and offset_of(text) is None:
            self.note(
                ("zone",), f"'{text}' is no zone", 'write UTC, or how far it is ahead of it, zone: "+01:00"'
            )
        return text
