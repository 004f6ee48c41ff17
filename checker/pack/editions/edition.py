"""One edition through its life: the same text under whatever bulletins are in force on a day.

A study asks for many days; between two bulletins the text is the same, so it is put together once.
"""

from __future__ import annotations

from datetime import date

from checker.pack.editions.beside import Beside, read_beside
from checker.pack.editions.file_heads import Head, head_in, head_of
from checker.pack.editions.finding import PackFolder
from checker.pack.editions.in_force import choose, pack_of, text_in_force
from checker.pack.editions.loading import read_pack_document
from checker.pack.model import Pack
from checker.reading.document import Document
from checker.reading.problems import InputError, Problem
from checker.reading.quick_dataclasses import replace


class Edition:
    """One edition of a folder.

    Args:
        folder: Where it stands, with the bulletins and the register beside it.
        file: The edition's own file.

    Raises:
        InputError: The file, or the head of a bulletin, cannot be read.
    """

    def __init__(self, folder: PackFolder, file: str) -> None:
        others = tuple(other for other in folder.editions if other != file)
        self.folder = replace(folder, editions=(file,), siblings=(*folder.siblings, *others))
        self.document: Document = read_pack_document(file)
        self.head: Head = head_in(self.document, file)
        self._bulletins = [head_of(bulletin) for bulletin in folder.bulletins]
        self.beside: Beside = read_beside(folder)
        self._packs: dict[tuple[str, ...], Pack] = {}
        self._by_day: dict[date, Pack] = {}

    def pack_on(self, on: date) -> Pack:
        """The pack as in force on a day.

        Raises:
            InputError: The edition does not cover the day (620), or the text in force cannot be used.
        """
        if on not in self._by_day:
            speaking = tuple(head.file for head in self._bulletins if head.covers(on))
            if speaking not in self._packs:
                text = text_in_force(self.folder, on)
                self._packs[speaking] = pack_of(text, self.beside.documents)
            pack = self._packs[speaking]
            if not self.head.covers(on):
                message = f"{on.isoformat()} does not lie within edition {pack.edition}, {self.head.days}"
                raise InputError([Problem("PK620", message, self.document.span(("in_force",)))])
            self._by_day[on] = self.beside.laid_over(pack, on)
        return self._by_day[on]


def newest(folder: PackFolder) -> Edition:
    """The edition that comes into force last.

    Raises:
        InputError: The head of a file cannot be read.
    """
    heads = [head_of(file) for file in folder.editions]
    return Edition(folder, max(heads, key=lambda head: head.first).file)


def in_force_on(folder: PackFolder, on: date) -> Edition:
    """The edition that speaks on a day.

    Raises:
        InputError: None does, or two do (620), or the head of a file cannot be read.
    """
    return Edition(folder, choose([head_of(file) for file in folder.editions], on).file)
