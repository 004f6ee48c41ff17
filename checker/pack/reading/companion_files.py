"""Files that belong to a pack and stand beside it: word lists and cases.

Whoever reads another's pack must not be led elsewhere by it, nor kept waiting by a pipe.
"""

from __future__ import annotations

import os

from checker.pack.reading.source import PackSource
from checker.reading.document import Document
from checker.reading.plain_text import printable
from checker.reading.problems import InputError, Path
from checker.reading.strict_yaml import read_document


def not_beside(folder: str, name: str) -> str:
    """Why a file of that name is not to be read as one of a pack's; "" where it may be.

    Args:
        folder: The pack's.
        name: As a file of the pack writes it, or as it stands in the folder.
    """
    if not name or "\0" in name:
        return "is no name of a file"
    home = os.path.realpath(folder)
    target = os.path.realpath(os.path.join(home, name))
    if os.path.isabs(name) or "\\" in name or os.path.commonpath([target, home]) != home:
        return "leads out of the pack's folder"
    if os.path.exists(target) and not os.path.isfile(target):
        return "is no ordinary file"
    return ""


BEGIN_CASES = "begin it from a car that meets the rules: `checker pack cases PACK --suggest CAR --output {}`"
"""How a file of cases is begun, with its name."""


def read_beside(source: PackSource, name: str, path: Path, begun_by: str = "") -> Document | None:
    """The file of that name in the pack's own folder, or below it.

    Args:
        source: The pack.
        name: As written there.
        path: Where it is written.
        begun_by: How such a file is begun, told where none is there.

    Returns:
        None, with problems noted, where it leads out of the folder, is no ordinary file or is not there (109), or
        cannot be read as YAML.
    """
    wrong = not_beside(source.folder, name)
    if wrong:
        source.problem(109, f"'{printable(name)}' {wrong}", *path, hint="keep the file beside the pack")
        return None
    try:
        return read_document(os.path.join(os.path.dirname(source.document.name), name), "PK")
    except InputError as error:
        first = error.problems[0]
        if first.span is not None:
            source.problems.found.extend(error.problems)
        else:
            reason = first.message.rpartition(": ")[2]
            there = os.path.lexists(os.path.join(source.folder, name))
            hint = first.hint if there or not begun_by else begun_by
            source.problem(109, f"'{name}' cannot be read: {reason}", *path, hint=hint)
        return None
