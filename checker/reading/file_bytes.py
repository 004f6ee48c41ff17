"""From a file's bytes to text that means the same to everybody.

libyaml would also take UTF-16, and counts some rare characters as line ends that an editor does not; then
lines and columns in messages would be wrong. So the text is decoded strictly first, and such characters
are refused.
"""

from __future__ import annotations

import errno
import hashlib
import os
import stat
from contextlib import suppress
from typing import BinaryIO, Final, NoReturn

from checker.reading.nearest import nearest
from checker.reading.patterns import pattern
from checker.reading.problems import InputError, Problem, Span
from checker.reading.source import FileText

MOST_BYTES: Final = 4 * 1024 * 1024

_BOM: Final = b"\xef\xbb\xbf"
_UTF16: Final = (b"\xff\xfe", b"\xfe\xff")
REFUSED: Final = pattern(r"[\0-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u2028\u2029\ud800-\udfff\ufeff\ufffe\uffff]")
_NAMES: Final = {
    "\0": "a NUL byte",
    "\x1b": "an escape character",
    "\x85": "a next-line character (NEL)",
    "\u2028": "a line separator",
    "\u2029": "a paragraph separator",
    "\ufeff": "a byte order mark inside the text",
}


def read_bytes(file: str | os.PathLike[str], prefix: str) -> bytes:
    """The bytes of a file, at most one more than `MOST_BYTES`.

    Raises:
        InputError: 110, it is absent or cannot be read.
    """
    name = os.fspath(file)
    hint = ""
    try:
        with open_file(name) as opened:
            return opened.read(MOST_BYTES + 1)
    except FileNotFoundError:
        reason = "there is no such file"
        hint = _meant(name)
    except IsADirectoryError:
        reason = "it is a folder, not a file"
        hint = _within(name)
    except PermissionError:
        reason = "you are not allowed to read it"
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
    raise InputError([Problem(f"{prefix}110", f"cannot read '{name}': {reason}", hint=hint)])


def open_file(name: str) -> BinaryIO:
    """An ordinary file, opened for reading. A pipe or a device is refused at once: it may never come to an end.

    Raises:
        OSError: It cannot be opened, or is no ordinary file.
        ValueError: The name cannot be one.
    """

    def ordinary(path: str, flags: int) -> int:
        number = os.open(path, flags | getattr(os, "O_NONBLOCK", 0))
        mode = os.fstat(number).st_mode
        if not stat.S_ISREG(mode) and not stat.S_ISDIR(mode):
            os.close(number)
            raise OSError(errno.EINVAL, "it is a pipe or a device, no ordinary file")
        return number

    return open(name, "rb", opener=ordinary)


def _meant(name: str) -> str:
    """A hint that names the file most like one that is absent. An ending is no likeness: most files have the same."""
    stem, ending = os.path.splitext(os.path.basename(name))
    by_stem: dict[str, str] = {}
    with suppress(OSError):
        beside = os.listdir(os.path.dirname(name) or ".")
        for one in sorted(beside, key=lambda one: (os.path.splitext(one)[1] != ending, one)):
            if one != os.path.basename(name):  # a link that leads nowhere is there, and absent
                by_stem.setdefault(os.path.splitext(one)[0], one)
    found = nearest(stem, by_stem)
    return "" if found is None else f"Did you mean '{by_stem[found]}'?"


def _within(folder: str) -> str:
    """A hint how to name the files of a folder, or of that folder in it which holds most."""
    from glob import glob

    files = (*glob("*.yaml", root_dir=folder), *glob("*/*.yaml", root_dir=folder))
    held = [os.path.dirname(file) for file in files]
    if not held:
        return ""
    most = max(sorted(set(held)), key=held.count)
    return f"Give files in it, as in {os.path.join(folder, most, '*.yaml')}"


def decode(data: bytes, name: str, prefix: str, first_line: int = 1) -> FileText:
    """The text in a file's bytes, without a byte order mark.

    Args:
        first_line: Where the bytes begin, of a file of which they are a part.

    Raises:
        InputError: 111, it is not UTF-8 or holds characters that no text needs; 117, it is too large.
    """
    if len(data) > MOST_BYTES:
        message = f"the file is larger than {MOST_BYTES // 1024**2} MiB"
        raise InputError([Problem(f"{prefix}117", message, Span(name, first_line, 1, first_line, 1))])
    sha256 = hashlib.sha256(data).hexdigest()
    if data.startswith(_UTF16):
        _not_text(prefix, "the file is in UTF-16, not in UTF-8", Span(name, first_line, 1, first_line, 1))
    data = data.removeprefix(_BOM)
    try:
        source = FileText(name, data.decode(), sha256, first_line)
    except UnicodeDecodeError as error:
        before = FileText(name, data[: error.start].decode(), sha256, first_line)
        end = len(before.text)
        what = f"the byte 0x{data[error.start]:02X} is not UTF-8 text"
        _not_text(prefix, what, before.span(end, end))
    found = REFUSED.search(source.text)
    if found is not None:
        character = found[0]
        what = _NAMES.get(character, f"the control character U+{ord(character):04X}")
        _not_text(prefix, f"{what} stands here", source.span(found.start(), found.end()))
    return source


def _not_text(prefix: str, what: str, span: Span) -> NoReturn:
    hint = "Only plain text in UTF-8 is read, no file of a spreadsheet or word processor."
    raise InputError([Problem(f"{prefix}111", what, span, hint=hint)])
