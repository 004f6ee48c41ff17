"""Tampering: whatever is flipped, dropped, swapped or put in is found and named."""

from __future__ import annotations

import json
import random
from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import pytest

from checker.meeting.record.chain import FIRST, RecordEntry, canonical, linked, printed
from checker.meeting.record.store import Store
from checker.meeting.session.gear import checked
from checker.meeting.session.session import Meeting
from checker.meeting.standing.verifying import Verification, verify
from checker.meeting.taking.draw import draw
from checker.meeting.taking.measuring import Finding, measure
from checker.meeting.taking.ruling import Ruling, rule
from checker.reading.problems import InputError
from checker.report.meeting.verification import verification_document, verification_text
from checker.report.page import Page
from checker.report.words.findings import found_words
from tests.examples import quick_first
from tests.meeting.days import a_meeting, car_text, shifted, weighed
from tests.meeting.records import MORNING, ToldClock
from tests.meeting.tampering import name_random_changes, rows, tampered, unlocked


@pytest.fixture(scope="module")
def sound(tmp_path_factory: pytest.TempPathFactory) -> bytes:
    """A small day with one of everything, as bytes."""
    folder = tmp_path_factory.mktemp("sound")
    cars = {number: car_text(number, f"Bird {number}") for number in ("7", "8", "9")}
    with a_meeting(folder, cars) as meeting:
        draw(meeting, "KV", seed="page 14")
        for number in cars:
            good = checked(meeting.gear["pads"], "rear_left", "20", "20.5")
            meeting.record("TB", lambda _, good=good: [good])  # type: ignore[misc]
            weighed(meeting, number)
            weighed(meeting, number, shifted(front_left=1))
            measure(meeting, [Finding(number, "seals.sump", f"SO {number}")], "KV")
            measure(meeting, [Finding(number, "engine.inlet_bore", "36.0 mm", gauge="no-go")], "KV")
            meeting.judge_and_record(meeting.car(number), "TB")
        measure(meeting, [Finding("9", "dimensions.ride_height", "80 mm")], "KV")
        meeting.judge_and_record(meeting.car("9"), "TB")
        rule(meeting, Ruling("9", "3", "reject", "too low"), "KV", found_words)
    return (folder / "day.meeting").read_bytes()


@pytest.fixture
def day(sound: bytes, tmp_path: Path) -> Path:
    path = tmp_path / "day.meeting"
    path.write_bytes(sound)
    return path


def codes(found: Verification) -> set[str]:
    return {fault.code for fault in found.faults}


def test_a_sound_record_is_clean_and_every_verdict_comes_out_again(day: Path) -> None:
    found = verify(day)
    assert found.sound
    assert (found.entries, found.recomputed, found.skipped) == (len(rows(day)), 5, "")
    assert found.hash == rows(day)[-1].hash
    assert found.clock == ()


# -- rows ----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("count", quick_first([30, 100], 1))
def test_random_changes_to_logical_records_are_each_named(sound: bytes, tmp_path: Path, count: int) -> None:
    name_random_changes(sound, tmp_path, count, seed=7)


@pytest.mark.parametrize("seed", quick_first(range(20), 5))
def test_two_entries_in_each_other_s_places_are_found(day: Path, seed: int) -> None:
    one, two = random.Random(seed).sample(rows(day)[1:], 2)
    park = 10_000
    swap = [(park, one.number), (one.number, two.number), (two.number, park)]
    statement = "UPDATE entry SET number = ? WHERE number = ?"
    tampered(day, *[(statement, pair) for pair in swap])
    found = verify(day)
    assert {"MT401", "MT402"} & codes(found)
    assert f"entry {one.number} " in " ".join(fault.message for fault in found.faults)


def test_a_row_put_in_is_found(day: Path) -> None:
    last = rows(day)[-1]
    tampered(
        day,
        (
            "INSERT INTO entry VALUES (?, 'noted', ?, 'KV', '{}', ?, ?)",
            (last.number + 1, last.at, last.hash, "a" * 64),
        ),
    )
    assert codes(verify(day)) == {"MT401"}


def rebuilt(entries: list[RecordEntry]) -> list[RecordEntry]:
    """A chain made anew from these entries, without a flaw in itself."""
    found: list[RecordEntry] = []
    previous = FIRST
    for number, entry in enumerate(entries, start=1):
        found.append(linked(number, entry.kind, entry.at, entry.by, entry.content, previous))
        previous = found[-1].hash
    return found


def put_back(path: Path, entries: list[RecordEntry]) -> None:
    values = [(e.number, e.kind, e.at, e.by, e.content, e.previous, e.hash) for e in entries]
    statements = [("INSERT INTO entry VALUES (?, ?, ?, ?, ?, ?, ?)", row) for row in values]
    tampered(path, ("DELETE FROM entry", ()), *statements)


def test_a_cut_tail_is_found_with_the_hash_printed_on_results(day: Path) -> None:
    last = rows(day)[-1]
    put_back(day, rows(day)[:-1])
    assert verify(day).sound
    found = verify(day, [printed(last.hash)])
    assert codes(found) == {"MT405"}
    assert "cut off at the end" in found.faults[0].message


def test_a_chain_built_anew_is_found_with_a_hash_printed_on_a_slip(day: Path) -> None:
    slip = rows(day)[-3].hash
    entries = rows(day)
    changed = [
        RecordEntry(e.number, e.kind, e.at, "TB", e.content, e.previous, e.hash) if e.kind == "ruled" else e
        for e in entries
    ]
    later = [e if e.kind != "weighed" else _earlier(e) for e in changed]
    put_back(day, rebuilt(later))
    found = verify(day, [printed(slip, 16)])
    assert "MT405" in codes(found)
    assert verify(day, [printed(rows(day)[-1].hash)]).sound


def test_a_printed_hash_is_told_by_the_entry_that_has_it_and_by_how_many_came_after(day: Path) -> None:
    entries = rows(day)
    slip, last = entries[-4], entries[-1]
    found = verify(day, [printed(slip.hash), last.hash])
    assert found.sound
    assert [(m.number, m.kind, m.by, m.following) for m in found.matched] == [
        (slip.number, slip.kind, slip.by, 3),
        (last.number, "ruled", "KV", 0),
    ]
    page = Page(100)
    verification_text(verification_document(found), page)
    assert (
        f"is that of entry {slip.number} ({slip.kind}, by {slip.by}, {slip.at}); 3 entries follow it."
        in " ".join(page.text().split())
    )
    assert f"is that of entry {last.number} (ruled, by KV, {last.at}); nothing follows it." in " ".join(
        page.text().split()
    )
    assert "lost its tail" not in " ".join(page.text().split())


def _earlier(entry: RecordEntry) -> RecordEntry:
    return RecordEntry(entry.number, entry.kind, "2026-05-03T06:00:00.000Z", entry.by, entry.content, "", "")


def test_a_reading_that_was_changed_in_a_chain_built_anew_is_found_by_its_verdict(day: Path) -> None:
    """Without any printed hash: the verdict that was recorded no longer comes out."""
    entries = rows(day)
    at = next(i for i, e in enumerate(entries) if e.kind == "weighed")
    content = json.loads(entries[at].content)
    content["loads"]["front_left"] = "157.0 kg"
    entries[at] = RecordEntry(at + 1, "weighed", entries[at].at, entries[at].by, canonical(content), "", "")
    put_back(day, rebuilt(entries))
    found = verify(day)
    assert codes(found) == {"MT406"}
    assert (
        "car 7: clause 1 was recorded with a margin of 21/2 kg and comes out with 23/2 kg"
        in found.faults[0].message
    )


@pytest.mark.parametrize(
    ("kind", "key", "value", "code", "word"),
    [
        ("judged", "complies", "no", "MT406", "recorded as 'no'"),
        ("ruled", "computed", "pass", "MT406", "recorded as pass and comes out as fail"),
        ("gear_checked", "good", False, "MT410", "is not what it is said to be"),
        ("drawn", "drawn", ["9", "8", "7"], "MT410", "does not follow from its seed"),
    ],
)
def test_what_an_entry_says_of_itself_is_worked_out_again(
    day: Path, kind: str, key: str, value: object, code: str, word: str
) -> None:
    entries = rows(day)
    at = next(i for i, e in enumerate(entries) if e.kind == kind)
    content = {**json.loads(entries[at].content), key: value}
    if json.loads(entries[at].content)[key] == value:
        content[key] = list(reversed(value))  # type: ignore[call-overload]
    entries[at] = RecordEntry(at + 1, kind, entries[at].at, entries[at].by, canonical(content), "", "")
    put_back(day, rebuilt(entries))
    found = verify(day)
    assert codes(found) == {code}
    assert word in found.faults[0].message


@pytest.mark.parametrize(
    ("kind", "content", "word"),
    [
        ("weighed", {"car": "7"}, "does not say"),
        ("weighed", {"car": "71", "occasion": "x", "loads": {}, "gear": "", "pads": "", "fuel": "", "driver": "",
                     "tyres": "", "wear": ""}, "was not entered"),
        ("struck", {"entry": 1, "reason": "x"}, "cannot be struck"),
        ("struck", {"entry": 999, "reason": "x"}, "cannot be struck"),
        ("opened", {}, "does not say"),
        ("unheard of", {}, "not known"),
        ("signed_on", {"initials": 7}, "not what it should be"),
        ("signed_on", {"initials": "XX", "more": "y"}, "says what is not known: more"),
    ],
)  # fmt: skip
def test_an_entry_that_no_program_of_this_kind_writes_is_told(
    day: Path, kind: str, content: dict[str, object], word: str
) -> None:
    entries = rows(day)
    entries.append(RecordEntry(len(entries) + 1, kind, entries[-1].at, "KV", canonical(content), "", ""))
    put_back(day, rebuilt(entries))
    found = verify(day)
    assert codes(found) == {"MT407"}
    assert word in found.faults[0].message
    with pytest.raises(InputError) as error:
        Meeting.open(day)
    assert error.value.problems[0].code == "MT407"


# -- files ---------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("statement", "word"),
    [
        (
            "UPDATE file SET bytes = CAST(bytes || x'0a' AS BLOB) WHERE entry = 3",
            "entry 3 brought was changed",
        ),
        ("DELETE FROM file WHERE entry = 3", "the declaration that entry 3 brought is missing"),
        ("UPDATE file SET entry = 5 WHERE entry = 3", "entry 5 that did not bring it"),
        ("INSERT INTO file VALUES (lower(hex(randomblob(32))), 3, x'00')", "entry 3 brought was changed"),
        ("UPDATE file SET bytes = x'' WHERE entry = 1", "entry 1 brought was changed"),
        ("DELETE FROM file WHERE entry = 1", "entry 1 brought is missing"),
    ],
)
def test_a_file_that_was_changed_taken_out_or_put_in_is_found(day: Path, statement: str, word: str) -> None:
    tampered(day, (statement, ()))
    found = verify(day)
    assert codes(found) == {"MT403"}
    assert any(word in fault.message for fault in found.faults)
    assert found.recomputed == 0


# -- the database --------------------------------------------------------------------------------------------


def test_protection_that_was_taken_away_is_found(day: Path) -> None:
    database = unlocked(day)
    database.execute("DROP TRIGGER entry_is_never_changed")
    database.execute("CREATE TABLE more (x)")
    database.close()
    found = verify(day)
    assert codes(found) == {"MT404"}
    assert [fault.message for fault in found.faults] == [
        "the protection of the record, entry_is_never_changed, was taken away",
        "the file holds something that does not belong there: more",
    ]


@pytest.mark.parametrize("more", [b"\0", b"x" * 4096, b"x" * 100_000])
def test_bytes_put_on_at_the_end_of_the_file_are_found(day: Path, more: bytes) -> None:
    with day.open("ab") as file:
        file.write(more)
    assert "MT408" in codes(verify(day))


def logical(path: Path) -> object:
    """Everything that the record says, or why it cannot be read."""
    with Store.open(path) as store:
        files = store.database.execute("SELECT sha256, entry, bytes FROM file ORDER BY sha256").fetchall()
        return store.entries(), files


def flips(sound: bytes, count: int, seed: int) -> Iterator[bytes]:
    chance = random.Random(seed)
    for _ in range(count):
        raw = bytearray(sound)
        raw[chance.randrange(len(raw))] ^= 1 << chance.randrange(8)
        yield bytes(raw)


@pytest.mark.deep
def test_a_flipped_bit_is_found_or_lies_where_the_record_has_nothing(sound: bytes, tmp_path: Path) -> None:
    """A database has room between its rows; a bit there changes nothing that the record says."""
    path = tmp_path / "flipped.meeting"
    path.write_bytes(sound)
    before = logical(path)
    found = missed = 0
    for raw in flips(sound, 300, 11):
        path.write_bytes(raw)
        try:
            clean = verify(path, recompute=False).sound
        except InputError:
            clean = False
        if clean:
            assert logical(path) == before
            missed += 1
        else:
            found += 1
    assert found > 100
    assert found + missed == 300


@pytest.mark.parametrize("share", [0.9, 0.5, 0.1])
def test_a_file_cut_short_is_found(day: Path, sound: bytes, share: float) -> None:
    day.write_bytes(sound[: int(len(sound) * share)])
    try:
        clean = verify(day).sound
    except InputError:
        clean = False
    assert not clean


# -- words ---------------------------------------------------------------------------------------------------


def test_a_clock_set_back_is_told_and_is_no_fault(tmp_path: Path) -> None:
    clock = ToldClock()
    with a_meeting(tmp_path) as meeting:
        meeting.store._clock = clock
        clock.now = MORNING + timedelta(hours=2)
        weighed(meeting)
        clock.now = MORNING + timedelta(hours=1)
        weighed(meeting)
        assert meeting.day.set_back == [(4, timedelta(hours=1))]
    found = verify(tmp_path / "day.meeting")
    assert found.sound
    assert found.clock == (
        "entry 4 bears a time 3600 s before the latest: the computer's clock was set back",
    )


def test_a_hash_that_is_none_is_told(day: Path) -> None:
    with pytest.raises(InputError) as error:
        verify(day, ["not a hash"])
    assert error.value.problems[0].code == "MT209"


def test_an_empty_record_is_told(day: Path) -> None:
    tampered(day, ("DELETE FROM file", ()), ("DELETE FROM entry", ()))
    found = verify(day)
    assert [fault.message for fault in found.faults] == ["the record is empty: entry 1 is missing"]


def test_verdicts_of_another_version_are_worked_out_again_and_the_version_is_told(
    day: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("checker.__version__", "9.9")
    found = verify(day)
    assert found.sound
    assert found.other_program == "0.1.0"
