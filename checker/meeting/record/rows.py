"""The rows of a record: read as they stand, put at the end, and read back before anybody is told of them."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Mapping, Sequence
from datetime import UTC, datetime
from hashlib import sha256

from checker.meeting.record.chain import FIRST, RecordEntry, canonical, linked
from checker.reading.quick_dataclasses import dataclass, field

Clock = Callable[[], datetime]


def computer_clock() -> datetime:
    """The time in UTC."""
    return datetime.now(UTC)


@dataclass(frozen=True, slots=True)
class RecordDraft:
    """What is to be recorded: an entry without its place in the chain."""

    kind: str
    by: str
    content: Mapping[str, object]
    files: tuple[bytes, ...] = field(default=())
    """Files that the content names by their SHA-256."""
    sign: Callable[[str], str] | None = None
    """Signs the entry's line; None where it is not signed."""


def digest_of(data: bytes) -> str:
    """The name under which a file is kept: its SHA-256 in hex."""
    return sha256(data).hexdigest()


def entries_after(database: sqlite3.Connection, after: int) -> list[RecordEntry]:
    rows = database.execute(
        "SELECT number, kind, at, by, content, previous, hash FROM entry WHERE number > ? ORDER BY number",
        (after,),
    ).fetchall()
    for number, *texts in rows:
        if not isinstance(number, int) or not all(isinstance(text, str) for text in texts):
            raise sqlite3.DatabaseError(f"entry {number} does not hold what it is defined to hold")
    return [RecordEntry(*row) for row in rows]


def append(database: sqlite3.Connection, drafts: Sequence[RecordDraft], clock: Clock) -> list[RecordEntry]:
    last = database.execute("SELECT number, hash FROM entry ORDER BY number DESC LIMIT 1").fetchone()
    number, previous = last or (0, FIRST)
    added: list[RecordEntry] = []
    for draft in drafts:
        number += 1
        entry = linked(
            number, draft.kind, _stamp(clock()), draft.by, canonical(dict(draft.content)), previous
        )
        database.execute(
            "INSERT INTO entry (number, kind, at, by, content, previous, hash) VALUES (?, ?, ?, ?, ?, ?, ?)",
            (entry.number, entry.kind, entry.at, entry.by, entry.content, entry.previous, entry.hash),
        )
        if draft.sign is not None:
            row_of_it = (number, draft.sign(entry.text))
            database.execute("INSERT INTO signature (entry, signed) VALUES (?, ?)", row_of_it)
        for data in draft.files:
            digest = digest_of(data)
            if database.execute("SELECT 1 FROM file WHERE sha256 = ?", (digest,)).fetchone() is None:
                row = (digest, number, data)
                database.execute("INSERT INTO file (sha256, entry, bytes) VALUES (?, ?, ?)", row)
        previous = entry.hash
        added.append(entry)
    _read_back(database, added, drafts)
    return added


def _read_back(
    database: sqlite3.Connection, added: Sequence[RecordEntry], drafts: Sequence[RecordDraft]
) -> None:
    """See that what was stored is what stands there now, before anybody is told that it is."""
    if added and entries_after(database, added[0].number - 1) != added:
        raise sqlite3.DatabaseError("what was stored does not read back")
    signing = sum(draft.sign is not None for draft in drafts)
    kept_of_them = "SELECT count(*) FROM signature WHERE entry >= ?"
    if signing and database.execute(kept_of_them, (added[0].number,)).fetchone() != (signing,):
        raise sqlite3.DatabaseError("a signature that was stored does not read back")
    for digest in {digest_of(data) for draft in drafts for data in draft.files}:
        kept = database.execute("SELECT bytes FROM file WHERE sha256 = ?", (digest,)).fetchone()
        if kept is None or digest_of(kept[0]) != digest:
            raise sqlite3.DatabaseError("a file that was stored does not read back")


def _stamp(moment: datetime) -> str:
    """UTC to the millisecond."""
    return moment.astimezone(UTC).isoformat(timespec="milliseconds").replace("+00:00", "Z")
