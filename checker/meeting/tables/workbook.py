"""A workbook as the text that a table is read from; the text is what a record keeps, so nothing else reads it again."""

from __future__ import annotations

import csv
import io
from datetime import date, datetime, time
from zipfile import BadZipFile

from checker.meeting.record.refusal import refusal
from checker.meeting.tables.table import MOST_ROWS, WORKBOOK


def as_text(data: bytes, file: str) -> bytes:
    """A workbook's first sheet as CSV; what is text already stays.

    Raises:
        InputError: MT301, MT302: it cannot be read, or what reads workbooks is not installed.
    """
    if not data.startswith(WORKBOOK):
        return data
    try:
        from python_calamine import CalamineError, CalamineWorkbook
    except ImportError:
        cure = "save it as CSV UTF-8, or install what reads workbooks: pip install 'scrutineering-checker[pages]'"
        raise refusal(
            "MT301", f"'{file}' is a workbook, and what reads those is not installed", cure
        ) from None
    try:
        rows = CalamineWorkbook.from_filelike(io.BytesIO(data)).get_sheet_by_index(0).to_python()
    except (CalamineError, BadZipFile, OSError, ValueError, IndexError) as error:
        raise refusal(
            "MT301", f"'{file}' cannot be read as a workbook: {error}", "save it as CSV UTF-8"
        ) from None
    if len(rows) > MOST_ROWS:
        raise refusal("MT302", f"'{file}' has {len(rows)} rows; at most {MOST_ROWS} are read")
    text = io.StringIO()
    csv.writer(text).writerows([[_cell(one) for one in row] for row in rows])
    return text.getvalue().encode()


def _cell(value: object) -> str:
    """What a cell shows."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, float) and value.is_integer():
        return str(int(value))
    if isinstance(value, datetime) and value.time() == time():
        return value.date().isoformat()
    return value.isoformat() if isinstance(value, date) else str(value)
