from __future__ import annotations

import os
import sqlite3
from datetime import timedelta
from pathlib import Path

import pytest

from checker.meeting.record.chain import faults
from checker.meeting.record.rows import digest_of
from checker.meeting.record.schema import APPLICATION_ID, VERSION
from checker.meeting.record.store import Store
from checker.reading.problems import InputError
from tests.meeting.records import MORNING, ToldClock, append, new_record, opened, said


def code_of(error: pytest.ExceptionInfo[InputError]) -> str:
    return error.value.problems[0].code


def test_entries_are_kept_in_order_with_their_files(tmp_path: Path) -> None:
    with new_record(tmp_path / "day.meeting", ["one"]) as store:
        data = b"formula: dunlin\n"
        append(store, said(digest_of(data), files=(data,)), said("three"))
        entries = store.entries()
        assert [entry.number for entry in entries] == [1, 2, 3, 4]
        assert faults(entries) == []
        assert store.entries(after=2) == entries[2:]
        assert store.file(digest_of(data)) == data


def test_the_file_on_disk_is_one_whole_sqlite_database(tmp_path: Path) -> None:
    path = tmp_path / "day.meeting"
    new_record(path, ["one", "two"]).close()
    assert os.listdir(tmp_path) == ["day.meeting"]
    database = sqlite3.connect(path)
    assert database.execute("PRAGMA integrity_check").fetchone() == ("ok",)
    assert database.execute("PRAGMA application_id").fetchone() == (APPLICATION_ID,)
    assert database.execute("PRAGMA user_version").fetchone() == (VERSION,)
    assert database.execute("PRAGMA journal_mode").fetchone() == ("delete",)
    database.close()


def test_a_connection_waits_for_the_disk_and_keeps_to_its_references(tmp_path: Path) -> None:
    with new_record(tmp_path / "day.meeting") as store:
        asked = {
            name: store.database.execute(f"PRAGMA {name}").fetchone()[0]
            for name in ("synchronous", "foreign_keys")
        }
        assert asked == {"synchronous": 3, "foreign_keys": 1}
        with pytest.raises(sqlite3.IntegrityError, match="FOREIGN KEY"):
            store.database.execute("INSERT INTO file VALUES (?, 99, x'00')", ("a" * 64,))


@pytest.mark.parametrize(
    "statement",
    [
        "UPDATE entry SET by = 'XX'",
        "DELETE FROM entry WHERE number = 2",
        "UPDATE file SET bytes = x'00'",
        "DELETE FROM file",
        "INSERT OR REPLACE INTO entry SELECT number, kind, at, 'XX', content, previous, hash FROM entry LIMIT 1",
        "INSERT OR REPLACE INTO entry SELECT 4, kind, at, 'XX', content, previous, hash FROM entry LIMIT 1",
        "INSERT INTO entry SELECT 9, kind, at, by, content, hash, previous FROM entry WHERE number = 3",
        "INSERT OR REPLACE INTO file SELECT sha256, entry, x'00' FROM file",
    ],
)
def test_the_database_itself_refuses_to_change_or_take_out(tmp_path: Path, statement: str) -> None:
    with new_record(tmp_path / "day.meeting", ["one"]) as store:
        data = b"x"
        append(store, said(digest_of(data), files=(data,)))
        before = store.entries()
        with pytest.raises(sqlite3.IntegrityError, match="only added to"):
            store.database.execute(statement)
        assert store.entries() == before


def test_what_goes_wrong_while_the_record_is_held_leaves_nothing_behind(tmp_path: Path) -> None:
    with new_record(tmp_path / "day.meeting") as store:

        def fail_half_way() -> None:
            with store.appending() as held:
                held.append([said("half")])
                raise KeyboardInterrupt

        with pytest.raises(KeyboardInterrupt):
            fail_half_way()
        assert [entry.number for entry in store.entries()] == [1]
        append(store, said("whole"))
        assert [entry.number for entry in store.entries()] == [1, 2]


def test_a_second_program_sees_what_was_acknowledged_and_goes_on_from_it(tmp_path: Path) -> None:
    path = tmp_path / "day.meeting"
    with new_record(path, ["one"]) as first, Store.open(path, clock=ToldClock()) as second:
        append(second, said("two", by="TB"))
        append(first, said("three"))
        assert [entry.by for entry in second.entries()] == ["KV", "KV", "TB", "KV"]
        assert faults(first.entries()) == []


def test_a_program_that_holds_the_file_too_long_is_told(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("checker.meeting.record.database.WAIT_SECONDS", 0.05)
    path = tmp_path / "day.meeting"
    with new_record(path) as first, Store.open(path) as second, first.appending():
        with pytest.raises(InputError) as error:
            append(second, said("waits"))
        assert code_of(error) == "MT106"
        assert "was not recorded" in error.value.problems[0].message


def test_a_clock_set_back_is_kept_as_it_was_and_the_order_is_that_of_the_record(tmp_path: Path) -> None:
    clock = ToldClock()
    with new_record(tmp_path / "day.meeting", ["one"], clock) as store:
        clock.now = MORNING - timedelta(hours=1)
        append(store, said("earlier by the clock"))
        times = [entry.at for entry in store.entries()]
        assert times == ["2026-05-03T07:00:01.000Z", "2026-05-03T07:00:02.000Z", "2026-05-03T06:00:01.000Z"]
        assert faults(store.entries()) == []


def test_a_new_meeting_takes_no_other_file_s_place(tmp_path: Path) -> None:
    path = tmp_path / "day.meeting"
    path.write_text("something else")
    with pytest.raises(InputError) as error:
        Store.create(path, [opened()])
    assert code_of(error) == "MT103"
    assert path.read_text() == "something else"
    assert os.listdir(tmp_path) == ["day.meeting"]


def test_a_folder_that_is_not_there_is_told(tmp_path: Path) -> None:
    with pytest.raises(InputError) as error:
        Store.create(tmp_path / "no" / "day.meeting", [opened()])
    assert code_of(error) == "MT101"


@pytest.mark.parametrize(
    ("data", "code"),
    [(b"", "MT102"), (b"formula: dunlin\n", "MT102"), (b"SQLite format 3\0" + b"\0" * 84, "MT102")],
)
def test_what_is_no_meeting_is_told(tmp_path: Path, data: bytes, code: str) -> None:
    path = tmp_path / "day.meeting"
    path.write_bytes(data)
    with pytest.raises(InputError) as error:
        Store.open(path)
    assert code_of(error) == code


def test_another_program_s_database_is_no_meeting(tmp_path: Path) -> None:
    path = tmp_path / "other.db"
    database = sqlite3.connect(path)
    database.execute("CREATE TABLE entry (number)")
    database.execute("PRAGMA user_version = 2")
    database.commit()
    database.close()
    with pytest.raises(InputError) as error:
        Store.open(path)
    assert code_of(error) == "MT102"


def test_what_is_not_there_is_told(tmp_path: Path) -> None:
    for path in (tmp_path / "none.meeting", tmp_path):
        with pytest.raises(InputError) as error:
            Store.open(path)
        assert code_of(error) == "MT101"


def test_a_file_that_the_record_does_not_hold_is_told(tmp_path: Path) -> None:
    with new_record(tmp_path / "day.meeting") as store, pytest.raises(InputError) as error:
        store.file("a" * 64)
    assert code_of(error) == "MT403"


def test_a_file_named_twice_is_kept_once(tmp_path: Path) -> None:
    data = b"pack: dunlin\n"
    with new_record(tmp_path / "day.meeting") as store:
        append(store, said(digest_of(data), files=(data,)), said(digest_of(data), files=(data,)))
        assert store.database.execute("SELECT entry FROM file").fetchall() == [(2,)]


def test_a_journal_that_another_program_takes_away_while_it_is_looked_at_is_no_fault(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "day.meeting"
    new_record(path).close()
    monkeypatch.setattr(os.path, "lexists", lambda _: True)  # it was there when it was asked for
    Store.open(path).close()
