"""Hashes from slips and results: which entries of a record have them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from checker.meeting.record.branches import brought_by
from checker.meeting.record.chain import RecordEntry, RecordFault, from_print
from checker.meeting.record.refusal import refusal
from checker.reading.quick_dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Matched:
    """An entry that has a printed hash."""

    printed: str
    """Its digits, as far as they were given."""
    number: int
    kind: str
    at: str
    by: str
    following: int
    """How many entries came after it."""
    there: int = 0
    """Its number in the record it was merged from; 0 where it was recorded in this one."""


def hash_of_print(text: str) -> str:
    """The digits of a hash as somebody typed it from paper.

    Raises:
        InputError: MT209, it is none.
    """
    try:
        return from_print(text)
    except ValueError as error:
        raise refusal("MT209", str(error), "type it as it is printed, blanks do not matter") from None


def matched_by(entries: Sequence[RecordEntry], wanted: Sequence[str]) -> Iterator[Matched]:
    """The entries that have these hashes, those of merged records too."""
    own = ((entry.number, entry, 0) for entry in entries)
    everywhere = [*own, *((number, entry, entry.number) for number, entry in brought_by(entries))]
    for hash_hex in wanted:
        for number, entry, there in everywhere:
            if entry.hash.startswith(hash_hex):
                following = entries[-1].number - number
                yield Matched(hash_hex, number, entry.kind, entry.at, entry.by, following, there)


def not_printed(entries: Sequence[RecordEntry], wanted: Sequence[str]) -> Iterator[RecordFault]:
    """A fault for each of these hashes that no entry has."""
    hashes = [*(entry.hash for entry in entries), *(entry.hash for _, entry in brought_by(entries))]
    for hash_hex in wanted:
        if not any(one.startswith(hash_hex) for one in hashes):
            why = "entries were cut off at the end, the record is another, or a copy was carried on and is not merged"
            message = f"no entry has the printed hash {hash_hex[:20]}: {why}"
            yield RecordFault(len(entries), "MT405", message)
