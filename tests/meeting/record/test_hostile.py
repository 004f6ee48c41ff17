"""A file from elsewhere means harm: whatever it defines beside a meeting is found before anything in it is used."""

from __future__ import annotations

import os
import sqlite3
from pathlib import Path

import pytest

from checker.meeting.record.chain import FIRST, canonical, linked
from checker.meeting.record.content_form import NotReadable, read_content
from checker.meeting.record.database import MOST_BYTES
from checker.meeting.record.rows import digest_of
from checker.meeting.record.store import Store
from checker.meeting.standing.verifying import verify
from checker.reading.problems import InputError
from tests.meeting.records import append, new_record, said
from tests.meeting.tampering import tampered

ENDLESS = "WITH RECURSIVE more(n) AS (SELECT 1 UNION ALL SELECT n + 1 FROM more)"
COLUMNS = (
    "n AS number, 'noted' AS kind, 'x' AS at, 'x' AS by, '{}' AS content, hex(n) AS previous, hex(-n) AS hash"
)

HOSTILE = {
    "a trigger that ignores what is put in": (
        "CREATE TRIGGER quiet BEFORE INSERT ON entry BEGIN SELECT RAISE(IGNORE); END",
    ),
    "a trigger in the place of one of ours": (
        "DROP TRIGGER entry_is_only_put_at_the_end",
        "CREATE TRIGGER entry_is_only_put_at_the_end BEFORE INSERT ON entry BEGIN SELECT RAISE(IGNORE); END",
    ),
    "a view over an endless query": (
        "DROP TRIGGER entry_is_never_taken_out",
        "ALTER TABLE entry RENAME TO entry_once",
        f"CREATE VIEW entry AS {ENDLESS} SELECT {COLUMNS} FROM more",
    ),
    "a view beside the tables": ("CREATE VIEW look AS SELECT * FROM entry",),
    "an index": ("CREATE INDEX quick ON entry (by)",),
    "an index on what is worked out": ("CREATE INDEX quick ON entry (length(content))",),
    "a table": ("CREATE TABLE more (x)",),
    "a statistics table": ("ANALYZE",),
    "a column": ("ALTER TABLE entry ADD COLUMN remark TEXT",),
    "a protection taken away": ("DROP TRIGGER file_is_never_changed",),
}


def hostile(path: Path, statements: tuple[str, ...]) -> None:
    new_record(path, ["one"]).close()
    database = sqlite3.connect(path, isolation_level=None)
    for statement in statements:
        database.execute(statement)
    database.close()


@pytest.mark.parametrize("what", HOSTILE)
@pytest.mark.parametrize("writing", [True, False])
def test_a_file_that_defines_anything_else_is_not_opened(tmp_path: Path, what: str, writing: bool) -> None:
    path = tmp_path / "day.meeting"
    hostile(path, HOSTILE[what])
    size = path.stat().st_size
    with pytest.raises(InputError) as error:
        Store.open(path, writing=writing)
    assert error.value.problems[0].code == "MT404"
    assert path.stat().st_size == size


@pytest.mark.parametrize("what", HOSTILE)
def test_a_verification_says_what_it_is_and_reads_nothing_that_never_ends(tmp_path: Path, what: str) -> None:
    path = tmp_path / "day.meeting"
    hostile(path, HOSTILE[what])
    try:
        codes = {fault.code for fault in verify(path, recompute=False).faults}
    except InputError as error:
        codes = {problem.code for problem in error.problems}
    assert "MT404" in codes


def test_nothing_is_acknowledged_that_does_not_read_back(tmp_path: Path) -> None:
    """A trigger put in while the file is open already, which no look at its form on opening can see."""
    path = tmp_path / "day.meeting"
    with new_record(path, ["one"]) as store:
        other = sqlite3.connect(path, isolation_level=None)
        other.execute(HOSTILE["a trigger that ignores what is put in"][0])
        other.close()
        with pytest.raises(InputError) as error:
            append(store, said("two"))
        assert error.value.problems[0].code == "MT107"
        assert "does not read back" in error.value.problems[0].message
        assert len(store.entries()) == 2


def test_functions_that_a_file_might_call_are_not_trusted(tmp_path: Path) -> None:
    with new_record(tmp_path / "day.meeting") as store:
        assert store.database.execute("PRAGMA trusted_schema").fetchone() == (0,)


@pytest.mark.deep
def test_a_text_that_is_larger_than_any_is_not_read(tmp_path: Path) -> None:
    path = tmp_path / "day.meeting"
    new_record(path, ["one"]).close()
    tampered(
        path,
        ("UPDATE entry SET content = '{\"x\":\"' || hex(zeroblob(40000000)) || '\"}' WHERE number = 2", ()),
    )
    with pytest.raises(InputError) as error, Store.open(path, writing=False) as store:
        store.entries()
    assert error.value.problems[0].code == "MT107"
    assert not verify(path, recompute=False).sound


def test_a_file_that_is_larger_than_any_meeting_is_not_opened(tmp_path: Path) -> None:
    path = tmp_path / "day.meeting"
    new_record(path).close()
    with path.open("r+b") as file:
        file.truncate(MOST_BYTES + 1)
    with pytest.raises(InputError) as error:
        Store.open(path, writing=False)
    assert error.value.problems[0].code == "MT102"


@pytest.mark.parametrize("depth", [13, 500, 700, 950, 990, 5000, 100_000])
@pytest.mark.parametrize("ends", ["[]", ('{"a":', "}")])
def test_an_entry_that_is_nested_without_end_is_told(
    tmp_path: Path, depth: int, ends: tuple[str, str]
) -> None:
    begins, closes = ends
    deep = '{"x":' + begins * depth + "1" + closes * depth + "}"
    with pytest.raises(NotReadable, match="nested too deep"):
        read_content(linked(1, "noted", "2026-05-03T07:00:00.000Z", "KV", deep, FIRST))
    path = tmp_path / "day.meeting"
    new_record(path, ["one"]).close()
    tampered(path, ("UPDATE entry SET content = ? WHERE number = 2", (deep,)))
    assert not verify(path).sound
    assert canonical({}) == "{}"


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="there are no pipes with names here")
@pytest.mark.parametrize("suffix", ["-journal", "-wal", "-shm"])
@pytest.mark.parametrize("writing", [True, False])
def test_what_stands_beside_a_meeting_never_keeps_anybody_waiting(
    tmp_path: Path, suffix: str, writing: bool
) -> None:
    path = tmp_path / "day.meeting"
    new_record(path, ["one"]).close()
    beside = tmp_path / f"day.meeting{suffix}"
    for make in (os.mkfifo, os.mkdir, lambda place: os.symlink("/etc/hostname", place)):
        make(beside)
        with pytest.raises(InputError) as error:
            Store.open(path, writing=writing)
        assert error.value.problems[0].code == "MT101"
        os.rmdir(beside) if beside.is_dir() else beside.unlink()
    Store.open(path, writing=writing).close()


@pytest.mark.parametrize("value", ["NULL", "7", "'text'"])
def test_a_file_that_is_no_bytes_is_a_fault_and_never_a_mistake_of_its_own(
    tmp_path: Path, value: str
) -> None:
    """Found by fuzzing: damage, or a hand, puts what a strict table would not take."""
    path = tmp_path / "day.meeting"
    with new_record(path, ["one"]) as store:
        append(store, said(digest_of(b"data"), files=(b"data",)))
    with sqlite3.connect(path, isolation_level=None) as database:
        kept = database.execute("SELECT sql FROM sqlite_master WHERE name = 'file'").fetchone()[0]
    loose = kept.replace("STRICT, ", "").replace("bytes BLOB NOT NULL", "bytes BLOB")
    for text in (loose, kept):
        database = sqlite3.connect(path, isolation_level=None)
        database.execute("PRAGMA writable_schema = ON")
        if text == kept:
            database.execute("DROP TRIGGER file_is_never_changed")
            database.execute(f"UPDATE file SET bytes = {value}")
            database.execute(TRIGGER)
        database.execute("UPDATE sqlite_master SET sql = ? WHERE name = 'file'", (text,))
        database.close()
    found = verify(path, recompute=False)
    assert not found.sound
    with Store.open(path, writing=False, suspect=True) as store:
        for act in (store.files, lambda: store.file(digest_of(b"data"))):
            with pytest.raises(InputError):
                act()


TRIGGER = "CREATE TRIGGER file_is_never_changed BEFORE UPDATE ON file\nBEGIN SELECT RAISE(ABORT, 'the record is only added to'); END"
