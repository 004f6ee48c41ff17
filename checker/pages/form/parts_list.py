"""Reads a list of a car's parts, from CSV or a workbook, as components.

Headings are the names of fields (`name`, `category`, `mass`), or whatever a mapping says they are. A number
without a unit is in that of the rules; several materials stand in one cell with `;` or `,` between them.
"""

from __future__ import annotations

from checker.car.declaration.entries import MOST_ENTRIES
from checker.car.described.vocabulary import FactType, Vocabulary
from checker.meeting.record.refusal import refusal
from checker.meeting.session.stating import plain_value
from checker.meeting.tables.given import GivenFile
from checker.meeting.tables.mapping import PARTS, TableMapping, read_mapping
from checker.meeting.tables.table import TextRow, TextTable, read_number, read_table
from checker.meeting.tables.workbook import as_text
from checker.quantities.kind import NUMBER
from checker.quantities.units import MOMENT
from checker.reading.strict_yaml import parse_document
from checker.reading.values import Plain

LIST = "components"
_COUNT = FactType("count", NUMBER, whole=True)


def things_in(vocabulary: Vocabulary) -> tuple[str, ...]:
    """What a column of a list of parts may hold."""
    return (*_fields(vocabulary), "count")


def read_how(vocabulary: Vocabulary, mapping: GivenFile) -> TableMapping:
    """What a mapping says of a list of parts.

    Raises:
        InputError: MT251, or what it is as YAML.
    """
    return read_mapping(parse_document(mapping.data, mapping.name, "MT"), PARTS, things_in(vocabulary))


def parts_table(given: GivenFile, how: TableMapping) -> TextTable:
    """The list as it was given: CSV, or the first sheet of a workbook.

    Raises:
        InputError: MT301 to MT306.
    """
    text = as_text(given.data, given.name)
    return read_table(text, given.name, encoding=how.encoding, separator=how.separator)


def read_parts(vocabulary: Vocabulary, table: TextTable, how: TableMapping) -> list[Plain]:
    """Every row as a component; cells that say nothing are left out.

    Args:
        how: How to read it; where it names no columns their headings are the names of fields.

    Raises:
        InputError: MT303 to MT306: the table does not fit that.
    """
    things = {name: name for name in things_in(vocabulary)}
    columns = table.columns(dict(how.columns) or things, closed=not how.columns)
    if "name" not in columns:
        hint = "head the column with what each part is called `name`, or give a mapping"
        raise refusal(
            "MT303", "no column tells what a part is called", hint, table.span(TextRow(1, table.heading))
        )
    if len(table.rows) > MOST_ENTRIES:
        raise refusal(
            "MT302", f"'{table.name}' has {len(table.rows)} rows; a car has at most {MOST_ENTRIES} parts"
        )
    fields = _fields(vocabulary)
    return [_part(fields, columns, table, row, how) for row in table.rows]


def _fields(vocabulary: Vocabulary) -> dict[str, FactType]:
    return {name: one for name, one in vocabulary.lists[LIST].fields.items() if one.formula is None}


def _part(
    fields: dict[str, FactType], columns: dict[str, int], table: TextTable, row: TextRow, how: TableMapping
) -> Plain:
    part: dict[str, Plain] = {}
    for name, at in columns.items():
        text = " ".join(row.cells[at].split())
        if not text:
            continue
        fact = fields.get(name, _COUNT)
        if fact.several:
            text = text.replace(";", ",")
        elif fact.kind.is_measure and fact.kind != MOMENT and text[-1].isdigit():
            number = read_number(text, table.span(row, at), how.decimal)
            text = f"{number} {fact.unit.name}" if fact.unit is not None else number
        part[name] = plain_value(fact, text)
    return part
