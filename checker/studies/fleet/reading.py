"""Many declarations, one after the other: files, folders of files, and files with one declaration a line.

A fleet may be larger than memory, so a declaration is read only when its turn comes and nothing of it is
kept. A file that cannot be used is an error of that one declaration; the others are still judged.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Iterable, Iterator
from typing import TypeVar

from checker.reading.document import Document
from checker.reading.file_bytes import MOST_BYTES, open_file
from checker.reading.problems import InputError, Span
from checker.reading.quick_dataclasses import dataclass, replace
from checker.reading.strict_yaml import parse_quickly, read_quickly

T = TypeVar("T")

LINES = ".jsonl"
"""Ending of a file with one declaration a line (JSON Lines)."""

_FILES = (".yaml", ".yml", ".json", LINES)
"""Endings of what a folder is searched for."""


@dataclass(frozen=True, slots=True)
class QueuedDeclaration:
    """One declaration on its way to be judged."""

    file: str
    line: int = 0
    """Its line in a file of many, from 1; 0: it is the file."""
    data: bytes | None = None
    """The bytes of its line; None: those of the file, which is not read yet."""

    @property
    def place(self) -> str:
        """Where it is, for lists: "fleet.jsonl:12"."""
        return f"{self.file}:{self.line}" if self.line else self.file

    def judged(self, work: Callable[[Document], T]) -> T:
        """What `work` makes of the declaration.

        Raises:
            InputError: It cannot be read, or `work` cannot use it; problems name its line in the file.
        """
        if self.data is None:
            return work(read_quickly(self.file, "CD"))
        try:
            return work(parse_quickly(self.data, self.file, "CD", self.line))
        except InputError as error:
            here = Span(self.file, self.line, 1, self.line, 1)
            raise InputError([replace(one, span=one.span or here) for one in error.problems]) from None


def records(places: Iterable[str], *, folders: bool = True) -> Iterator[QueuedDeclaration]:
    """Every declaration at these places, in the order given; those of a folder by name, folders inside it too.

    Args:
        places: Names of files and folders. A file `*.jsonl` holds one declaration a line.
        folders: Whether folders are searched; else they are what cannot be read.
    """
    for file in _files(places) if folders else places:
        if file.endswith(LINES) and os.path.isfile(file):
            yield from _lines(file)
        else:
            yield QueuedDeclaration(file)


def _files(places: Iterable[str]) -> Iterator[str]:
    for place in places:
        if not os.path.isdir(place):
            yield place
            continue
        for folder, inside, files in os.walk(place):
            inside[:] = sorted(name for name in inside if not name.startswith("."))
            for name in sorted(files):
                if name.endswith(_FILES) and not name.startswith("."):
                    yield os.path.join(folder, name)


def _lines(file: str) -> Iterator[QueuedDeclaration]:
    try:
        with open_file(file) as opened:
            number, any_car = 0, False
            while line := opened.readline(MOST_BYTES + 2):
                number += 1
                if line.strip():
                    any_car = True
                    yield QueuedDeclaration(file, number, line)
            if not any_car:  # an empty file is no fleet of which all is well
                yield QueuedDeclaration(file, 1, b"")
    except (OSError, ValueError):
        yield QueuedDeclaration(file)  # told with its reason when it is read


def count(places: Iterable[str], *, folders: bool = True) -> int:
    """How many declarations `records` will give; the files are looked at but not understood."""
    return sum(1 for _ in records(places, folders=folders))
