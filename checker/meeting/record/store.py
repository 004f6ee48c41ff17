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
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager, suppress
from dataclasses import dataclass, field
from datetime import UTC, datetime
from hashlib import sha256
from pathlib import Path

from checker.meeting.record.chain import FIRST, RecordEntry, canonical, linked
from checker.meeting.record.failures import told
from checker.meeting.record.refusal import refusal
from checker.meeting.record.schema import (
    APPLICATION_ID,
    FIRST_SIGNED,
    OLDEST_READ,
    VERSION,
    bring_up_to_date,
    can_be_read,
    strange_definitions,
)

WAIT_SECONDS = 10.0
"""How long one program waits for another that holds the file."""
MOST_BYTES, MOST_BYTES_OF_ONE = 256 * 2**20, 32 * 2**20
"""A record, and one text or file in it, that is larger is no day's work and is not read."""

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
            raise refusal("MT103", f"'{name}' is there already", "give the new meeting a name of its own")
        making = f"{name}.{os.getpid()}.new"
        try:
            with told(name):
                database = _connect(making, "rwc")
                try:
                    database.execute("BEGIN IMMEDIATE")
                    bring_up_to_date(database, 0)
                    _append(database, drafts, clock)
                    database.execute("COMMIT")
                finally:
                    database.close()
                _take_name(making, name)
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
        with told(name):
            may_write = os.access(name, os.W_OK) and os.access(
                os.path.dirname(os.path.abspath(name)), os.W_OK
            )
            database = _connect(name, "rw" if writing or may_write else "ro")
            try:
                _check_form(database, name, writing, suspect)
            except BaseException:
                database.close()
                raise
        return cls(name, database, clock)

    def close(self) -> None:
        """Let go of the file."""
        self._database.close()

    def __enter__(self) -> Store:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    # -- reading -----------------------------------------------------------------------------------------

    def entries(self, after: int = 0) -> list[RecordEntry]:
        """Every entry above that number, in order."""
        with told(self.path):
            return _entries(self._database, after)

    def file(self, digest: str) -> bytes:
        """The bytes of a file that an entry names.

        Raises:
            InputError: MT403, the record does not hold it.
        """
        with told(self.path):
            row = self._database.execute("SELECT bytes FROM file WHERE sha256 = ?", (digest,)).fetchone()
        if row is None:
            raise refusal(
                "MT403", f"'{self.path}' does not hold the file {digest[:12]}...", "verify the record"
            )
        data: bytes = row[0]
        return data

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
            return _entries(self._database, after)

    def append(self, drafts: Sequence[RecordDraft]) -> list[RecordEntry]:
        """The drafts as entries at the end of the chain; on disk when the holding ends."""
        with told(self._path):
            return _append(self._database, drafts, self._clock)


def digest_of(data: bytes) -> str:
    """The name under which a file is kept: its SHA-256 in hex."""
    return sha256(data).hexdigest()


def _connect(path: str, mode: str) -> sqlite3.Connection:
    uri = f"{Path(os.path.abspath(path)).as_uri()}?mode={mode}"
    database = sqlite3.connect(uri, uri=True, timeout=WAIT_SECONDS, isolation_level=None)
    try:
        database.setlimit(sqlite3.SQLITE_LIMIT_LENGTH, MOST_BYTES_OF_ONE)
        database.execute("PRAGMA trusted_schema = OFF")
        database.execute("PRAGMA foreign_keys = ON")
        if mode != "ro":
            database.execute("PRAGMA journal_mode = DELETE")
        database.execute("PRAGMA synchronous = EXTRA")
    except BaseException:
        database.close()
        raise
    return database


def _check_form(database: sqlite3.Connection, name: str, writing: bool, suspect: bool) -> None:
    """Refuse what is no meeting; bring an older one up to date."""
    mark = database.execute("PRAGMA application_id").fetchone()[0]
    version = database.execute("PRAGMA user_version").fetchone()[0]
    if mark != APPLICATION_ID or version < 1:
        raise refusal("MT102", f"'{name}' is not a meeting", "give the file that `meeting open` made")
    if version > VERSION:
        message = f"'{name}' was written by a newer program (form {version}; this one knows {VERSION})"
        raise refusal("MT108", message, "use that program, or a newer one")
    strange = strange_definitions(database)
    if strange and not (suspect and can_be_read(database)):
        hint = "verify it; keep it as it is, and work on from the newest copy that is sound"
        raise refusal("MT404", f"'{name}' is not as a meeting is kept: {'; '.join(strange[:3])}", hint)
    if version == VERSION or (version >= OLDEST_READ and not writing):
        return
    if not writing:
        message = f"'{name}' was written by an older program (form {version} of {VERSION}) and is only looked at here"
        raise refusal(
            "MT109", message, "open a copy of it for writing once, which brings the copy up to date"
        )
    database.execute("BEGIN IMMEDIATE")
    try:
        version = database.execute("PRAGMA user_version").fetchone()[
            0
        ]  # another program may have been quicker
        bring_up_to_date(database, version)
        database.execute("COMMIT")
    except BaseException:
        with suppress(sqlite3.Error):
            database.execute("ROLLBACK")
        raise


def _entries(database: sqlite3.Connection, after: int) -> list[RecordEntry]:
    rows = database.execute(
        "SELECT number, kind, at, by, content, previous, hash FROM entry WHERE number > ? ORDER BY number",
        (after,),
    ).fetchall()
    for number, *texts in rows:
        if not isinstance(number, int) or not all(isinstance(text, str) for text in texts):
            raise sqlite3.DatabaseError(f"entry {number} does not hold what it is defined to hold")
    return [RecordEntry(*row) for row in rows]


def _append(database: sqlite3.Connection, drafts: Sequence[RecordDraft], clock: Clock) -> list[RecordEntry]:
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
    if added and _entries(database, added[0].number - 1) != added:
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


def _take_name(making: str, name: str) -> None:
    """Give the finished file its name, never in the place of another, and have the folder on disk."""
    try:
        os.link(making, name)
    except FileExistsError:
        raise refusal(
            "MT103", f"'{name}' is there already", "give the new meeting a name of its own"
        ) from None
    except (OSError, NotImplementedError, AttributeError):  # a file system without links
        if os.path.lexists(name):
            raise refusal(
                "MT103", f"'{name}' is there already", "give the new meeting a name of its own"
            ) from None
        os.rename(making, name)
    if os.name == "posix":
        folder = os.open(os.path.dirname(os.path.abspath(name)), os.O_RDONLY)
        try:
            os.fsync(folder)
        finally:
            os.close(folder)
