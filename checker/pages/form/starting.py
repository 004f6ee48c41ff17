"""What a new car's file begins with: nothing but its formula, last season's file, or a list of its parts."""

from __future__ import annotations

from checker.meeting.tables.given import GivenFile
from checker.meeting.tables.mapping import TableMapping
from checker.pack.model import Pack
from checker.pages.form.car_file import text_for
from checker.pages.form.parts_list import parts_table, read_how, read_parts
from checker.reading.printer import inline_text
from checker.reading.strict_yaml import parse_document, read_document

_HEAD = "# Begun with `checker open`. Each line may be changed by hand too; what stands behind a # is for people.\n"


def blank_text(formula: str) -> str:
    """A file that says by which formula the car is judged, and leaves its number to be filled in."""
    return f'{_HEAD}formula: {inline_text(formula)}\n\ncar:\n  number: ""\n'


def text_of(file: str) -> str:
    """Another car's file, or last season's, to go on from.

    Raises:
        InputError: It cannot be read.
    """
    return read_document(file, "CD").text


def with_parts(text: str, name: str, pack: Pack, file: str, mapping: str | None) -> str:
    """The text with the parts of a list as its components, behind those that it has.

    Args:
        text: What the file begins with.
        name: Of the car's file.
        file: The list: CSV, or a workbook.
        mapping: How to read it; None where its headings are the names of fields.

    Raises:
        InputError: Something in it cannot be read.
    """
    state = parse_document(text.encode(), name, "CD")
    before = state.get(("components",))
    how = TableMapping({}) if mapping is None else read_how(pack.vocabulary, GivenFile.read(mapping))
    parts = read_parts(pack.vocabulary, parts_table(GivenFile.read(file), how), how)
    data = dict(state.data) if isinstance(state.data, dict) else {}
    data["components"] = [*(before if isinstance(before, list) else ()), *parts]
    return text_for(state, data)
