"""A look at a file of a pack: what it is and on which days it speaks, without reading it as YAML.

A season's folder holds many editions and bulletins, of which a day needs few. Where a file begins with its own word at
the start of a line, plain patterns find its head, and whatever would make it something else; where anything is written
otherwise, the file is read in full. So a look never guesses: what it cannot tell for certain is read, and what cannot
be read is an error.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from datetime import date
from typing import TYPE_CHECKING

from checker.quantities.days import parse_day
from checker.reading.file_bytes import MOST_BYTES, REFUSED, open_file
from checker.reading.patterns import pattern
from checker.reading.quick_dataclasses import dataclass

if TYPE_CHECKING:
    from checker.reading.document import Document

_FIRST = pattern(r"(?:[ ]*(?:#.*)?\n)*([a-z]+)[ ]*:(?=[ \n])")
LIST_OF_NAMED = "- name"
"""Stands for the first word of a list of named things: cases, meetings."""
_FIRST_OF_LIST = pattern(r"(?:[ ]*(?:#.*)?\n)*-[ ]+\{?name:[ ]")
_TELLING = pattern(
    r"^(?:(?:pack|bulletin|approvals|procedure|interpretations|formula)[ ]*:|[\"'?])",
    re.MULTILINE | re.IGNORECASE,
)
"""A key at the margin that tells a kind of file, or one in quotes, which may be any."""
_AMENDS = pattern(r"^amends[ ]*:", re.MULTILINE | re.IGNORECASE)
_AT_THE_MARGIN = pattern(r"^([A-Za-z_][^:\n]*?)[ ]*:", re.MULTILINE)
_OF_A_BULLETIN = ("bulletin", "amends", "in_force", "changes")
_LONGEST = 40
"""Letters of a key that are looked at: what is longer is none of these words."""
_WORDS = ("pack", "bulletin", "amends", "procedure", "interpretations")
_A_WORD = "|".join(rf"{word}(?<=\b{word})" for word in _WORDS)
_IN_A_LIST = (
    pattern(rf"(?:{_A_WORD})[\"']?[ ]*:"),
    pattern(r"^[ ]*(?:-[ ]+)?\{?[\"']?approvals[\"']?[ ]*:", re.MULTILINE),
)
"""A case may cite approvals among what it sets, in brackets; that must not cost reading every case for each car. A
permission that is passed over passes no car. The edge of a word is looked for last, which takes a sixth of the time."""
_TEXT = r"(?:\"([^\"\\\n]+)\"|'([^'\n]+)'|([^\"'#\n{}\[\],&*!|>%@`]+?))[ ]*(?:#.*)?$"
_NAMES = {
    word: pattern(rf"^{word}[ ]*:[ ]+{_TEXT}", re.MULTILINE) for word in ("pack", "bulletin", "edition")
}
_DAY = r"[\"']?(\d{4}-\d{2}-\d{2})[\"']?"
_ENDS = r"[ ]*(?:#.*)?$"
_FLOW = pattern(
    rf"^in_force[ ]*:[ ]+\{{[ ]*from:[ ]+{_DAY}[ ]*(?:,[ ]*until:[ ]+{_DAY}[ ]*)?\}}{_ENDS}", re.MULTILINE
)
_BLOCK = pattern(
    rf"^in_force[ ]*:{_ENDS}\n[ ]+from:[ ]+{_DAY}{_ENDS}(?:\n[ ]+until:[ ]+{_DAY}{_ENDS})?(?=\n[A-Za-z]|\n?\Z)",
    re.MULTILINE,
)
_IN_FORCE = pattern(r"^[\"']?in_force\b", re.MULTILINE)


@dataclass(frozen=True, slots=True)
class Head:
    """The head of an edition or a bulletin."""

    file: str
    edition: str
    """The edition's own name; "" for a bulletin."""
    first: date
    last: date | None
    bulletin: str = ""
    """The bulletin's name; "" for an edition."""

    def covers(self, on: date) -> bool:
        """Whether it speaks on a day."""
        return self.first <= on and (self.last is None or on <= self.last)

    @property
    def days(self) -> str:
        """The days in words: "2026-03-01 to further notice"."""
        return f"{self.first.isoformat()} to {self.last.isoformat() if self.last else 'further notice'}"


def first_word(file: str) -> str:
    """The key that a file begins with, or `LIST_OF_NAMED`; "" where only reading it can tell.

    That is so too where a word that tells another kind of file stands further on, or may: a bulletin is one wherever
    its word stands.
    """
    text = _plain_text(file)
    if _FIRST_OF_LIST.match(text):
        return "" if any(one.search(text) for one in _IN_A_LIST) else LIST_OF_NAMED
    match = _FIRST.match(text)
    if match is None or len(_TELLING.findall(text)) > 1:
        return ""
    if match[1] in ("bulletin", "pack"):
        return match[1] if match[1] == "bulletin" or not _AMENDS.search(text) else ""
    begun_wrongly = len(set(of_a_bulletin(_AT_THE_MARGIN.findall(text)).values())) > 1
    return "" if begun_wrongly or _AMENDS.search(text) else match[1]


def of_a_bulletin(keys: Iterable[str]) -> dict[str, str]:
    """Which of the keys may be meant for which of a bulletin's own words."""
    return {
        key: word
        for key in dict.fromkeys(keys)
        for word in _OF_A_BULLETIN
        if 8 * len(word) >= 3 * (len(key) + len(word)) <= 8 * _in_common(key.lower(), word)
    }


def _in_common(key: str, word: str) -> int:
    """How many letters stand in both, in the same order. Looking so loads nothing, as every look at a folder must."""
    row = [0] * (len(word) + 1)
    for letter in key[:_LONGEST]:
        before = row
        row = [0]
        for at, other in enumerate(word):
            row.append(before[at] + 1 if letter == other else max(row[at], before[at + 1]))
    return row[-1]


def formula_of_edition(file: str) -> str:
    """The formula that an edition names; "" for none.

    Raises:
        InputError: It has to be read in full and cannot be.
    """
    return _name(_plain_text(file), "pack") or str(read_in_full(file).get(("pack",)) or "").strip()


def head_of(file: str) -> Head:
    """The head of an edition or a bulletin; the file is read in full where a look does not tell.

    Raises:
        InputError: It has to be read in full and cannot be, or its days make no sense.
    """
    text = _plain_text(file)
    days = _days(text)
    edition, bulletin = _name(text, "edition"), _name(text, "bulletin")
    if days is not None and (edition or bulletin):
        return Head(file, edition, *days, bulletin)
    return head_in(read_in_full(file), file)


def head_in(document: Document, file: str) -> Head:
    """The head of a document that has been read.

    Raises:
        InputError: Its days make no sense.
    """
    from checker.pack.reading.source import PackSource
    from checker.pack.sections.header import read_in_force

    source = PackSource(document)
    first, last = read_in_force(source)
    source.problems.raise_if_any()
    edition, bulletin = (str(document.get((word,), "")) for word in ("edition", "bulletin"))
    return Head(file, edition, first, last, bulletin)


def read_in_full(file: str) -> Document:
    """The whole file. What reads it is loaded only here, so that a look costs a shell's completion little.

    Raises:
        InputError: It cannot be read as YAML.
    """
    from checker.pack.editions.loading import read_pack_document

    return read_pack_document(file)


def _name(text: str, word: str) -> str:
    match = _NAMES[word].search(text)
    return next(filter(None, match.groups()), "").strip() if match else ""


def _days(text: str) -> tuple[date, date | None] | None:
    match = _FLOW.search(text) or _BLOCK.search(text)
    if match is None or len(_IN_FORCE.findall(text)) != 1:
        return None
    try:
        first = parse_day(match[1])
        last = parse_day(match[2]) if match[2] else None
    except ValueError:
        return None
    return None if last is not None and last < first else (first, last)


def _plain_text(file: str) -> str:
    """A file's text, where it is plain and begins with a key; "" where it is anything else, or larger than is read."""
    try:
        with open_file(file) as stream:
            data = stream.read(MOST_BYTES + 1)
        if len(data) > MOST_BYTES:
            return ""
        text = data.decode("utf-8-sig").replace("\r\n", "\n")
    except (OSError, ValueError):
        return ""
    plain = "\r" not in text and not REFUSED.search(text)
    return text if plain and (_FIRST.match(text) or _FIRST_OF_LIST.match(text)) else ""
