"""Results go to stdout or to a file, everything else to stderr.

Whatever a terminal or pipe cannot show in its encoding is printed in ASCII; a file and JSON are always UTF-8.
"""

from __future__ import annotations

import codecs
import contextlib
import os
import sys
import unicodedata
from collections.abc import Callable, Iterable
from typing import TextIO

from checker.reading.excerpt import render
from checker.reading.plain_text import printable, shortened
from checker.reading.problems import Problem
from checker.reading.whole_file import NotWrittenError as NotWrittenError
from checker.reading.whole_file import told_in_words as told_in_words
from checker.reading.whole_file import whole_file as whole_file
from checker.reading.whole_file import write_bytes as write_bytes

_LONGEST_LINE = 1000
"""Characters of a line of a message; a name or an argument of more is cut in its middle."""

_ERRORS = "checker.ascii"
_FORMS = {
    "≤": "<=",
    "≥": ">=",
    "±": "+/-",
    "−": "-",
    "–": "-",
    "—": "-",
    "×": "x",
    "·": ".",
    "°": "deg ",
    "…": "...",
    "→": "->",
    "‘": "'",
    "’": "'",
    "“": '"',
    "”": '"',
    "ß": "ss",
    "ø": "o",
    "Ø": "O",
    "æ": "ae",
    "Æ": "AE",
    "€": "EUR",
    "£": "GBP",
}


_NO_ALPHABETS = {"idna", "punycode", "raw-unicode-escape", "undefined", "unicode-escape"}
"""Encodings of Python's that are for names or for source: they refuse lines, or change them."""


def prepare() -> None:
    """Have both streams print in ASCII what their encoding cannot show."""
    for stream in (sys.stdout, sys.stderr):
        if stream is not None and hasattr(stream, "reconfigure"):
            strange = codecs.lookup(stream.encoding).name.replace("_", "-") in _NO_ALPHABETS
            stream.reconfigure(encoding="ascii" if strange else None, errors=_ERRORS)


def _in_ascii(error: UnicodeError) -> tuple[str, int]:
    """Signs by what people type for them, letters without their accents, and escapes for the rest."""
    if not isinstance(error, UnicodeEncodeError):
        raise error
    return "".join(map(_form, error.object[error.start : error.end])), error.end


def _form(character: str) -> str:
    plain = "".join(c for c in unicodedata.normalize("NFKD", character) if c.isascii())
    return _FORMS.get(character) or plain or f"\\u{ord(character):04x}"


def in_ascii(text: str) -> str:
    """A text for what has no other letters."""
    return text.encode("ascii", _ERRORS).decode("ascii")


codecs.register_error(_ERRORS, _in_ascii)


def in_colour() -> bool:
    """Whether stdout is a terminal that wants colours."""
    asked_not_to = os.environ.get("NO_COLOR") or os.environ.get("TERM") == "dumb"
    return not asked_not_to and _is_terminal(sys.stdout)


def width_of_terminal() -> int:
    """Columns of the terminal that stdout is; of a pipe what COLUMNS says, or 80."""
    if not _is_terminal(sys.stdout):
        told = os.environ.get("COLUMNS", "")
        return int(told) if told.isascii() and told.isdigit() and int(told) else 80
    import shutil

    return shutil.get_terminal_size().columns


def stdout_is_terminal() -> bool:
    return _is_terminal(sys.stdout)


def stderr_is_terminal() -> bool:
    return _is_terminal(sys.stderr)


def _is_terminal(stream: TextIO | None) -> bool:
    return stream is not None and stream.isatty()


_line: list[Callable[..., None]] = []


def before_printing(hide: Callable[..., None] | None) -> None:
    """What takes a line about progress away, called with `for_good`; None: there is none any more."""
    _line[:] = [hide] if hide is not None else []


def make_way(*, for_good: bool) -> None:
    """Take a line about progress away before anything else is printed or asked.

    Args:
        for_good: It is not to come back: a result is printed, or somebody types.
    """
    for hide in _line:
        hide(for_good=for_good)


def deliver(text: str | Iterable[str], file: str | None = None, *, utf8: bool = False) -> None:
    """Print a result, or write it to a file.

    Args:
        text: The result, or its parts, each of which is printed as it comes.
        file: Where to write; stdout where None.
        utf8: Print it in UTF-8 whatever the terminal's encoding is, and its line ends as they are, as JSON and CSV
            are defined.

    Raises:
        NotWrittenError: It could not be written.
        BrokenPipeError: Nobody reads it any more.
    """
    parts = [text] if isinstance(text, str) else text
    if file is not None:
        with whole_file(file) as opened:
            opened.writelines(part.encode("utf-8", _ERRORS) for part in parts)
        return
    refuse_closed()
    assert sys.stdout is not None
    make_way(for_good=True)
    if utf8 and hasattr(sys.stdout, "reconfigure"):
        sys.stdout.reconfigure(encoding="utf-8", errors=_ERRORS, newline="")
    for part in parts:
        with told_in_words("the result"):
            sys.stdout.write(part)


def refuse_closed() -> None:
    """Refuse to take for printed what cannot be.

    Raises:
        NotWrittenError: The standard output is closed.
    """
    if sys.stdout is None:
        raise NotWrittenError("cannot write the result: the standard output is closed")


def flush() -> None:
    """Push out what is printed, so that what fails does so here."""
    if sys.stdout is not None:
        with told_in_words("the result"):
            sys.stdout.flush()


_last_words: list[Callable[[], str]] = []


def end_with(words: Callable[[], str] | None) -> None:
    """What is to be said last if the command does not come to its own end; None: nothing any more."""
    _last_words[:] = [words] if words is not None else []


def say_last_words() -> None:
    """Say, for a command that was broken off, what stands all the same."""
    for words in _last_words:
        complain(words())


def abandon() -> None:
    """Give up on stdout, so that nothing is tried again while the program ends."""
    with contextlib.suppress(OSError, ValueError, AttributeError):
        nowhere = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nowhere, sys.stdout.fileno())
        os.close(nowhere)


def complain(words: str) -> None:
    """Print a line for the person at the terminal; where that is impossible, nobody is there."""
    if sys.stderr is None:
        return  # print() would take stdout in its place
    make_way(for_good=False)
    lines = printable(words, keep_newlines=True).split("\n")
    with contextlib.suppress(OSError, ValueError):
        print("\n".join(shortened(line, _LONGEST_LINE) for line in lines), file=sys.stderr, flush=True)


def show_problems(problems: Iterable[Problem]) -> None:
    """Print mistakes in files, each with its place, excerpt and cure."""
    for problem in problems:
        complain(render(problem))
