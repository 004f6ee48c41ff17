"""A look at the head of a file of a pack: what it is and on which days it speaks, without reading the rest.

A season's folder holds many editions and bulletins, of which a day needs few. Their heads are found by plain
patterns at the start of lines; where a head is written in a way that the patterns do not know, the file is
read in full instead.
A peek only ever decides that a file is not in force: what is in force is read properly.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from checker.pack.editions.loading import read_pack_document
from checker.pack.reading.source import PackSource
from checker.pack.sections.header import read_in_force
from checker.quantities.days import parse_day
from checker.reading.document import Document

_HEAD_BYTES = 65536

_WORD = re.compile(r"^(pack|bulletin|approvals|cases)[ ]*:", re.MULTILINE)
_TEXT = r"[\"']?([^\"'#\r\n{}\[\],]+?)[\"']?[ ]*(?:#.*)?\r?$"
_NAMES = {
    word: re.compile(rf"^{word}[ ]*:[ ]+{_TEXT}", re.MULTILINE) for word in ("pack", "bulletin", "edition")
}
_DAY = r"[\"']?(\d{4}-\d{2}-\d{2})[\"']?"
_ENDS = r"[ ]*(?:#.*)?\r?$"
_FLOW = re.compile(
    rf"^in_force[ ]*:[ ]+\{{[ ]*from:[ ]+{_DAY}[ ]*(?:,[ ]*until:[ ]+{_DAY}[ ]*)?\}}{_ENDS}", re.MULTILINE
)
_BLOCK = re.compile(
    rf"^in_force[ ]*:{_ENDS}\n[ ]+from:[ ]+{_DAY}{_ENDS}(?:\n[ ]+until:[ ]+{_DAY}{_ENDS})?(?=\n[A-Za-z]|\n?\Z)",
    re.MULTILINE,
)
_IN_FORCE = re.compile(r"^[\"']?in_force\b", re.MULTILINE)


@dataclass(frozen=True, slots=True)
class Head:
    """The head of an edition or a bulletin."""

    file: str
    edition: str
    first: date
    last: date | None

    def covers(self, on: date) -> bool:
        """Whether it speaks on a day."""
        return self.first <= on and (self.last is None or on <= self.last)

    @property
    def days(self) -> str:
        """The days in words: "2026-03-01 to further notice"."""
        return f"{self.first.isoformat()} to {self.last.isoformat() if self.last else 'further notice'}"


def kind_of(file: Path) -> str:
    """pack, bulletin, approvals or cases: the first of these words that begins a line; "" for none."""
    match = _WORD.search(_head(file))
    return match[1] if match else ""


def name_in(file: Path) -> str:
    """The formula that a pack's file names; "" where that cannot be told."""
    match = _NAMES["pack"].search(_head(file))
    return match[1].strip() if match else ""


def head_of(file: str) -> Head:
    """The head of an edition or a bulletin; the file is read in full where a look does not tell.

    Raises:
        InputError: It has to be read in full and cannot be, or its days make no sense.
    """
    text = _head(Path(file))
    days = _days(text)
    edition = _NAMES["edition"].search(text)
    if days is not None:
        return Head(file, edition[1].strip() if edition else "", *days)
    return head_in(read_pack_document(file), file)


def head_in(document: Document, file: str) -> Head:
    """The head of a document that has been read.

    Raises:
        InputError: Its days make no sense.
    """
    source = PackSource(document)
    first, last = read_in_force(source)
    source.problems.raise_if_any()
    return Head(file, str(document.get(("edition",), "")), first, last)


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


def _head(file: Path) -> str:
    try:
        with file.open("rb") as stream:
            return stream.read(_HEAD_BYTES).decode("utf-8-sig", errors="replace")
    except OSError:
        return ""
