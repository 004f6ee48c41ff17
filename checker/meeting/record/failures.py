"""What SQLite and the disk say when they fail, in words for an official."""

from __future__ import annotations

import errno
import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager

from checker.meeting.record.refusal import refusal
from checker.reading.problems import InputError

_DAMAGED = "keep the file as it is, work on from the newest copy, and verify both"
_KEPT = "everything recorded before is on disk; the entry that was to be added was not recorded"


@contextmanager
def told(path: str) -> Iterator[None]:
    """Turn a failure of the database or the disk into a problem with its cure.

    Raises:
        InputError: MT101 to MT107.
    """
    try:
        yield
    except sqlite3.Error as error:
        raise _from_sqlite(error, path) from None
    except UnicodeDecodeError:  # what SQLite itself quotes from a damaged file
        raise refusal("MT107", f"'{path}' is damaged: it holds text that is none", _DAMAGED) from None
    except OSError as error:
        raise _from_system(error, path) from None


_SAID = (
    ("SQLITE_NOTADB", "MT102", "'{path}' is not a meeting", "give the file that `meeting open` made"),
    (
        "SQLITE_CANTOPEN",
        "MT101",
        "'{path}' cannot be opened",
        "the file, its folder and the journal beside it must be readable and writable",
    ),
    ("SQLITE_CORRUPT", "MT107", "'{path}' is damaged: {error}", _DAMAGED),
    (
        ("SQLITE_BUSY", "SQLITE_LOCKED"),
        "MT106",
        f"'{{path}}' was held by another program for too long; {_KEPT}",
        "look for a second window that is waiting for an answer, close it and try again",
    ),
    (
        "SQLITE_IOERR",
        "MT107",
        f"'{{path}}': the disk failed while it was read or written ({{name}}); {_KEPT}",
        "copy the file to another disk and verify the copy",
    ),
    ("", "MT107", "'{path}' cannot be used: {error}", "keep the file and verify a copy of it"),
)
"""By how a failure's name begins: the code, what is told, and the cure."""


def _from_sqlite(error: sqlite3.Error, path: str) -> InputError:
    name = getattr(error, "sqlite_errorname", "") or ""
    # A quota or a size limit of the system comes as a failed write.
    if name.startswith(("SQLITE_FULL", "SQLITE_IOERR_WRITE", "SQLITE_IOERR_TRUNCATE")):
        return _full(path)
    if name.startswith(("SQLITE_READONLY", "SQLITE_PERM", "SQLITE_AUTH")):
        return _read_only(path)
    _, code, said, cure = next(one for one in _SAID if name.startswith(one[0]))
    return refusal(code, said.format(path=path, name=name, error=error), cure)


def _from_system(error: OSError, path: str) -> InputError:
    if error.errno in (errno.ENOSPC, errno.EDQUOT, errno.EFBIG):
        return _full(path)
    if error.errno in (errno.EROFS, errno.EACCES, errno.EPERM):
        return _read_only(path)
    if error.errno in (errno.ENOENT, errno.ENOTDIR):
        return refusal("MT101", f"the folder of '{path}' is not there", "make it first")
    return refusal("MT107", f"'{path}' cannot be used: {error.strerror or error}")


def _full(path: str) -> InputError:
    return refusal(
        "MT104", f"the disk is full: '{path}' could not grow; {_KEPT}", "make room, then enter it again"
    )


def _read_only(path: str) -> InputError:
    return refusal(
        "MT105",
        f"'{path}' may not be written; {_KEPT}",
        "make the file and its folder writable, or take a copy of it to a disk that is",
    )
