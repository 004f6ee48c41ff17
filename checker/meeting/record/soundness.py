"""Whether a record is whole in itself: the file below the entries, their chain, and the files they brought."""

from __future__ import annotations

import os
import sqlite3
from collections.abc import Iterator, Sequence

from checker.meeting.record.branches import original
from checker.meeting.record.car_contents import Entered
from checker.meeting.record.chain import RecordEntry, RecordFault, faults, parsed
from checker.meeting.record.content_form import NotReadable, read_content
from checker.meeting.record.contents import Brought, Carried, Content, Imported, Opened
from checker.meeting.record.rows import digest_of
from checker.meeting.record.schema import strange_definitions, texts_in
from checker.meeting.record.store import Store


def flaws(store: Store, entries: Sequence[RecordEntry]) -> list[RecordFault]:
    """Everything that is wrong with the file, the chain and the kept files."""
    found = [*_below(store), *faults(entries), *_kept_files(store, entries)]
    return found if entries else [*found, RecordFault(1, "MT402", "the record is empty: entry 1 is missing")]


def _below(store: Store) -> Iterator[RecordFault]:
    """Damage of the database, and protection that was taken away."""
    try:
        pages, size = (
            store.database.execute(f"PRAGMA {name}").fetchone()[0] for name in ("page_count", "page_size")
        )
        if os.path.getsize(store.path) != pages * size:
            yield RecordFault(
                0, "MT408", "the file is longer or shorter than what it holds: bytes were put on or cut off"
            )
        for (line,) in store.database.execute("PRAGMA integrity_check(20)").fetchall():
            if line != "ok":
                yield RecordFault(0, "MT408", f"the database is damaged: {line}")
        for row in store.database.execute("PRAGMA foreign_key_check").fetchall():
            yield RecordFault(0, "MT403", f"a row of {row[0]} belongs to no entry")
        strange = strange_definitions(store.database)
    except (sqlite3.Error, UnicodeDecodeError) as error:
        yield RecordFault(0, "MT408", f"the database is damaged: {error}")
        return
    for message in strange:
        yield RecordFault(0, "MT404", message)


def _kept_files(store: Store, entries: Sequence[RecordEntry]) -> Iterator[RecordFault]:
    """Files that are not what their name says, that are missing, or that nobody named."""
    named: dict[str, int] = {}
    for entry in entries:
        try:
            texts = texts_in(parsed(entry.content))
        except ValueError:
            continue
        for text in texts:
            named.setdefault(text, entry.number)
    try:
        rows = store.database.execute("SELECT sha256, entry, bytes FROM file ORDER BY entry, sha256")
        kept = [
            (str(digest), number, digest_of(data) if isinstance(data, bytes) else "")
            for digest, number, data in rows
        ]
    except (sqlite3.Error, UnicodeDecodeError) as error:
        yield RecordFault(0, "MT408", f"the files cannot be read: {error}")
        return
    for digest, number, found in kept:
        if found != digest:
            yield RecordFault(
                number, "MT403", f"a file that entry {number} brought was changed ({digest[:12]}...)"
            )
        elif named.get(digest) != number:
            yield RecordFault(
                number, "MT403", f"a file stands with entry {number} that did not bring it ({digest[:12]}...)"
            )
    have = {digest for digest, _, _ in kept}
    for entry in entries:
        yield from _missing_files(entry, have)


def _missing_files(entry: RecordEntry, have: set[str]) -> Iterator[RecordFault]:
    try:
        files = list(_files_of(read_content(entry)))
    except NotReadable:
        return
    for what, digest in files:
        if digest and digest not in have:
            yield RecordFault(
                entry.number, "MT403", f"the {what} that entry {entry.number} brought is missing"
            )


def _files_of(content: Content) -> Iterator[tuple[str, str]]:
    """What an entry brought, each with its digest."""
    match content:
        case Opened():
            yield from (("procedure", content.procedure), ("gear's description", content.gear))
            yield from ((f"pack's file {name}", digest) for name, digest in content.pack_files.items())
        case Entered():
            yield "declaration", content.declaration
        case Imported():
            yield from (("table", content.sha256), ("mapping", content.mapping))
        case Carried():
            yield "results file", content.results
        case Brought():
            yield from _files_of(read_content(original(content)))
