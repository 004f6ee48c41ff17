"""Packs compiled before, by this run or an earlier one, as long as nothing that they are made from changes."""

from __future__ import annotations

import os
import sys
from contextlib import suppress
from datetime import date
from hashlib import sha256
from typing import TYPE_CHECKING

import yaml

from checker import __version__
from checker.pack.editions.finding import PackFolder
from checker.pack.keeping import folder as cache
from checker.reading.file_bytes import read_bytes
from checker.reading.problems import InputError

if TYPE_CHECKING:
    from checker.pack.model import Pack

_MOST = 16
_in_memory: dict[tuple[PackFolder, date], tuple[str, Pack]] = {}
"""With the state of their files, the one asked for last at the end."""
NO_CACHE = "CHECKER_NO_CACHE"
"""Environment variable: set it, and the user's cache folder is neither read nor written."""


def pack_on(folder: PackFolder, on: date) -> Pack:
    """The pack in force on a day.

    Raises:
        InputError: As `load_pack`.
    """
    state, pack = _in_memory.pop((folder, on), ("", None))
    if pack is None or not _is_unchanged(folder, pack, state):
        state, pack = _from_disk(folder, on) or _compiled(folder, on)
    _in_memory[folder, on] = state, pack
    if len(_in_memory) > _MOST:
        del _in_memory[next(iter(_in_memory))]
    return pack


def _compiled(folder: PackFolder, on: date) -> tuple[str, Pack]:
    from checker.pack.editions.in_force import load_pack

    pack = load_pack(folder, on)
    state = _state_of(folder, pack)
    if (name := _name(folder, on)) is not None:
        from checker.pack.keeping.freezing import CannotFreezeError, freeze

        with suppress(CannotFreezeError):  # then every run compiles it
            cache.write(name, freeze(pack, state))
    return state, pack


def _from_disk(folder: PackFolder, on: date) -> tuple[str, Pack] | None:
    """The pack that an earlier run kept; None where there is none, or something has changed since."""
    name = _name(folder, on)
    data = None if name is None else cache.read(name)
    if data is None:
        return None
    from checker.pack.keeping.freezing import thaw

    try:
        state, pack = thaw(data)
    except Exception:  # by whatever stood there: it is compiled anew
        return None
    return (state, pack) if _is_unchanged(folder, pack, state) else None


def _is_unchanged(folder: PackFolder, pack: Pack, state: str) -> bool:
    """Whether every file that a pack was made from is there still, and says what it said."""
    try:
        return _state_of(folder, pack) == state
    except InputError:
        return False


def _state_of(folder: PackFolder, pack: Pack) -> str:
    """A digest of every file that the pack was made from, or would be if it said otherwise than when it was read."""
    files = dict.fromkeys((*folder.editions, *folder.bulletins, *folder.siblings, *folder.below, *pack.files))
    found = sha256()
    for file in files:
        found.update(sha256(read_bytes(file, "PK")).digest())
    return found.hexdigest()


def _name(folder: PackFolder, on: date) -> str | None:
    """What a pack is kept under: where it is, the day, and all that compiles it; None where it is not."""
    if os.environ.get(NO_CACHE):
        return None
    try:
        compiler = (__version__, yaml.__version__, sys.version, sys.implementation.cache_tag, _sources())
    except OSError:  # packed in one file
        return None
    return sha256(repr((compiler, folder, on)).encode("utf-8", "surrogateescape")).hexdigest()


def _sources() -> list[tuple[str, int, int]]:
    """Every file of this program, its length and when it was written: a change made here is noticed."""
    found = []
    waiting = [os.path.dirname(sys.modules["checker"].__file__ or "")]
    while waiting:
        for entry in os.scandir(waiting.pop()):
            if entry.name.endswith(".py"):
                state = entry.stat()
                found.append((entry.path, state.st_size, state.st_mtime_ns))
            elif not entry.name.startswith(("_", ".")) and entry.is_dir():
                waiting.append(entry.path)
    return sorted(found)
