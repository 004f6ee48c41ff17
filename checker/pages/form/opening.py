"""From what was asked for on the command line to a car's file that is open, and what a new one begins with: nothing but
its formula, last season's file, or a list of its parts.
"""

from __future__ import annotations

import os

from checker.meeting.tables.given import GivenFile
from checker.meeting.tables.mapping import TableMapping
from checker.pack.editions.finding import find_pack, open_folder
from checker.pack.model import Pack
from checker.pages.form.car_file import CarFile, text_for
from checker.pages.form.judging import RulesAsked
from checker.pages.form.parts_list import parts_table, read_how, read_parts
from checker.reading.printer import inline_text
from checker.reading.problems import InputError, Problem
from checker.reading.quick_dataclasses import dataclass
from checker.reading.strict_yaml import parse_document, read_document

_HEAD = "# Begun with `checker open`. Each line may be changed by hand too; what stands behind a # is for people.\n"


@dataclass(frozen=True, slots=True)
class OpenAsked:
    """What was asked for beside the car's file."""

    pack: str | None = None
    formula: str | None = None
    on: str | None = None
    begun_from: str | None = None
    """The file that a new one begins with."""
    parts: str | None = None
    mapping: str | None = None


def opened(path: str, asked: OpenAsked) -> tuple[CarFile, RulesAsked]:
    """The car's file, there or new, and the rules that it is judged by.

    Raises:
        InputError: It cannot be read, or is not there and nothing says what it begins with.
    """
    if os.path.lexists(path):
        begins = {"--from": asked.begun_from, "--parts": asked.parts, "--formula": asked.formula}
        given = [name for name, value in begins.items() if value is not None]
        if given:
            hint = f"open it without {' and '.join(given)}, or give the new file another name"
            raise InputError([Problem("PG204", f"'{path}' is there already", hint=hint)])
        file = CarFile(path)
        rules = RulesAsked(asked.pack, asked.on)
        rules.in_force(file.opened)
        return file, rules
    if asked.begun_from is not None:
        text = read_document(asked.begun_from, "CD").text
    elif asked.pack is not None or asked.formula is not None:
        folder = open_folder(asked.pack) if asked.pack is not None else find_pack(asked.formula or "")
        text = f'{_HEAD}formula: {inline_text(folder.name)}\n\ncar:\n  number: ""\n'
    else:
        hint = f"to begin it: checker open {path} --formula NAME, or --from the file of last season"
        raise InputError([Problem("CD110", f"cannot read '{path}': there is no such file", hint=hint)])
    rules = RulesAsked(asked.pack, asked.on)
    if asked.parts is not None:
        pack = rules.in_force(parse_document(text.encode(), path, "CD"))
        text = _with_parts(text, path, pack, asked.parts, asked.mapping)
    file = CarFile(path, text)
    rules.in_force(file.opened)
    return file, rules


def _with_parts(text: str, name: str, pack: Pack, file: str, mapping: str | None) -> str:
    """The text with the parts of a list, CSV or a workbook, as its components behind those that it has.

    Without a mapping the list's headings are the names of fields.
    """
    state = parse_document(text.encode(), name, "CD")
    before = state.get(("components",))
    how = TableMapping({}) if mapping is None else read_how(pack.vocabulary, GivenFile.read(mapping))
    parts = read_parts(pack.vocabulary, parts_table(GivenFile.read(file), how), how)
    data = dict(state.data) if isinstance(state.data, dict) else {}
    data["components"] = [*(before if isinstance(before, list) else ()), *parts]
    return text_for(state, data)
