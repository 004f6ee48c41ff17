"""Packs compiled before, by this run or an earlier one, as long as nothing that they are made from changes."""

from __future__ import annotations

import os
import sys
from collections.abc import Callable, Hashable
from contextlib import suppress
from datetime import date
from hashlib import sha256
from io import BytesIO
from typing import TYPE_CHECKING

import yaml

from checker import __version__
from checker.pack.editions.places import HERE
from checker.pack.keeping import folder as cache
from checker.pack.keeping.searched import state_of_search
from checker.reading.file_bytes import read_bytes
from checker.reading.problems import InputError

if TYPE_CHECKING:
    from checker.pack.editions.finding import PackFolder
    from checker.pack.model import Pack

_MOST = 16
_in_memory: dict[Hashable, tuple[str, tuple[str, ...], Pack]] = {}
"""With the state of what each rests on and what that is, the one asked for last at the end."""
NO_CACHE = "CHECKER_NO_CACHE"
"""Environment variable: set it, and the user's cache folder is neither read nor written."""


def pack_on(folder: PackFolder, on: date) -> Pack:
    """The pack in force on a day.

    Raises:
        InputError: As `load_pack`.
    """

    return _kept((folder, on), on, lambda: folder, _files_of, _state_of_files)


def pack_at(place: str, on: date) -> Pack:
    """The pack at a path, or of a name, in force on a day.

    Raises:
        InputError: As `open_folder` and `load_pack`.
    """
    from checker.pack.editions.finding import open_folder

    return pack_on(open_folder(place), on)


def pack_of(formula: str, on: date) -> Pack:
    """The pack of a formula in force on a day.

    Raises:
        InputError: As `find_pack` and `load_pack`.
    """

    def find() -> PackFolder:
        from checker.pack.editions.finding import find_pack

        return find_pack(formula)

    return _kept(
        (formula, os.path.realpath(HERE), on),
        on,
        find,
        lambda folder: (folder.place,),
        lambda looked: state_of_search(looked[0], looked[1:]),
    )


def _kept(
    asked: tuple[Hashable, ...],
    on: date,
    find: Callable[[], PackFolder],
    names_of: Callable[[PackFolder], tuple[str, ...]],
    state_of: Callable[[tuple[str, ...]], str | None],
) -> Pack:
    """The pack that was kept under what was asked, while all is as it was; else compiled, and kept.

    Args:
        asked: What it is kept under.
        on: A day on which it is in force.
        find: Gives the folder to compile.
        names_of: Names of what that is compiled from, as far as they are known before.
        state_of: The state of what has these names; None where it cannot be told, and nothing is kept.
    """
    found = _in_memory.pop(asked, None)
    if found is None or state_of(found[1]) != found[0]:
        found = _from_disk(asked, state_of)
    if found is None:
        from checker.pack.editions.in_force import load_pack

        names = names_of(folder := find())
        before = state_of(names)
        pack = load_pack(folder, on)
        rests_on = tuple(dict.fromkeys((*names, *pack.files)))
        state = state_of(rests_on)
        if state is None or state_of(names) != before or not _is_as_it_was_read(pack):
            return pack  # somebody saved a file meanwhile
        found = state, rests_on, pack
        _to_disk(asked, found)
    _in_memory[asked] = found
    if len(_in_memory) > _MOST:
        del _in_memory[next(iter(_in_memory))]
    return found[2]


def _to_disk(asked: tuple[Hashable, ...], found: tuple[str, tuple[str, ...], Pack]) -> None:
    if (name := _name(asked)) is not None:
        from checker.pack.keeping.freezing import CannotFreezeError, freeze

        with suppress(CannotFreezeError):  # then every run compiles it
            cache.write(name, freeze(*found))


def _from_disk(
    asked: tuple[Hashable, ...], state_of: Callable[[tuple[str, ...]], str | None]
) -> tuple[str, tuple[str, ...], Pack] | None:
    """The pack that an earlier run kept; None where there is none, or something has changed since."""
    name = _name(asked)
    data = None if name is None else cache.read(name)
    if data is None:
        return None
    from checker.pack.keeping.thawing import thaw

    try:
        return thaw(BytesIO(data), lambda state, rests_on: state_of(rests_on) == state)
    except Exception:  # by whatever stood there: it is compiled anew
        return None


def _files_of(folder: PackFolder) -> tuple[str, ...]:
    alone = (folder.approvals, folder.interpretations)
    return (
        *folder.editions,
        *folder.bulletins,
        *folder.siblings,
        *folder.below,
        *(file for file in alone if file is not None),
    )


def _is_as_it_was_read(pack: Pack) -> bool:
    """Whether every file that it was made from, known before or not, still says what was read."""
    try:
        return all(sha256(read_bytes(file, "PK")).hexdigest() == read for file, read in pack.files.items())
    except InputError:
        return False


def _state_of_files(files: tuple[str, ...]) -> str | None:
    """A digest of every file that the pack was made from, or would be if it said otherwise than when it was read, and
    of where each is: one that leads elsewhere by now may be refused."""
    found = sha256()
    try:
        for file in files:
            found.update(os.fsencode(os.path.realpath(file)) + sha256(read_bytes(file, "PK")).digest())
    except InputError:
        return None
    return found.hexdigest()


def _name(asked: tuple[Hashable, ...]) -> str | None:
    """What a pack is kept under: what was asked, and all that compiles it; None where it is not."""
    if os.environ.get(NO_CACHE):
        return None
    try:
        compiler = (__version__, yaml.__version__, sys.version, sys.implementation.cache_tag, _sources())
    except OSError:  # packed in one file
        return None
    return sha256(repr((compiler, asked)).encode("utf-8", "surrogateescape")).hexdigest()


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
