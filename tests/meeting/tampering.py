"""Changes to a record as somebody would make them who knows SQLite and this program."""

from __future__ import annotations

import random
import sqlite3
from pathlib import Path
from typing import Any

from checker.meeting.record.chain import RecordEntry, canonical, linked
from checker.meeting.record.content_form import to_plain
from checker.meeting.record.contents import Content
from checker.meeting.record.rows import digest_of
from checker.meeting.standing.verifying import Verification, verify

Statement = tuple[str, tuple[Any, ...]]


def unlocked(path: Path) -> sqlite3.Connection:
    """The file in the hands of somebody who knows SQLite; the protection is put back as it was afterwards."""
    database = sqlite3.connect(path, isolation_level=None)
    database.execute("PRAGMA synchronous = OFF")
    return database


def tampered(path: Path, *statements: Statement) -> None:
    """Change rows behind the triggers' backs, and leave no trace of that in the database's own form."""
    database = unlocked(path)
    database.execute("BEGIN")
    triggers = database.execute("SELECT name, sql FROM sqlite_master WHERE type = 'trigger'").fetchall()
    for name, _ in triggers:
        database.execute(f"DROP TRIGGER {name}")
    for statement, values in statements:
        database.execute(statement, values)
    for _, text in triggers:
        database.execute(text)
    database.execute("COMMIT")
    database.close()


def rows(path: Path) -> list[RecordEntry]:
    database = unlocked(path)
    found = database.execute(
        "SELECT number, kind, at, by, content, previous, hash FROM entry ORDER BY number"
    ).fetchall()
    database.close()
    return [RecordEntry(*row) for row in found]


def forged(path: Path, by: str, content: Content, *files: bytes, at: str = "") -> int:
    """Append a well-hashed entry as somebody would who has the file and knows how it is made; gives its number."""
    last = rows(path)[-1]
    text = canonical(to_plain(content))
    entry = linked(last.number + 1, content.KIND, at or last.at, by, text, last.hash)
    values = (entry.number, entry.kind, entry.at, entry.by, entry.content, entry.previous, entry.hash)
    brought = [("INSERT INTO file VALUES (?, ?, ?)", (digest_of(data), entry.number, data)) for data in files]
    tampered(path, ("INSERT INTO entry VALUES (?, ?, ?, ?, ?, ?, ?)", values), *brought)
    return entry.number


def name_random_changes(sound: bytes, folder: Path, count: int, seed: int) -> None:
    """Make so many changes, each to a copy of its own, and see that verification names each.

    The hash of the last entry is taken as printed while the record was sound.
    """
    path = folder / "changed.meeting"
    path.write_bytes(sound)
    entries = rows(path)
    chance = random.Random(seed)
    for change in range(count):
        path.write_bytes(sound)
        number, statements = a_change(chance, entries)
        tampered(path, *statements)
        found = verify(path, [entries[-1].hash])
        told = " ".join(fault.message for fault in found.faults)
        assert not found.sound, f"change {change} to entry {number} was not found: {statements}"
        assert names(number, told, found), f"change {change} to entry {number} was not named: {told}"
        assert found.recomputed == 0
        assert found.skipped


def a_change(chance: random.Random, entries: list[RecordEntry]) -> tuple[int, list[Statement]]:
    """A random change to one logical entry: its number, and the statements that make it."""
    entry = chance.choice(entries[1:])
    number = entry.number
    column = chance.choice(
        ("content", "content", "content", "at", "by", "kind", "hash", "previous", "drop", "number")
    )
    if column == "drop":
        gone: Statement = ("DELETE FROM entry WHERE number = ?", (number,))
        return number, [("DELETE FROM file WHERE entry = ?", (number,)), gone]
    if column == "number":
        moved = (len(entries) + 100 + chance.randrange(100), number)
        tables = ("UPDATE file SET entry = ? WHERE entry = ?", "UPDATE entry SET number = ? WHERE number = ?")
        return number, [(statement, moved) for statement in tables]
    values = {
        "content": changed(chance, entry.content),
        "at": "2026-05-03T23:59:59.000Z",
        "by": "XX",
        "kind": "noted" if entry.kind != "noted" else "struck",
        "hash": f"{chance.getrandbits(256):064x}",
        "previous": f"{chance.getrandbits(256):064x}",
    }
    return number, [(f"UPDATE entry SET {column} = ? WHERE number = ?", (values[column], number))]


def changed(chance: random.Random, text: str) -> str:
    """The text with one character another: as often a digit as anything else."""
    digits = [at for at, character in enumerate(text) if character.isdigit()]
    if digits and chance.random() < 0.5:
        at = chance.choice(digits)
        other = str((int(text[at]) + 1 + chance.randrange(9)) % 10)
    else:
        at = chance.randrange(len(text))
        other = chr(ord(text[at]) ^ 1)
    return text[:at] + other + text[at + 1 :]


def names(number: int, told: str, found: Verification) -> bool:
    """Whether what is told points at the entry: by its number, as missing, or as cut off at the end."""
    if f"entry {number} " in told or f"entry {number}:" in told or f"entries {number} " in told:
        return True
    return any(fault.code == "MT405" for fault in found.faults) and number > found.entries
