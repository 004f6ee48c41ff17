"""Full disks, files that may not be written, damage: each ends in words, with every acknowledged entry in place."""

from __future__ import annotations

import os
import resource
import subprocess
import sys
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from checker.meeting.record.chain import faults
from checker.meeting.record.rows import digest_of
from checker.meeting.record.store import Store
from checker.reading.problems import InputError, Problem
from tests.meeting.processes import forked
from tests.meeting.records import append, new_record, said

PAGES = b"x" * 30_000


@pytest.fixture
def small_disk(tmp_path: Path) -> Iterator[Path]:
    """A disk of 256 KiB; only where the test may mount one."""
    place = tmp_path / "disk"
    place.mkdir()
    options = ["-t", "tmpfs", "-o", "size=256k", "none", str(place)]
    try:
        done = subprocess.run(["mount", *options], capture_output=True, check=False)
    except OSError:
        pytest.skip("there is no `mount` here")
    if done.returncode:
        pytest.skip("no disk may be mounted here")
    yield place
    subprocess.run(["umount", "-l", str(place)], check=True)


def fill(store: Store) -> tuple[list[int], Problem]:
    """Append entries with files until the store refuses; gives the numbers acknowledged and the refusal."""
    acknowledged: list[int] = []
    for count in range(1000):
        data = count.to_bytes(4, "big") + PAGES
        try:
            (entry,) = append(store, said(digest_of(data), files=(data,)))
        except InputError as error:
            return acknowledged, error.problems[0]
        acknowledged.append(entry.number)
    raise AssertionError("the disk never filled")


def check_kept(store: Store, acknowledged: list[int]) -> None:
    entries = store.entries()
    assert [entry.number for entry in entries] == [1, *acknowledged]
    assert faults(entries) == []
    assert store.database.execute("PRAGMA integrity_check").fetchone() == ("ok",)


def test_a_full_disk_loses_nothing_acknowledged_and_goes_on_when_there_is_room(small_disk: Path) -> None:
    path = small_disk / "day.meeting"
    spare = small_disk / "spare"
    spare.write_bytes(b"x" * 60_000)
    with new_record(path) as store:
        acknowledged, refusal = fill(store)
        assert acknowledged
        assert refusal.code == "MT104"
        assert "the disk is full" in refusal.message
        assert "was not recorded" in refusal.message
        check_kept(store, acknowledged)
    with Store.open(path) as store:
        check_kept(store, acknowledged)
        spare.unlink()
        (entry,) = append(store, said("there is room again"))
        check_kept(store, [*acknowledged, entry.number])


def test_a_disk_without_room_for_a_new_meeting_is_told_and_left_clean(small_disk: Path) -> None:
    (small_disk / "spare").write_bytes(b"x" * (256 * 1024 - 8192))
    with pytest.raises(InputError) as error:
        new_record(small_disk / "day.meeting")
    assert error.value.problems[0].code == "MT104"
    assert os.listdir(small_disk) == ["spare"]


def test_a_quota_is_told_like_a_full_disk(tmp_path: Path) -> None:
    """A limit on the size of files, as a quota would set it; in a process of its own, for it cannot be lifted again."""
    path = tmp_path / "day.meeting"
    new_record(path).close()
    acknowledged, code = in_process(
        f"""
        import resource
        resource.setrlimit(resource.RLIMIT_FSIZE, (200_000, 200_000))
        from pathlib import Path
        from checker.meeting.record.store import Store
        from tests.meeting.record.test_failures import fill
        with Store.open(Path({str(path)!r})) as store:
            acknowledged, refusal = fill(store)
        print(len(acknowledged), refusal.code)
        """
    ).split()
    assert code == "MT104"
    assert int(acknowledged) >= 1
    with Store.open(path) as store:
        check_kept(store, list(range(2, 2 + int(acknowledged))))
        append(store, said("without the quota"))
    assert resource.getrlimit(resource.RLIMIT_FSIZE)[0] == resource.RLIM_INFINITY


def in_process(code: str) -> str:
    """What a process of its own prints that runs this code."""
    lines = code.strip("\n").splitlines()
    margin = min(len(line) - len(line.lstrip()) for line in lines if line.strip())
    text = "\n".join(line[margin:] for line in lines)
    home = Path(__file__).parents[3]
    done = subprocess.run([sys.executable, "-c", text], capture_output=True, text=True, check=False, cwd=home)
    assert done.returncode == 0, done.stderr
    return done.stdout


def look_and_write(path: Path) -> str:
    """How many entries somebody sees who may not write, and what trying to write gives."""
    with Store.open(path, writing=False) as store:
        seen = len(store.entries())
    try:
        with Store.open(path) as store:
            append(store, said("not allowed"))
    except InputError as error:
        return f"{seen}|{error.problems[0].code}|{error.problems[0].message}"
    return f"{seen}|written|"


def as_somebody(work: Callable[[Path], str], path: Path) -> str:
    """The same done by a user who is not the superuser, to whom nothing is forbidden."""

    def in_child(pipe: int) -> None:
        if os.geteuid() == 0:
            os.setgroups([])
            os.setgid(65534)
            os.setuid(65534)
        os.write(pipe, work(path).encode())

    process, reading = forked(in_child)
    said_so = os.read(reading, 4096).decode()
    os.waitpid(process, 0)
    os.close(reading)
    return said_so


@pytest.mark.parametrize("locked", ["the file", "the folder"])
def test_a_meeting_that_may_not_be_written_can_be_looked_at_and_says_so(tmp_path: Path, locked: str) -> None:
    home = tmp_path / "home"
    home.mkdir()
    path = home / "day.meeting"
    new_record(path, ["one", "two"]).close()
    for folder in (tmp_path, *tmp_path.parents):
        folder.chmod(folder.stat().st_mode | 0o055)  # so that somebody else can come near
        if folder.name.startswith("pytest-of-"):  # tests that run side by side have a folder more
            break
    path.chmod(0o444 if locked == "the file" else 0o666)
    home.chmod(0o555)
    try:
        count, code, message = as_somebody(look_and_write, path).split("|")
    finally:
        home.chmod(0o755)
    assert count == "3"
    assert code == "MT105"
    assert "may not be written" in message
    with Store.open(path) as store:
        check_kept(store, [2, 3])


def test_a_damaged_page_is_told(tmp_path: Path) -> None:
    path = tmp_path / "day.meeting"
    with new_record(path, ["one"]) as store:
        for count in range(8):
            data = bytes([count]) + PAGES
            append(store, said(digest_of(data), files=(data,)))
    raw = bytearray(path.read_bytes())
    raw[4096 : 2 * 4096] = b"\xff" * 4096
    path.write_bytes(raw)
    with pytest.raises(InputError) as error, Store.open(path) as store:
        store.entries()
    assert error.value.problems[0].code == "MT107"


def test_a_meeting_cut_short_is_told(tmp_path: Path) -> None:
    path = tmp_path / "day.meeting"
    new_record(path, ["one"]).close()
    path.write_bytes(path.read_bytes()[:5000])
    with pytest.raises(InputError) as error, Store.open(path) as store:
        store.entries()
    assert error.value.problems[0].code in ("MT107", "MT102")
