"""The file behind a meeting: one SQLite database, and the steps that made it what it is.

A new file goes through the same steps as an old one that is brought up to date, so there is one way to the present
form. Steps change how the record is kept, never what an entry says: the chain of hashes goes through them unharmed.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Mapping
from functools import cache

from checker.meeting.record.chain import parsed

APPLICATION_ID = 0x4D454554
"""Marks the file as a meeting ("MEET"), in the place that SQLite keeps for it."""

_LOCKED = """
CREATE TRIGGER {table}_is_never_changed BEFORE UPDATE ON {table}
BEGIN SELECT RAISE(ABORT, 'the record is only added to'); END;
CREATE TRIGGER {table}_is_never_taken_out BEFORE DELETE ON {table}
BEGIN SELECT RAISE(ABORT, 'the record is only added to'); END;
"""

_ENTRY = """
CREATE TABLE entry (
    number INTEGER PRIMARY KEY CHECK (number > 0),
    kind TEXT NOT NULL,
    at TEXT NOT NULL,
    by TEXT NOT NULL,
    content TEXT NOT NULL,
    previous TEXT NOT NULL UNIQUE CHECK (length(previous) = 64),
    hash TEXT NOT NULL UNIQUE CHECK (length(hash) = 64)
) STRICT;
"""

_FILE = """
CREATE TABLE file (
    sha256 TEXT PRIMARY KEY CHECK (length(sha256) = 64),
    bytes BLOB NOT NULL
) STRICT, WITHOUT ROWID;
"""

_OWNED_FILE = """
CREATE TABLE file (
    sha256 TEXT PRIMARY KEY CHECK (length(sha256) = 64),
    entry INTEGER NOT NULL REFERENCES entry (number),
    bytes BLOB NOT NULL
) STRICT, WITHOUT ROWID;
"""


_ONLY_AT_THE_END = """
CREATE TRIGGER entry_is_only_put_at_the_end BEFORE INSERT ON entry
WHEN NEW.number <> (SELECT ifnull(max(number), 0) + 1 FROM entry)
    OR EXISTS (SELECT 1 FROM entry WHERE hash = NEW.hash OR previous = NEW.previous)
BEGIN SELECT RAISE(ABORT, 'the record is only added to'); END;
CREATE TRIGGER file_is_put_in_once BEFORE INSERT ON file
WHEN EXISTS (SELECT 1 FROM file WHERE sha256 = NEW.sha256)
BEGIN SELECT RAISE(ABORT, 'the record is only added to'); END;
"""
"""Without these, INSERT OR REPLACE would take rows out past the triggers above."""


def _first(database: sqlite3.Connection) -> None:
    """Entries, and files by their hash. Only the entries were locked."""
    _run(database, _ENTRY + _LOCKED.format(table="entry") + _FILE)


def _files_belong_to_entries(database: sqlite3.Connection) -> None:
    """Every file says which entry brought it and is locked like the entries; nothing is put in but at the end."""
    brought: dict[str, int] = {}
    for number, content in database.execute("SELECT number, content FROM entry ORDER BY number").fetchall():
        for word in texts_in(parsed(content)):
            brought.setdefault(word, number)
    kept = database.execute("SELECT sha256, bytes FROM file ORDER BY sha256").fetchall()
    _run(database, "DROP TABLE file;" + _OWNED_FILE + _LOCKED.format(table="file") + _ONLY_AT_THE_END)
    for sha256, data in kept:
        if sha256 in brought:  # a file that no entry names was never part of the record
            database.execute("INSERT INTO file VALUES (?, ?, ?)", (sha256, brought[sha256], data))


_SIGNATURE = """
CREATE TABLE signature (
    entry INTEGER PRIMARY KEY REFERENCES entry (number),
    signed TEXT NOT NULL CHECK (length(signed) = 128)
) STRICT;
CREATE TRIGGER signature_is_put_in_once BEFORE INSERT ON signature
WHEN EXISTS (SELECT 1 FROM signature WHERE entry = NEW.entry)
BEGIN SELECT RAISE(ABORT, 'the record is only added to'); END;
"""


def _entries_may_be_signed(database: sqlite3.Connection) -> None:
    """Signatures of entries, in hex; programs of the forms before know neither these nor the newer rules."""
    _run(database, _SIGNATURE + _LOCKED.format(table="signature"))


STEPS: tuple[Callable[[sqlite3.Connection], None], ...] = (
    _first,
    _files_belong_to_entries,
    _entries_may_be_signed,
)
VERSION = len(STEPS)
"""The present form, kept as SQLite's `user_version`."""
FIRST_SIGNED = 3
"""The first form that can hold signatures."""
OLDEST_READ = 2
"""The oldest form that can be looked at without being brought up to date."""


def bring_up_to_date(database: sqlite3.Connection, version: int, target: int = VERSION) -> None:
    """Take the steps from a version to another, inside a transaction that the caller has begun."""
    for step in STEPS[version:target]:
        step(database)
    database.execute(f"PRAGMA application_id = {APPLICATION_ID}")
    database.execute(f"PRAGMA user_version = {target}")


def definitions(database: sqlite3.Connection) -> dict[str, str]:
    """Everything that the file defines, as SQLite keeps its text: tables, triggers, indices, views."""
    rows = database.execute("SELECT type, name, tbl_name, sql FROM sqlite_master").fetchall()
    return {name: f"{kind} of {table}: {sql}" for kind, name, table, sql in rows}


@cache
def expected_definitions(version: int = VERSION) -> Mapping[str, str]:
    """What a sound file of a form defines, and nothing else."""
    database = sqlite3.connect(":memory:", isolation_level=None)
    try:
        bring_up_to_date(database, 0, version)
        return definitions(database)
    finally:
        database.close()


def strange_definitions(database: sqlite3.Connection) -> list[str]:
    """What a file defines otherwise than a sound one of its form does, in words; none where it is exact.

    Only the list of definitions is read, nothing that they define.
    """
    (version,) = database.execute("PRAGMA user_version").fetchone()
    have, wanted = definitions(database), expected_definitions(min(version, VERSION))
    found = [
        f"the protection of the record, {name}, {'was changed' if name in have else 'was taken away'}"
        for name, text in wanted.items()
        if have.get(name) != text
    ]
    strange = sorted(str(name) for name in set(have) - set(wanted))
    return found + [f"the file holds something that does not belong there: {name}" for name in strange]


def can_be_read(database: sqlite3.Connection) -> bool:
    """Whether entries and files are plain tables as a sound file has them, whatever else was done to it."""
    have, wanted = definitions(database), expected_definitions()
    return all(have.get(table) == wanted[table] for table in ("entry", "file"))


def _run(database: sqlite3.Connection, script: str) -> None:
    """Several statements inside the transaction that is open; `executescript` would commit it."""
    statement = ""
    for line in script.strip().splitlines(keepends=True):
        statement += line
        if sqlite3.complete_statement(statement):
            database.execute(statement)
            statement = ""


def texts_in(data: object) -> list[str]:
    """Every text inside plain data."""
    if isinstance(data, dict):
        return [text for value in data.values() for text in texts_in(value)]
    if isinstance(data, list):
        return [text for value in data for text in texts_in(value)]
    return [data] if isinstance(data, str) else []
