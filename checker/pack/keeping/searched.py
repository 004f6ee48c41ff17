"""What a search for the pack of a formula may look at: as long as that is the same, so is what it finds.

It is told by the names of all that stands in the places that are searched, and the bytes of all YAML there.
"""

from __future__ import annotations

import os
from collections.abc import Iterable, Iterator
from hashlib import sha256

from checker.pack.editions.places import places
from checker.reading.file_bytes import read_bytes
from checker.reading.problems import InputError

_DEPTH = 4
"""A pack's folder, and those below it that are looked into for bulletins that somebody may miss."""


class _CannotTellError(Exception):
    """Something there may lead elsewhere."""


def state_of_search(found: str, files: Iterable[str]) -> str | None:
    """A digest of all that a search came by before it found a pack, and of the files that this is made from.

    Args:
        found: Where the pack is, as the search names it.
        files: What the pack is made from.

    Returns:
        None where it cannot be told: a link leads elsewhere, something cannot be read, or the pack is not there.
    """
    state = sha256()
    seen: set[str] = set()
    try:
        for name, is_folder in _before(found):
            state.update(f"{name}\0{is_folder}\0".encode("utf-8", "surrogateescape"))
            if not is_folder and name.lower().endswith((".yaml", ".yml")):
                seen.add(name)
                data = read_bytes(name, "PK")
                state.update(b"%d\0" % len(data))
                state.update(data)
        for name in files:
            if name not in seen:
                state.update(os.fsencode(os.path.realpath(name)) + sha256(read_bytes(name, "PK")).digest())
    except (OSError, InputError, _CannotTellError):
        return None
    return state.hexdigest()


def _before(found: str) -> Iterator[tuple[str, bool]]:
    """Everything by its name and whether it is a folder, to the end of the pack's folder, or of the place of its file.

    Raises:
        OSError: A folder cannot be read.
        _CannotTellError: There is a link, or the pack is nowhere.
    """
    for place in places():
        if not os.path.isdir(place):
            yield place, False
            continue
        is_here = False
        for name, is_folder in _in(place):
            yield name, is_folder
            if is_folder:
                yield from _below(name, _DEPTH)
            if name == found and is_folder:
                return
            is_here = is_here or name == found
        if is_here:
            return
    raise _CannotTellError


def _below(folder: str, depth: int) -> Iterator[tuple[str, bool]]:
    if not depth or os.path.basename(folder).startswith("."):
        return
    for name, is_folder in _in(folder):
        yield name, is_folder
        if is_folder:
            yield from _below(name, depth - 1)


def _in(folder: str) -> Iterator[tuple[str, bool]]:
    for entry in sorted(os.scandir(folder), key=lambda entry: os.path.normcase(entry.name)):
        if entry.is_symlink():
            raise _CannotTellError
        yield entry.path, entry.is_dir()
