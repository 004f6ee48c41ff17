"""The file below a record: it is connected to with care, and only where its form is that of a meeting."""

from __future__ import annotations

import os
import sqlite3
from contextlib import suppress
from pathlib import Path

from checker.meeting.record.refusal import refusal
from checker.meeting.record.schema import (
    APPLICATION_ID,
    OLDEST_READ,
    VERSION,
    bring_up_to_date,
    can_be_read,
    strange_definitions,
)
from checker.reading.problems import InputError

WAIT_SECONDS = 10.0
"""How long one program waits for another that holds the file."""
MOST_BYTES, MOST_BYTES_OF_ONE = 256 * 2**20, 32 * 2**20
"""A record, and one text or file in it, that is larger is no day's work and is not read."""


def connect(path: str, mode: str) -> sqlite3.Connection:
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


def check_form(database: sqlite3.Connection, name: str, writing: bool, suspect: bool) -> None:
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


def there_already(name: str) -> InputError:
    """The refusal to make a meeting where a file is."""
    return refusal("MT103", f"'{name}' is there already", "give the new meeting a name of its own")


def take_name(making: str, name: str) -> None:
    """Give the finished file its name, never in the place of another, and have the folder on disk."""
    try:
        os.link(making, name)
    except FileExistsError:
        raise there_already(name) from None
    except (OSError, NotImplementedError, AttributeError):  # a file system without links
        if os.path.lexists(name):
            raise there_already(name) from None
        os.rename(making, name)
    if os.name == "posix":
        folder = os.open(os.path.dirname(os.path.abspath(name)), os.O_RDONLY)
        try:
            os.fsync(folder)
        finally:
            os.close(folder)
