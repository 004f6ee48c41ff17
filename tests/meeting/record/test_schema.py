"""Older forms of the file are brought up to date when a meeting is opened for writing, and the chain survives it."""

from __future__ import annotations

import sqlite3
from pathlib import Path

import pytest

from checker.meeting.record.chain import FIRST, canonical, faults, linked
from checker.meeting.record.content_form import to_plain
from checker.meeting.record.contents import Announced
from checker.meeting.record.rows import digest_of
from checker.meeting.record.schema import (
    APPLICATION_ID,
    STEPS,
    VERSION,
    bring_up_to_date,
    definitions,
    expected_definitions,
)
from checker.meeting.record.soundness import flaws
from checker.meeting.record.store import Store
from checker.reading.problems import InputError
from tests.meeting.records import append, new_record, opened, said

DECLARATION = b"formula: dunlin\n"
STRAY = b"a file that no entry names"


def first_form(path: Path) -> list[str]:
    """A meeting in the first form: files belong to no entry. Gives the hashes of its entries."""
    database = sqlite3.connect(path, isolation_level=None)
    database.execute("BEGIN")
    bring_up_to_date(database, 0, target=1)
    hashes: list[str] = []
    contents = [dict(opened().content), to_plain(Announced("event.session", digest_of(DECLARATION)))]
    for number, content in enumerate(contents, start=1):
        kind = "opened" if number == 1 else "announced"
        at = f"2026-05-03T07:00:0{number}.000Z"
        entry = linked(number, kind, at, "KV", canonical(content), hashes[-1] if hashes else FIRST)
        row = (entry.number, entry.kind, entry.at, entry.by, entry.content, entry.previous, entry.hash)
        database.execute("INSERT INTO entry VALUES (?, ?, ?, ?, ?, ?, ?)", row)
        hashes.append(entry.hash)
    for data in (DECLARATION, STRAY):
        database.execute("INSERT INTO file VALUES (?, ?)", (digest_of(data), data))
    database.execute("COMMIT")
    database.close()
    return hashes


def second_form(path: Path) -> list[str]:
    """A meeting in the second form: no entry can be signed."""
    hashes = first_form(path)
    database = sqlite3.connect(path, isolation_level=None)
    database.execute("BEGIN")
    bring_up_to_date(database, 1, target=2)
    database.execute("COMMIT")
    database.close()
    return hashes


OLDER = {1: first_form, 2: second_form}


def test_every_older_form_has_a_test() -> None:
    assert set(OLDER) == set(range(1, VERSION))
    assert len(STEPS) == VERSION


@pytest.mark.parametrize("version", OLDER)
def test_an_older_meeting_is_brought_up_to_date_with_its_chain_unharmed(tmp_path: Path, version: int) -> None:
    path = tmp_path / "day.meeting"
    hashes = OLDER[version](path)
    with Store.open(path) as store:
        assert [entry.hash for entry in store.entries()] == hashes
        assert definitions(store.database) == expected_definitions()
        assert store.database.execute("PRAGMA user_version").fetchone() == (VERSION,)
        assert store.database.execute("PRAGMA integrity_check").fetchone() == ("ok",)
        append(store, said("goes on"))
        assert faults(store.entries()) == []


def test_files_of_the_first_form_come_to_belong_to_the_entry_that_named_them_first(tmp_path: Path) -> None:
    path = tmp_path / "day.meeting"
    first_form(path)
    with Store.open(path) as store:
        kept = store.database.execute("SELECT sha256, entry, bytes FROM file").fetchall()
        assert kept == [(digest_of(DECLARATION), 2, DECLARATION)]
        with pytest.raises(sqlite3.IntegrityError, match="only added to"):
            store.database.execute("DELETE FROM file")


def test_an_older_meeting_is_not_touched_by_looking_at_it(tmp_path: Path) -> None:
    path = tmp_path / "day.meeting"
    first_form(path)
    before = path.read_bytes()
    with pytest.raises(InputError) as error:
        Store.open(path, writing=False)
    assert error.value.problems[0].code == "MT109"
    assert path.read_bytes() == before


def test_a_meeting_of_the_second_form_is_looked_at_as_it_is(tmp_path: Path) -> None:
    path = tmp_path / "day.meeting"
    hashes = second_form(path)
    before = path.read_bytes()
    with Store.open(path, writing=False) as store:
        assert [entry.hash for entry in store.entries()] == hashes
        assert flaws(store, store.entries()) == []
    assert path.read_bytes() == before


def test_a_failing_step_leaves_the_older_form_whole(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "day.meeting"
    first_form(path)

    def half_way(database: sqlite3.Connection) -> None:
        STEPS[1](database)
        raise sqlite3.OperationalError("the machine went off")

    monkeypatch.setattr("checker.meeting.record.schema.STEPS", (STEPS[0], half_way))
    with pytest.raises(InputError):
        Store.open(path)
    database = sqlite3.connect(path)
    assert database.execute("PRAGMA user_version").fetchone() == (1,)
    assert database.execute("SELECT count(*) FROM file").fetchone() == (2,)
    database.close()


def test_a_newer_meeting_is_told(tmp_path: Path) -> None:
    path = tmp_path / "day.meeting"
    new_record(path).close()
    database = sqlite3.connect(path)
    database.execute(f"PRAGMA user_version = {VERSION + 1}")
    database.close()
    with pytest.raises(InputError) as error:
        Store.open(path)
    assert error.value.problems[0].code == "MT108"


def test_a_new_file_goes_through_all_steps(tmp_path: Path) -> None:
    with new_record(tmp_path / "day.meeting") as store:
        assert definitions(store.database) == expected_definitions()
        assert store.database.execute("PRAGMA application_id").fetchone() == (APPLICATION_ID,)
