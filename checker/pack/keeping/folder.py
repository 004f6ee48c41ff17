"""The folder of the user's own in which compiled packs are kept.

What is read from it is run, so nothing counts that another could have written: the folder and each file belong to the
user, nobody else may write there, and no link is followed. Where that is not so, or there is no home, nothing is kept.
"""

from __future__ import annotations

import os
import stat
import sys
from collections.abc import Iterator
from contextlib import suppress
from hashlib import sha256

_NAME = "scrutineering-checker"
_SUFFIX = ".pack"
_DIGEST = 32
_MOST_FILES = 32
_MOST_BYTES = 32 * 1024**2
_NO_LINK = getattr(os, "O_NOFOLLOW", 0)
_OTHERS = stat.S_IRWXG | stat.S_IRWXO


def read(name: str) -> bytes | None:
    """What was kept under a name, whole; None where there is nothing that can be trusted."""
    try:
        number = os.open(_file(name), os.O_RDONLY | _NO_LINK | getattr(os, "O_NONBLOCK", 0))
        with open(number, "rb") as opened:
            state = os.fstat(number)
            if not (stat.S_ISREG(state.st_mode) and _is_own(state)) or state.st_size > _MOST_BYTES:
                return None
            kept = opened.read()
    except OSError:
        return None
    data = kept[_DIGEST:]
    return data if kept[:_DIGEST] == sha256(data).digest() else None


def write(name: str, data: bytes) -> None:
    """Keep something under a name, all at once or not at all; where that is impossible nothing is said."""
    with suppress(OSError):
        folder = _folder(make=True)
        part = os.path.join(folder, f"{name}.{os.getpid()}-{os.urandom(4).hex()}.part")
        try:
            number = os.open(part, os.O_WRONLY | os.O_CREAT | os.O_EXCL | _NO_LINK, 0o600)
            with open(number, "wb") as opened:
                opened.write(sha256(data).digest() + data)
            os.replace(part, _file(name))
        finally:
            with suppress(FileNotFoundError):
                os.unlink(part)
        _take_away_old(folder)


def _folder(make: bool = False) -> str:
    """The folder, which is the user's own.

    Raises:
        OSError: There is none, or another may write there.
    """
    folder = os.path.join(_caches(), _NAME)
    if make:
        os.makedirs(os.path.dirname(folder), exist_ok=True, mode=0o700)
        with suppress(FileExistsError):
            os.mkdir(folder, mode=0o700)
    state = os.lstat(folder)
    if not (stat.S_ISDIR(state.st_mode) and _is_own(state)):
        raise PermissionError(f"{folder} is not the user's own")
    return folder


def _caches() -> str:
    """Where programs of this user keep what they can make again.

    Raises:
        FileNotFoundError: There is no home.
    """
    asked = os.environ.get("XDG_CACHE_HOME", "")
    if os.path.isabs(asked):
        return asked
    if sys.platform == "win32" and (local := os.environ.get("LOCALAPPDATA")):
        return local
    home = os.path.expanduser("~")
    if not os.path.isabs(home):
        raise FileNotFoundError("there is no home")
    below = {"win32": ("AppData", "Local"), "darwin": ("Library", "Caches")}.get(sys.platform, (".cache",))
    return os.path.join(home, *below)


def _file(name: str) -> str:
    return os.path.join(_folder(), f"{name}{_SUFFIX}")


def _is_own(state: os.stat_result) -> bool:
    """Whether something belongs to the user, and nobody else may do anything there; a home of Windows is."""
    if sys.platform == "win32":
        return True
    return state.st_uid == os.geteuid() and not state.st_mode & _OTHERS


def _take_away_old(folder: str) -> None:
    """Leave those that were written last, so that the folder stays small."""
    size = 0
    for at, (_, length, file) in enumerate(sorted(_kept(folder), reverse=True)):
        size += length
        if at >= _MOST_FILES or size > _MOST_BYTES:
            with suppress(OSError):
                os.unlink(file)


def _kept(folder: str) -> Iterator[tuple[int, int, str]]:
    """When each file was written, its length, and its name."""
    for entry in os.scandir(folder):
        if entry.name.endswith((_SUFFIX, ".part")):
            state = entry.stat(follow_symlinks=False)
            yield state.st_mtime_ns, state.st_size, entry.path
