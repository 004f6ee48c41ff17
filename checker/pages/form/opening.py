"""From what was asked for on the command line to a car's file that is open."""

from __future__ import annotations

import os

from checker.pack.editions.finding import find_pack, open_folder
from checker.pages.form.car_file import CarFile
from checker.pages.form.judging import RulesAsked
from checker.pages.form.starting import blank_text, text_of, with_parts
from checker.reading.problems import InputError, Problem
from checker.reading.quick_dataclasses import dataclass
from checker.reading.strict_yaml import parse_document


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
        text = text_of(asked.begun_from)
    elif asked.pack is not None or asked.formula is not None:
        folder = open_folder(asked.pack) if asked.pack is not None else find_pack(asked.formula or "")
        text = blank_text(folder.name)
    else:
        hint = f"to begin it: checker open {path} --formula NAME, or --from the file of last season"
        raise InputError([Problem("CD110", f"cannot read '{path}': there is no such file", hint=hint)])
    rules = RulesAsked(asked.pack, asked.on)
    if asked.parts is not None:
        pack = rules.in_force(parse_document(text.encode(), path, "CD"))
        text = with_parts(text, path, pack, asked.parts, asked.mapping)
    file = CarFile(path, text)
    rules.in_force(file.opened)
    return file, rules
