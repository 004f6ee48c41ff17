"""What was acknowledged is on disk, whatever dies and whoever writes at the same time.

Writers are processes of their own. A writer acknowledges an entry by writing its number into a pipe only after the
append has returned; the test then kills it with SIGKILL at a random moment and looks for every acknowledged entry. This
shows that a process may die anywhere. That a machine may lose power anywhere rests on SQLite's own tests of
`synchronous=EXTRA`.
"""

from __future__ import annotations

import os
import random
import select
import signal
import time
from collections.abc import Callable
from pathlib import Path

import pytest

from checker.meeting.record.chain import faults
from checker.meeting.record.rows import digest_of
from checker.meeting.record.store import Store
from tests.examples import quick_first
from tests.meeting.processes import forked
from tests.meeting.records import append, new_record, said

pytestmark = pytest.mark.skipif(
    not hasattr(os, "fork"), reason="needs processes that can be forked and killed"
)

LONGEST = 20.0
"""Seconds after which a writer that says nothing counts as hung."""


def write_for_ever(path: Path, by: str, seed: int, pause: float = 0.0) -> Callable[[int], None]:
    """Appends entries, some with files that need several pages, and acknowledges each."""

    def work(pipe: int) -> None:
        chance = random.Random(seed)
        with Store.open(path) as store:
            for count in range(100_000):
                data = chance.randbytes(chance.choice((0, 0, 10, 20_000)))
                draft = said(digest_of(data), by, (data,)) if data else said(f"{by} {count}", by)
                (entry,) = append(store, draft)
                os.write(pipe, entry.number.to_bytes(4, "big"))
                time.sleep(pause)

    return work


def acknowledged(reading: int) -> list[int]:
    """The numbers in the pipe; to be asked when its writer is dead."""
    data = b""
    while chunk := os.read(reading, 65536):
        data += chunk
    os.close(reading)
    whole = len(data) // 4 * 4
    return [int.from_bytes(data[at : at + 4], "big") for at in range(0, whole, 4)]


def kill_at_random(process: int, reading: int, chance: random.Random) -> None:
    """Kill a writer some moment after its first acknowledgement."""
    ready, _, _ = select.select([reading], [], [], LONGEST)
    assert ready, "the writer never acknowledged anything"
    time.sleep(chance.random() * 0.03)
    os.kill(process, signal.SIGKILL)
    _, status = os.waitpid(process, 0)
    assert os.WIFSIGNALED(status)


def kill_writers(path: Path, kills: int, seed: int) -> tuple[int, int]:
    """Kill so many writers one after the other, looking each time; gives entries acknowledged and left."""
    chance = random.Random(seed)
    total = 0
    known = 1
    for kill in range(kills):
        process, reading = forked(write_for_ever(path, "KV", seed * 1000 + kill))
        kill_at_random(process, reading, chance)
        numbers = acknowledged(reading)
        total += len(numbers)
        with Store.open(path) as store:
            added = [entry.number for entry in store.entries(after=known)]
            assert added == list(range(known + 1, known + 1 + len(added)))
            assert set(numbers) <= set(added)
            assert len(added) - len(numbers) <= 1, "at most the entry in hand may stand unacknowledged"
            known += len(added)
    return total, known


def check_whole(path: Path) -> None:
    with Store.open(path) as store:
        entries = store.entries()
        assert faults(entries) == []
        assert store.database.execute("PRAGMA integrity_check").fetchone() == ("ok",)
        assert store.database.execute("PRAGMA foreign_key_check").fetchall() == []
        for digest, data in store.database.execute("SELECT sha256, bytes FROM file"):
            assert digest_of(data) == digest


@pytest.mark.parametrize(("kills", "seed"), quick_first([(8, 1), (500, 2)], 1))
def test_writers_killed_at_random_moments_lose_nothing_acknowledged(
    tmp_path: Path, kills: int, seed: int
) -> None:
    path = tmp_path / "day.meeting"
    new_record(path).close()
    total, _ = kill_writers(path, kills, seed)
    assert total >= kills
    check_whole(path)


def test_two_officials_write_at_the_same_time_and_nothing_is_lost_or_doubled(tmp_path: Path) -> None:
    path = tmp_path / "day.meeting"
    new_record(path).close()
    each = 100

    def work(by: str) -> Callable[[int], None]:
        def write(pipe: int) -> None:
            with Store.open(path) as store:
                for count in range(each):
                    (entry,) = append(store, said(f"{by} {count}", by))
                    os.write(pipe, entry.number.to_bytes(4, "big"))

        return write

    writers = {by: forked(work(by)) for by in ("KV", "TB")}
    numbers: dict[str, list[int]] = {}
    for by, (process, reading) in writers.items():
        numbers[by] = acknowledged(reading)
        os.waitpid(process, 0)
    assert {by: len(found) for by, found in numbers.items()} == {"KV": each, "TB": each}
    with Store.open(path) as store:
        entries = store.entries()
        for by, found in numbers.items():
            own = [entry for entry in entries if entry.by == by and entry.number > 1]
            assert [entry.number for entry in own] == found
            assert [entry.content for entry in own] == [
                f'{{"fact":"event.session","value":"{by} {count}"}}' for count in range(each)
            ]
    check_whole(path)


@pytest.mark.parametrize("kills", quick_first([3, 8], 1))
def test_two_officials_go_on_while_a_third_is_killed_again_and_again(tmp_path: Path, kills: int) -> None:
    path = tmp_path / "day.meeting"
    new_record(path).close()
    chance = random.Random(3)
    steady = [forked(write_for_ever(path, by, seed, pause=0.005)) for seed, by in enumerate(("KV", "TB"))]
    killed: list[int] = []
    for kill in range(kills):
        process, reading = forked(write_for_ever(path, "KV", 100 + kill))
        kill_at_random(process, reading, chance)
        killed += acknowledged(reading)
    for process, reading in steady:
        os.kill(process, signal.SIGKILL)
        os.waitpid(process, 0)
        killed += acknowledged(reading)
    with Store.open(path) as store:
        assert set(killed) <= {entry.number for entry in store.entries()}
    assert len(killed) == len(set(killed))
    check_whole(path)


@pytest.mark.parametrize("openings", quick_first([3, 8], 1))
def test_an_opening_that_is_killed_leaves_no_half_of_a_meeting(tmp_path: Path, openings: int) -> None:
    """Either the file is there and whole, or it is not there and can be made."""
    chance = random.Random(4)
    for attempt in range(openings):
        path = tmp_path / f"{attempt}.meeting"

        def work(pipe: int, path: Path = path) -> None:
            os.write(pipe, b"go")
            new_record(path).close()

        process, reading = forked(work)
        os.read(reading, 2)
        time.sleep(chance.random() * 0.01)
        os.kill(process, signal.SIGKILL)
        os.waitpid(process, 0)
        os.close(reading)
        if not path.exists():
            new_record(path).close()
        check_whole(path)


@pytest.mark.parametrize("crashes", quick_first([3, 8], 1))
def test_a_copy_of_the_one_file_is_whole_once_the_meeting_was_looked_at_after_a_crash(
    tmp_path: Path, crashes: int
) -> None:
    path, copy = tmp_path / "day.meeting", tmp_path / "copy.meeting"
    new_record(path, ["one"]).close()
    known: set[int] = set()
    for seed in range(crashes):
        process, reading = forked(write_for_ever(path, "KV", seed))
        kill_at_random(process, reading, random.Random(seed))
        known |= set(acknowledged(reading))
        with Store.open(path, writing=False) as store:
            store.entries()
        copy.write_bytes(path.read_bytes())
        with Store.open(copy) as store:
            assert known <= {entry.number for entry in store.entries()}
        check_whole(copy)
