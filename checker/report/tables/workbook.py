"""Tables as the sheets of an .xlsx workbook: typed cells, frozen headings, no formula from any text.

Xlsxwriter, the extra `sheets`, writes it. Nothing of the clock is in it: the same tables give the same bytes.
"""

from __future__ import annotations

import io
from collections.abc import Mapping
from datetime import date, datetime
from fractions import Fraction
from typing import Any

from checker.reading.plain_text import printable
from checker.report.tables.table import Cell, Clauses, Table

_MADE = datetime(1980, 1, 1)
_EXACT_TO = 10**15
"""A spreadsheet's numbers have fifteen digits; a whole number with more is written as text."""
_LONGEST = 32767
"""Characters that a cell holds."""


def as_xlsx(tables: Mapping[str, Table]) -> bytes:
    """A workbook with a sheet for each table.

    Raises:
        ImportError: The library that writes it is not installed.
    """
    import xlsxwriter

    written = io.BytesIO()
    options = {
        "in_memory": True,
        "strings_to_formulas": False,
        "strings_to_urls": False,
        "strings_to_numbers": False,
    }
    with xlsxwriter.Workbook(written, options) as workbook:
        workbook.set_properties({"created": _MADE})
        bold = workbook.add_format({"bold": True, "num_format": "@"})
        text = workbook.add_format({"num_format": "@"})
        day = workbook.add_format({"num_format": "yyyy-mm-dd"})
        for name, table in tables.items():
            sheet = workbook.add_worksheet(name)
            for column, heading in enumerate(table.heading):
                sheet.write_string(0, column, heading, bold)
            rows = 0
            for rows, row in enumerate(table.rows, 1):
                for column, cell in enumerate(row):
                    _write(sheet, rows, column, cell, text, day)
            sheet.freeze_panes(1, 0)
            sheet.autofilter(0, 0, rows, len(table.heading) - 1)
            sheet.autofit(400)
    return written.getvalue()


def _write(sheet: Any, row: int, column: int, cell: Cell, text: Any, day: Any) -> None:
    match cell:
        case None | "":
            return
        case bool():
            sheet.write_boolean(row, column, cell)
        case int() | Fraction() if abs(Fraction(cell)) < _EXACT_TO:
            sheet.write_number(row, column, float(cell))
        case date():
            sheet.write_datetime(row, column, datetime(cell.year, cell.month, cell.day), day)
        case Clauses():
            sheet.write_string(row, column, ", ".join(cell.numbers), text)
        case _:
            sheet.write_string(row, column, printable(str(cell), keep_newlines=True)[:_LONGEST], text)
