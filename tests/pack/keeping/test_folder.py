"""Only what the user alone can have written is read; where nothing can be kept, nothing is said."""

from __future__ import annotations

import os
import stat
from pathlib import Path

import pytest

from checker.pack.keeping import folder as cache
from tests.cli.running import finish, run, start
from tests.conftest import ROOT

LORRY = "tests/judged/packs/lorry"
INSPECT = ("inspect", f"{LORRY}/car.yaml", "--pack", LORRY, "--format", "json")


@pytest.fixture
def own(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    return tmp_path / "cache" / "scrutineering-checker"


def test_what_is_written_is_read_by_the_user_alone(own: Path) -> None:
    cache.write("a", b"abc")
    assert cache.read("a") == b"abc"
    assert cache.read("b") is None
    assert stat.S_IMODE(own.stat().st_mode) == 0o700
    assert [stat.S_IMODE(file.stat().st_mode) for file in own.iterdir()] == [0o600]


@pytest.mark.parametrize("mode", [0o701, 0o710, 0o720, 0o777])
def test_a_folder_that_is_open_to_others_is_not_used(own: Path, mode: int) -> None:
    cache.write("a", b"abc")
    own.chmod(mode)
    assert cache.read("a") is None
    cache.write("b", b"abc")
    assert len(list(own.iterdir())) == 1


def test_a_file_that_is_open_to_others_is_not_read(own: Path) -> None:
    cache.write("a", b"abc")
    (own / "a.pack").chmod(0o620)
    assert cache.read("a") is None


def test_what_another_owns_is_not_read(own: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    cache.write("a", b"abc")
    assert own.stat().st_uid == os.geteuid()
    mine = os.geteuid()
    monkeypatch.setattr(os, "geteuid", lambda: mine + 1)
    assert cache.read("a") is None


def test_links_are_not_followed(own: Path, tmp_path: Path) -> None:
    cache.write("a", b"abc")
    (own / "b.pack").symlink_to(own / "a.pack")
    assert cache.read("b") is None
    own.rename(tmp_path / "elsewhere")
    own.symlink_to(tmp_path / "elsewhere")
    assert cache.read("a") is None


def test_a_folder_or_a_pipe_in_the_place_of_a_file_is_nothing(own: Path) -> None:
    cache.write("a", b"abc")
    (own / "b.pack").mkdir()
    assert cache.read("b") is None
    os.mkfifo(own / "c.pack", 0o600)  # nobody writes to it
    assert cache.read("c") is None


def test_without_a_home_nothing_is_kept(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.delenv("XDG_CACHE_HOME", raising=False)
    monkeypatch.setattr("os.path.expanduser", lambda path: path)  # as where no home can be told
    cache.write("a", b"abc")
    assert cache.read("a") is None
    monkeypatch.setenv("XDG_CACHE_HOME", "relative/paths/count/for/nothing")
    cache.write("a", b"abc")
    assert cache.read("a") is None
    (tmp_path / "file").write_text("no folder")
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "file"))
    cache.write("a", b"abc")
    assert cache.read("a") is None


def test_the_folder_stays_small(own: Path) -> None:
    for at in range(40):
        cache.write(f"{at:02}", bytes([at]))
        os.utime(own / f"{at:02}.pack", ns=(at, at))
    assert len(list(own.iterdir())) <= 33
    assert cache.read("39") == bytes([39])
    assert cache.read("00") is None
    (own / "notes.txt").write_text("somebody's own")
    cache.write("big", bytes(31 * 1024**2))
    cache.write("last", bytes(2 * 1024**2))
    assert sum(file.stat().st_size for file in own.iterdir()) < 32 * 1024**2
    assert (own / "notes.txt").exists()


@pytest.mark.deep
@pytest.mark.parametrize("number", [2, 4])
def test_runs_at_once_print_the_same_and_leave_one_whole_file(
    own: Path, number: int, capsys: pytest.CaptureFixture[str], at_root: Path
) -> None:
    assert at_root.is_dir()
    alone = run(capsys, "--no-cache", *INSPECT)
    assert (alone.code, own.exists()) == (0, False)
    runs = [start(*INSPECT) for _ in range(number)]
    assert [finish(run) for run in runs] == [alone] * number
    (file,) = own.iterdir()
    assert cache.read(file.stem) is not None
    assert finish(start(*INSPECT)) == alone


@pytest.mark.deep
def test_a_pack_s_own_folder_is_left_alone(own: Path) -> None:
    before = sorted((ROOT / LORRY).rglob("*"))
    finish(start(*INSPECT))
    assert own.is_dir()
    assert sorted((ROOT / LORRY).rglob("*")) == before
