"""A pack that was found by its formula counts only as long as a search would find the same."""

from __future__ import annotations

import os
import shutil
from collections.abc import Callable
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from checker.pack.editions.finding import PackFolder, find_pack
from checker.pack.editions.in_force import load_pack
from checker.pack.keeping import kept
from checker.pack.keeping.searched import state_of_search
from checker.pack.model import Pack
from checker.reading.problems import InputError
from tests.examples import examples, quick_first
from tests.judged.cases import PACKS

FORMULA, ON = "lorry", date(2026, 5, 3)


@pytest.fixture(autouse=True)
def club(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder in which a club keeps two packs, and a cache of its own."""
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    monkeypatch.chdir(tmp_path)
    for name in ("kart", "lorry"):
        shutil.copytree(PACKS / name, tmp_path / "rulepacks" / name)
    return tmp_path / "rulepacks"


@pytest.fixture
def kept_or_new(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """What comes of each look in the cache folder."""
    found: list[str] = []
    really = kept._from_disk

    def noted(*asked: Any) -> Any:
        pack = really(*asked)
        found.append("new" if pack is None else "kept")
        return pack

    monkeypatch.setattr(kept, "_from_disk", noted)
    return found


def as_another_run() -> Pack:
    kept._in_memory.clear()
    return kept.pack_of(FORMULA, ON)


def told(action: Callable[[], Pack]) -> Any:
    """What is told of the pack, or what is wrong with it."""
    try:
        pack = action()
    except InputError as error:
        return error.problems
    return pack.sha256, pack.because, pack.bulletins, pack.files, tuple(pack.clauses)


def told_anew() -> Any:
    return told(lambda: load_pack(find_pack(FORMULA), ON))


def test_the_second_run_reads_what_the_first_kept(kept_or_new: list[str]) -> None:
    assert told(as_another_run) == told(as_another_run) == told_anew()
    assert kept_or_new == ["new", "kept"]


def test_what_is_in_memory_is_given_again() -> None:
    first = as_another_run()
    assert kept.pack_of(FORMULA, ON) is first
    assert kept.pack_of(FORMULA, ON.replace(year=2025)) is not first


BULLETIN = (
    'bulletin: T9\namends: {pack: lorry, edition: "2026"}\nin_force: {from: 2026-05-01}\nreason: Late\n'
    'changes: [{withdraw: clauses, key: "1"}]\n'
)


def _write(file: Path, text: str) -> None:
    file.parent.mkdir(parents=True, exist_ok=True)
    file.write_text(text, "utf-8")


def _saved(club: Path) -> None:
    edition = club / "lorry" / "2026.yaml"
    edition.write_text(edition.read_text("utf-8") + "# saved\n", "utf-8")


def _moved_behind_a_link(club: Path) -> None:
    (club / "lorry").rename(club.parent / "lorry")
    os.symlink(club.parent / "lorry", club / "lorry")


CHANGES: dict[str, Callable[[Path], object]] = {
    "a bulletin comes": lambda club: _write(club / "lorry" / "b9.yaml", BULLETIN),
    "a bulletin by another ending": lambda club: _write(club / "lorry" / "b9.YML", BULLETIN),
    "a bulletin comes below": lambda club: _write(
        club / "lorry" / "more" / "of" / "it" / "b9.yaml", BULLETIN
    ),
    "a bulletin that is no YAML by its name": lambda club: _write(club / "lorry" / "b9.yaml.bak", BULLETIN),
    "a bulletin goes": lambda club: (club / "lorry" / "b2.yaml").unlink(),
    "the register goes": lambda club: (club / "lorry" / "approvals.yaml").unlink(),
    "a file is renamed": lambda club: (club / "lorry" / "b2.yaml").rename(club / "lorry" / "b0.yaml"),
    "a pack of its name stands before": lambda club: shutil.copytree(PACKS / "lorry", club / "a"),
    "a file of its name stands before": lambda club: shutil.copy(
        PACKS / "lorry" / "2026.yaml", club / "a.yaml"
    ),
    "one before names it too": lambda club: _write(club / "kart" / "rules.yaml", "pack: lorry\n"),
    "one before cannot be read": lambda club: _write(club / "kart" / "rules.yaml", "pack: ["),
    "the folder is gone": lambda club: shutil.rmtree(club / "lorry"),
    "the place is gone": shutil.rmtree,
    "a link comes": lambda club: os.symlink(PACKS / "lorry" / "b2.yaml", club / "lorry" / "b9.yaml"),
    "the folder is a link": _moved_behind_a_link,
}


@pytest.mark.deep
@pytest.mark.parametrize(
    "change", ["a bulletin comes", "a bulletin goes", "the register goes", "an edition is saved"]
)
def test_what_changes_while_it_is_compiled_counts_at_the_next_question(
    change: str, club: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def and_meanwhile(folder: PackFolder, on: date) -> Pack:
        pack = load_pack(folder, on)
        {**CHANGES, "an edition is saved": _saved}[change](club)
        return pack

    with monkeypatch.context() as meanwhile:
        meanwhile.setattr("checker.pack.editions.in_force.load_pack", and_meanwhile)
        before = told(lambda: kept.pack_of(FORMULA, ON))
    assert before != told_anew()
    assert told(lambda: kept.pack_of(FORMULA, ON)) == told_anew(), "in memory"
    assert told(as_another_run) == told_anew(), "in the cache"


@pytest.mark.parametrize("change", quick_first(list(CHANGES), 6))
def test_whatever_a_search_looks_at_is_noticed(change: str, club: Path, kept_or_new: list[str]) -> None:
    if change.endswith("link") and not hasattr(os, "symlink"):
        pytest.skip("there are no links")
    as_another_run()
    CHANGES[change](club)
    assert told(lambda: kept.pack_of(FORMULA, ON)) == told_anew(), "in memory"
    assert told(as_another_run) == told_anew(), "in the cache"
    assert kept_or_new[:2] == ["new", "new"]


def test_what_no_search_looks_at_does_not_count(club: Path, kept_or_new: list[str]) -> None:
    as_another_run()
    _write(club / "zebra" / "rules.yaml", "pack: zebra\n")
    _write(club / "lorry" / "declaration.schema.json", "{}")
    (club / "lorry" / "declaration.schema.json").unlink()
    assert told(as_another_run) == told_anew()
    assert kept_or_new == ["new", "kept"]


@settings(examples(60), suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(data=st.data())
def test_a_byte_that_changes_anywhere_is_noticed(club: Path, data: st.DataObject) -> None:
    as_another_run()
    file = data.draw(st.sampled_from(sorted(f for f in club.rglob("*") if f.is_file())))
    before = file.read_bytes()
    written = bytearray(before)
    written[data.draw(st.integers(0, len(before) - 1))] = data.draw(st.integers(0, 255))
    file.write_bytes(written)
    assert told(as_another_run) == told_anew()
    file.write_bytes(before)


def test_another_folder_has_packs_of_its_own(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, kept_or_new: list[str]
) -> None:
    as_another_run()
    (tmp_path / "elsewhere").mkdir()
    monkeypatch.chdir(tmp_path / "elsewhere")
    with pytest.raises(InputError):
        as_another_run()
    monkeypatch.chdir(tmp_path)
    as_another_run()
    assert kept_or_new == ["new", "new", "kept"]


def test_where_the_pack_is_not_nothing_is_told_of_the_search() -> None:
    assert state_of_search(os.path.join("rulepacks", "lorry"), ()) is not None
    assert state_of_search(os.path.join("rulepacks", "zebra"), ()) is None
    assert state_of_search(os.path.join("rulepacks", "lorry"), ("absent.yaml",)) is None
