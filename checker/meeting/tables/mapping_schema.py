"""The JSON Schema of mappings, which say how a table of weighings, entries or parts is to be read, for editors."""

from __future__ import annotations

from checker.meeting.tables.mapping import (
    ENTRIES,
    KEYS,
    LOADS,
    PARTS,
    SEPARATORS,
    STATE,
    THINGS,
    UNITS,
    WEIGHINGS,
)
from checker.meeting.tables.table import COMMA, POINT
from checker.meeting.tables.times import ZONE
from checker.pack.editors.schema_parts import DIALECT, FILLED, Schema, closed, mapping, told, words

_SAID = {
    "car": "The racing number.",
    "again": "Why the car is weighed anew.",
    "time": "When it was weighed, of the meeting's day.",
    "occasion": "When not at scrutineering, as: after the final.",
    **dict.fromkeys(LOADS, "The load there."),
}


def mapping_schema() -> Schema:
    """The schema of a mapping. Draft 2020-12."""
    weighing = closed({thing: told(FILLED, _SAID.get(thing, "")) for thing in THINGS}, "car")
    entry = {**mapping(FILLED, "A fact of the pack by its name."), "required": ["car"]}
    part = {**mapping(FILLED, "A field of components by its name."), "required": ["name"]}
    keys: dict[str, Schema] = {
        "import": words((WEIGHINGS, ENTRIES, PARTS), "What a row of the table is."),
        "columns": {"type": "object", "description": "The heading of each column, by what it holds."},
        "units": closed(
            dict.fromkeys(UNITS, FILLED), about="Of numbers that bear none; kg and L without it."
        ),
        "decimal": words(
            (POINT, COMMA), "How numbers are written, where the table does not speak for itself."
        ),
        "separator": words(SEPARATORS, "Between cells, where the heading does not tell it."),
        "encoding": told(FILLED, "Where the table is not UTF-8, as windows-1252."),
        "time": told(FILLED, 'How times are written: "%d.%m.%Y %H:%M", or serial 1900 for day numbers.'),
        "zone": {"type": "string", "pattern": f"^(?:UTC|{ZONE})$", "description": 'As UTC, or "+01:00".'},
        "words": closed(
            dict.fromkeys(STATE, mapping(FILLED)), about="What the table's own words mean, by column."
        ),
        "fixed": closed(dict.fromkeys((*STATE, "occasion"), FILLED), about="What holds for every row."),
    }
    by_table = {
        "if": {"properties": {"import": {"const": ENTRIES}}},
        "then": {"properties": {"columns": entry}},
        "else": {
            "if": {"properties": {"import": {"const": PARTS}}},
            "then": {"properties": {"columns": part}},
            "else": {"properties": {"columns": weighing}},
        },
    }
    assert keys.keys() == set(KEYS)
    return {
        "$schema": DIALECT,
        "title": "How a table is read",
        **closed(keys, "import", "columns"),
        **by_table,
    }
