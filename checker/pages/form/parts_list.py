"""Reads a list of a car's parts, from CSV or a workbook, as components.

Headings are the names of fields (`name`, `category`, `mass`), or whatever a mapping says they are. A number
without a unit is in that of the rules; several materials stand in one cell with `;` or `,` between them.
"""

from __future__ import annotations

from checker.car.described.vocabulary import FactType, Vocabulary
from checker.meeting.record.refusal import refusal
from checker.meeting.session.stating import plain_value
from checker.meeting.tables.mapping import PARTS, TableMapping, read_mapping
from checker.meeting.tables.table import TextRow, TextTable, read_number, read_table
from checker.meeting.tables.workbook import as_text
from checker.quantities.kind import NUMBER
from checker.quantities.units import MOMENT
from checker.reading.file_bytes import read_bytes
from checker.reading.strict_yaml import read_document
from checker.reading.values import Plain

_LIST = "components"
_COUNT = FactType("count", NUMBER, whole=True)


def read_parts(vocabulary: Vocabulary, file: str, mapping: str | None = None) -> list[Plain]:
    """Every row as a component; cells that say nothing are left out.

    Raises:
        InputError: MT251, MT301 to MT306: the table or its mapping cannot be read.
    """
    fields = {name: one for name, one in vocabulary.lists[_LIST].fields.items() if one.formula is None}
    things = (*fields, "count")
    how = TableMapping({})
    if mapping is not None:
        how = read_mapping(read_document(mapping, "MT"), PARTS, things)
    table = read_table(
        as_text(read_bytes(file, "MT"), file), file, encoding=how.encoding, separator=how.separator
    )
    columns = table.columns(dict(how.columns) or {name: name for name in things}, closed=mapping is None)
    if "name" not in columns:
        hint = "head the column with what each part is called `name`, or give a mapping"
        raise refusal(
            "MT303", "no column tells what a part is called", hint, table.span(TextRow(1, table.heading))
        )
    return [_part(fields, columns, table, row, how) for row in table.rows]


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
