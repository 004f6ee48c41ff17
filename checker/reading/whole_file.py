"""Writes a file all at once or not at all: beside its place, and then put there in one step."""

from __future__ import annotations

import contextlib
import errno
import os
import stat
from collections.abc import Iterator
from typing import IO


class NotWrittenError(Exception):
    """A result could not be written; the text is fit for a user."""


def write_bytes(file: str, data: bytes) -> None:
    """Write a file that is no text, all at once or not at all.

    Raises:
        NotWrittenError: It could not be written.
    """
    with whole_file(file) as opened:
        opened.write(data)


@contextlib.contextmanager
def told_in_words(what: str) -> Iterator[None]:
    """Turn what goes wrong while writing into words; a closed pipe is nobody's mistake."""
    try:
        yield
    except BrokenPipeError:
        raise
    except OSError as error:
        raise NotWrittenError(f"cannot write {what}: {error.strerror or error}") from None


@contextlib.contextmanager
def whole_file(file: str) -> Iterator[IO[bytes]]:
    """A file to write into, which is put in its place once all is written, and never where anything goes wrong.

    Raises:
        NotWrittenError: It could not be written.
    """
    with told_in_words(f"'{file}'"):
        place = os.path.realpath(file)
        if os.path.exists(place) and not os.path.isfile(place):
            with _through(place) as opened:
                yield opened
            return
        folder, name = os.path.split(place)
        beside = os.path.join(folder, f".{name}.{os.getpid()}.part")
        try:
            with open(beside, "xb") as opened:
                yield opened
                opened.flush()
                os.fsync(opened.fileno())
            if os.path.exists(place):
                os.chmod(beside, stat.S_IMODE(os.stat(place).st_mode))
            os.replace(beside, place)
        finally:
            with contextlib.suppress(FileNotFoundError):
                os.unlink(beside)


def _through(place: str) -> IO[bytes]:
    """To a device or a pipe, which is never replaced; a pipe that nobody reads is refused, not waited for."""
    try:
        number = os.open(place, os.O_WRONLY | getattr(os, "O_NONBLOCK", 0))
    except OSError as error:
        if error.errno == errno.ENXIO:
            raise OSError(errno.ENXIO, "nobody reads this pipe") from None
        raise
    os.set_blocking(number, True)
    return open(number, "wb")
