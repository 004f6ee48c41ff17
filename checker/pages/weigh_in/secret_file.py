"""The secret of a weigh-in's pages, kept beside the record so that devices go on after a restart.

PINs, the addresses of slips and what signs a device on are all made from it, so whoever has it can act as an official:
it belongs to the user alone. It is no part of the record.
"""

from __future__ import annotations

import os
import stat

from checker.pages.serving.tokens import new_secret
from checker.reading.problems import InputError, Problem

_ENDING = "-pages"
_LENGTH = 32


def secret_of(day: str, *, anew: bool = False) -> bytes:
    """The secret that is kept beside a record; a new one where there is none.

    Args:
        day: The record's file.
        anew: Make another, by which every PIN, session and slip's address changes.

    Raises:
        InputError: PG103, it cannot be kept, or others can read it.
    """
    file = f"{day}{_ENDING}"
    try:
        if anew and os.path.lexists(file):
            os.unlink(file)
        if os.path.lexists(file):
            return _read(file)
        secret = new_secret()
        number = os.open(file, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
        with open(number, "wb") as opened:
            opened.write(secret)
            opened.flush()
            os.fsync(number)
        return secret
    except OSError as error:
        raise _refusal(f"'{file}' cannot be used: {error.strerror or error}", "look who owns it") from None


def _read(file: str) -> bytes:
    number = os.open(file, os.O_RDONLY | getattr(os, "O_NOFOLLOW", 0))
    with open(number, "rb") as opened:
        state = os.fstat(number)
        secret = opened.read(_LENGTH + 1)
    if not stat.S_ISREG(state.st_mode) or len(secret) != _LENGTH:
        raise _refusal(f"'{file}' is not what keeps the pages' secret", "move it away, or give --new-pins")
    if os.name == "posix" and state.st_mode & (stat.S_IRWXG | stat.S_IRWXO):
        raise _refusal(f"others can read '{file}', from which PINs are made", "give --new-pins for new ones")
    return secret


def _refusal(message: str, hint: str) -> InputError:
    return InputError([Problem("PG103", message, None, hint=hint)])
