"""Files that belong to a pack and stand beside it: word lists and cases.

Whoever reads another's pack must not be led elsewhere by it, nor kept waiting by a pipe.
"""

from __future__ import annotations

import os

from checker.pack.reading.source import PackSource
from checker.reading.document import Document
from checker.reading.problems import InputError, Path
from checker.reading.strict_yaml import read_document


def read_beside(source: PackSource, name: str, path: Path) -> Document | None:
    """The file of that name in the pack's own folder, or below it.

    Args:
        source: The pack.
        name: As written there.
        path: Where it is written.

    Returns:
        None, with problems noted, where it leads out of the folder, is no ordinary file or is not there (109), or
        cannot be read as YAML.
    """
    home = os.path.realpath(source.folder)
    target = os.path.realpath(os.path.join(home, name))
    if os.path.isabs(name) or "\\" in name or os.path.commonpath([target, home]) != home:
        source.problem(
            109, f"'{name}' leads out of the pack's folder", *path, hint="keep the file beside the pack"
        )
        return None
    if os.path.exists(target) and not os.path.isfile(target):
        source.problem(109, f"'{name}' is no ordinary file", *path)
        return None
    try:
        return read_document(os.path.join(os.path.dirname(source.document.name), name), "PK")
    except InputError as error:
        first = error.problems[0]
        if first.span is not None:
            source.problems.found.extend(error.problems)
        else:
            reason = first.message.rpartition(": ")[2]
            source.problem(109, f"'{name}' cannot be read: {reason}", *path, hint=first.hint)
        return None
