"""Keeps the record on disk: appends under a lock, and acknowledges only what has reached the disk.

One file, so that a copy of it is whole: SQLite with a rollback journal, and `synchronous=EXTRA`, which also waits for
the folder to have forgotten the journal. "Read the last hash, add an entry" is one transaction begun IMMEDIATE, so two
officials on one machine stand in a queue and never build on the same entry.

The journal beside the file (`DAY.meeting-journal`) lives for a few milliseconds. Where a machine died in these, it is
left behind, and the next program that opens the meeting puts the file right with it: open once before copying.
"""

from __future__ import annotations

import os
import sqlite3
import stat
from collections.abc import Iterator, Sequence
from contextlib import contextmanager, suppress

from checker.meeting.record.chain import RecordEntry
from checker.meeting.record.database import MOST_BYTES, check_form, connect, take_name, there_already
from checker.meeting.record.failures import told
from checker.meeting.record.refusal import refusal
from checker.meeting.record.rows import Clock, RecordDraft, append, computer_clock, entries_after
from checker.meeting.record.schema import FIRST_SIGNED, bring_up_to_date
from checker.reading.quick_dataclasses import dataclass


class Store:
    """An open record."""

    def __init__(self, path: str, database: sqlite3.Connection, clock: Clock) -> None:
        self.path = path
        self._database = database
        self._clock = clock

    # -- opening and closing -----------------------------------------------------------------------------

    @classmethod
    def create(
        cls, path: str | os.PathLike[str], drafts: Sequence[RecordDraft], clock: Clock = computer_clock
    ) -> Store:
        """A new meeting with its first entries.

        The file is made under another name and takes its own only when it is whole, so that a machine that dies in
        between leaves no half of a meeting.

        Raises:
            InputError: MT103 there is a file of that name; MT104 to MT107.
        """
        name = os.fspath(path)
        if os.path.lexists(name):
            raise there_already(name)
        making = f"{name}.{os.getpid()}.new"
        try:
            with told(name):
                database = connect(making, "rwc")
                try:
                    database.execute("BEGIN IMMEDIATE")
                    bring_up_to_date(database, 0)
                    append(database, drafts, clock)
                    database.execute("COMMIT")
                finally:
                    database.close()
                take_name(making, name)
        finally:
            for left in (making, f"{making}-journal"):
                with suppress(OSError):
                    os.unlink(left)
        return cls.open(name, clock=clock)

    @classmethod
    def open(
        cls,
        path: str | os.PathLike[str],
        *,
        writing: bool = True,
        clock: Clock = computer_clock,
        suspect: bool = False,
    ) -> Store:
        """An existing meeting. A file from elsewhere may mean harm: nothing in it is used before its form is checked.

        Args:
            path: Its file.
            writing: False to look only: then the record stays as it is, also in its form, but a journal that was left
                behind by a machine that died is played back.
            clock: Where entries get their time from.
            suspect: Open, to look only, also what holds more or less than a meeting does, as long as entries and
                files can be read; for whoever says what is wrong with it.

        Raises:
            InputError: MT101 to MT109; MT404, its form is not that of a meeting.
        """
        name = os.fspath(path)
        if not os.path.isfile(name):
            what = "is a folder" if os.path.isdir(name) else "is not there"
            raise refusal(
                "MT101", f"the meeting '{name}' {what}", "make one with `meeting open`, or check the name"
            )
        if os.path.getsize(name) > MOST_BYTES:
            raise refusal(
                "MT102", f"'{name}' is larger than any meeting", "give the file that `meeting open` made"
            )
        for beside in (f"{name}-journal", f"{name}-wal", f"{name}-shm"):
            with suppress(FileNotFoundError):  # asked once: another program's journal may go at any moment
                if not stat.S_ISREG(os.lstat(beside).st_mode):
                    raise refusal(
                        "MT101", f"'{beside}' is no ordinary file", "move it away, then verify the meeting"
                    )
        with told(name):
            may_write = os.access(name, os.W_OK) and os.access(
                os.path.dirname(os.path.abspath(name)), os.W_OK
            )
            database = connect(name, "rw" if writing or may_write else "ro")
            try:
                check_form(database, name, writing, suspect)
            except BaseException:
                database.close()
                raise
        return cls(name, database, clock)

    def close(self) -> None:
        self._database.close()

    def __enter__(self) -> Store:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    # -- reading -----------------------------------------------------------------------------------------

    def entries(self, after: int = 0) -> list[RecordEntry]:
        """Every entry above that number, in order."""
        with told(self.path):
            return entries_after(self._database, after)

    def file(self, digest: str) -> bytes:
        """The bytes of a file that an entry names.

        Raises:
            InputError: MT403, the record does not hold it.
        """
        with told(self.path):
            row = self._database.execute("SELECT bytes FROM file WHERE sha256 = ?", (digest,)).fetchone()
        return self._bytes_of(digest, None if row is None else row[0])

    def _bytes_of(self, digest: object, data: object) -> bytes:
        if not isinstance(data, bytes):
            message = f"'{self.path}' does not hold the file {str(digest)[:12]}..."
            raise refusal("MT403", message, "verify the record")
        return data

    def files(self) -> dict[str, bytes]:
        """Every file that is kept, by its SHA-256."""
        with told(self.path):
            rows = self._database.execute("SELECT sha256, bytes FROM file").fetchall()
        return {digest: self._bytes_of(digest, data) for digest, data in rows}

    def signatures(self) -> dict[int, str]:
        """Signatures in hex, by the number of their entry; the forms before could hold none."""
        with told(self.path):
            (version,) = self._database.execute("PRAGMA user_version").fetchone()
            if version < FIRST_SIGNED:
                return {}
            return dict(self._database.execute("SELECT entry, signed FROM signature").fetchall())

    @property
    def database(self) -> sqlite3.Connection:
        """For `checker.meeting.record.soundness`, which looks below the entries."""
        return self._database

    # -- appending ---------------------------------------------------------------------------------------

    @contextmanager
    def appending(self) -> Iterator[Appender]:
        """Hold the record alone, look at it, and add to it; all of it or nothing reaches the disk.

        When the block has ended without an error, what was added is on disk.

        Raises:
            InputError: MT104 to MT107; then nothing was recorded.
        """
        with told(self.path):
            self._database.execute("BEGIN IMMEDIATE")
        try:
            yield Appender(self._database, self._clock, self.path)
            with told(self.path):
                self._database.execute("COMMIT")
        except BaseException:
            if self._database.in_transaction:
                with suppress(sqlite3.Error):
                    self._database.execute("ROLLBACK")
            raise


@dataclass(frozen=True, slots=True)
class Appender:
    """The record while it is held alone."""

    _database: sqlite3.Connection
    _clock: Clock
    _path: str

    def entries(self, after: int = 0) -> list[RecordEntry]:
        """Every entry above that number, those of other programs included."""
        with told(self._path):
            return entries_after(self._database, after)

    def append(self, drafts: Sequence[RecordDraft]) -> list[RecordEntry]:
        """The drafts as entries at the end of the chain; on disk when the holding ends."""
        with told(self._path):
            return append(self._database, drafts, self._clock)
