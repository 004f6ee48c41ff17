"""The chain: every entry carries the hash of the one before, so that none can be changed, moved or taken out.

An entry's hash is the SHA-256 of one line of text, its `text_of`: canonical JSON (keys sorted, no blanks, UTF-8)
of its number, kind, time, initials, content and the hash before it. Anybody can check an entry without this
program: save that line as a file and ask any tool for its SHA-256.

What a chain cannot show by itself is that its tail was cut, or that all of it was built anew. That takes one hash
known from outside: slips and results carry it on paper.

Source: hash chaining as in Haber and Stornetta (1991), "How to time-stamp a digital document"; SHA-256 is FIPS 180-4.
Both recalled, not looked up.
"""

from __future__ import annotations

import json
from collections.abc import Iterable
from hashlib import sha256
from typing import Any

from checker.reading.quick_dataclasses import dataclass

FIRST = "0" * 64
"""Stands for the hash before the first entry."""

DEEPEST = 12
"""Levels of an entry; those that are written have seven at most."""

SHORTEST_PRINTED = 12
"""A printed hash may be shortened, but not below so many digits."""


@dataclass(frozen=True, slots=True)
class RecordEntry:
    """One entry of the record, as it stands in the file."""

    number: int
    """From 1, without gaps."""
    kind: str
    at: str
    """UTC as the computer's clock had it, e.g. "2026-05-03T08:15:02.123Z"."""
    by: str
    """Initials of the official."""
    content: str
    """Canonical JSON of an object."""
    previous: str
    hash: str

    @property
    def text(self) -> str:
        """The line whose SHA-256 is the entry's hash."""
        return text_of(self.number, self.kind, self.at, self.by, self.content, self.previous)


@dataclass(frozen=True, slots=True)
class RecordFault:
    """What is wrong with the chain at one entry."""

    number: int
    """Of the entry as it stands, or the number that should have stood there."""
    code: str
    """One of `checker.meeting.record.refusal.CODES`."""
    message: str


def canonical(data: object) -> str:
    """Plain data as the one JSON text that stands for it.

    Raises:
        TypeError: It holds a float or something that is not plain data: 0.1 has no exact text.
    """
    _refuse_floats(data)
    return json.dumps(data, ensure_ascii=False, sort_keys=True, separators=(",", ":"), allow_nan=False)


def _refuse_floats(data: object) -> None:
    if isinstance(data, dict):
        if not all(isinstance(key, str) for key in data):
            raise TypeError("keys of a record are text")
        for value in data.values():
            _refuse_floats(value)
    elif isinstance(data, list):
        for value in data:
            _refuse_floats(value)
    elif not (data is None or isinstance(data, str | int)):
        raise TypeError(f"{type(data).__name__} cannot be kept in a record exactly")


def parsed(text: str) -> dict[str, Any]:
    """What an entry says, as plain data; whoever wrote it may mean harm.

    Raises:
        ValueError: It is no JSON object, or deeper than any entry.
    """
    try:
        data = json.loads(text)
    except RecursionError:
        raise ValueError("it is nested too deep") from None
    if not isinstance(data, dict):
        raise ValueError("it is no JSON object")
    inside: list[Any] = [data]
    for _ in range(DEEPEST):
        inside = [
            part
            for one in inside
            if isinstance(one, dict | list)
            for part in (one.values() if isinstance(one, dict) else one)
        ]
    if inside:
        raise ValueError("it is nested too deep")
    return data


def is_canonical(text: str) -> bool:
    """Whether the text is canonical JSON of an object."""
    try:
        return canonical(parsed(text)) == text
    except (ValueError, TypeError, RecursionError):
        return False


def text_of(number: int, kind: str, at: str, by: str, content: str, previous: str) -> str:
    """The line that is hashed: canonical JSON, with `content` as the object it is."""
    return (
        f'{{"at":{_quoted(at)},"by":{_quoted(by)},"content":{content},"kind":{_quoted(kind)},'
        f'"number":{number},"previous":{_quoted(previous)}}}'
    )


def _quoted(text: str) -> str:
    return json.dumps(text, ensure_ascii=False)


def hash_of(text: str) -> str:
    """SHA-256 in hex of a line; half a surrogate pair, which a damaged file may hold, counts as its code."""
    return sha256(text.encode("utf-8", "surrogatepass")).hexdigest()


def linked(number: int, kind: str, at: str, by: str, content: str, previous: str) -> RecordEntry:
    """A new entry with its hash."""
    return RecordEntry(
        number, kind, at, by, content, previous, hash_of(text_of(number, kind, at, by, content, previous))
    )


def faults(entries: Iterable[RecordEntry], number: int = 0, previous: str = FIRST) -> list[RecordFault]:
    """Every entry that does not stand as it was written, in order.

    Args:
        entries: All of them, or those that follow an entry that is known.
        number: Of that entry.
        previous: Its hash.

    Returns:
        One fault for one change: after an entry that does not fit, the chain is taken up again from the hash that the
        entry itself bears.
    """
    found: list[RecordFault] = []
    expected = number + 1
    for entry in entries:
        if entry.number != expected:
            found.append(RecordFault(entry.number, "MT402", _misplaced(entry.number, expected)))
        elif entry.previous != previous:
            before = f"entry {entry.number - 1}" if entry.number > 1 else "the start of this record"
            message = (
                f"{before} is not what entry {entry.number} was written after: one of the two was exchanged"
            )
            found.append(RecordFault(entry.number, "MT402", message))
        if hash_of(entry.text) != entry.hash:
            found.append(
                RecordFault(entry.number, "MT401", f"{_name(entry)} was changed after it was written")
            )
        elif not is_canonical(entry.content):
            found.append(
                RecordFault(entry.number, "MT401", f"{_name(entry)} is not in the form it is written in")
            )
        expected, previous = entry.number + 1, entry.hash
    return found


def _name(entry: RecordEntry) -> str:
    return f"entry {entry.number} ({entry.kind})"


def _misplaced(number: int, expected: int) -> str:
    if number > expected:
        missing = f"entry {expected}" if number == expected + 1 else f"entries {expected} to {number - 1}"
        return f"{missing} {'is' if number == expected + 1 else 'are'} missing before entry {number}"
    return f"entry {number} stands where entry {expected} was expected"


def printed(hash_hex: str, digits: int = 20) -> str:
    """A hash in groups of four for paper; 20 digits are 80 bits, more than can be matched by trying."""
    return " ".join(hash_hex[at : at + 4] for at in range(0, min(digits, len(hash_hex)), 4))


def from_print(text: str) -> str:
    """The hex digits of a hash as somebody typed it from paper.

    Raises:
        ValueError: It is no hash, or shorter than `SHORTEST_PRINTED` digits; the message says which.
    """
    digits = "".join(text.split()).lower()
    if not digits or any(digit not in "0123456789abcdef" for digit in digits):
        raise ValueError(f"{text!r} is no hash: it has digits 0 to 9 and letters a to f")
    if not SHORTEST_PRINTED <= len(digits) <= len(FIRST):
        raise ValueError(f"{text!r} has {len(digits)} digits; {SHORTEST_PRINTED} to {len(FIRST)} are needed")
    return digits
