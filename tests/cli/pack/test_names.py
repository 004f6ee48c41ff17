"""A pack may be called by its name wherever one is taken, from any folder."""

from __future__ import annotations

from pathlib import Path

import pytest

from checker.pack.editions.finding import open_folder
from checker.reading.problems import InputError
from tests.cli.running import ROOT, run
from tests.examples import quick_first

Capsys = pytest.CaptureFixture[str]
CAR = str(ROOT / "samples/cars/legal.yaml")

COMMANDS = (
    ("inspect", CAR, "--pack", "dunlin"),
    ("explain", CAR, "3.1", "--pack", "dunlin"),
    ("conditions", CAR, "--pack", "dunlin"),
    ("declare", "--pack", "dunlin"),
    ("pack", "show", "dunlin"),
    ("pack", "schema", "dunlin"),
    ("pack", "book", "dunlin", "--on", "2026-05-03"),
    ("pack", "book", "dunlin@2026-05-03", "--against", "dunlin@2025-05-03"),
    ("pack", "history", "dunlin", "3.3"),
    ("pack", "notice", "dunlin", "2026-B1"),
    ("pack", "consolidate", "Dunlin", "--on", "2026-07-20"),
    ("pack", "compare", "dunlin@2026-06-30", "dunlin@2026-07-20"),
    ("meeting", "open", "day.meeting", "--pack", "dunlin", "--on", "2026-05-24", "--official", "KV"),
    ("calendar", CAR, "--meetings", str(ROOT / "samples/season/meetings.yaml"), "--pack", "dunlin"),
    ("pack", "lint", "dunlin"),
    ("pack", "cases", "dunlin"),
    ("pack", "calendar", "dunlin", "--from", "2026-01-01"),
    ("pack", "affected", "dunlin@2026-06-30", "dunlin@2026-07-01", CAR),
    ("pack", "sweep", "dunlin@2026-05-03", "3.3", "--from", "51 %", "--to", "54 %", CAR),
)


SLOW = 16
"""How many of the last are left to the deep run."""


@pytest.mark.parametrize("words", quick_first([(words,) for words in COMMANDS], len(COMMANDS) - SLOW))
def test_a_name_is_as_good_as_a_path(
    capsys: Capsys, monkeypatch: pytest.MonkeyPatch, tmp_path: Path, words: tuple[str, ...]
) -> None:
    """In a folder without packs: those that come with the program."""
    monkeypatch.chdir(tmp_path)
    ran = run(capsys, *words)
    assert ran.code in (0, 1, 4), ran.err
    assert "PK" not in ran.err


def test_a_name_nobody_has_is_told_with_the_nearest(capsys: Capsys) -> None:
    ran = run(capsys, "pack", "show", "dunlim")
    assert ran.code == 3
    assert "there is no pack at 'dunlim'" in ran.err
    assert "Did you mean 'dunlin'?" in ran.err


@pytest.mark.parametrize("place", ["./dunlin", "elsewhere/dunlin", "dunlin.yaml", "dunlin"])
def test_a_path_is_no_name_and_what_stands_there_comes_first(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path, place: str
) -> None:
    (tmp_path / "dunlin").mkdir()
    monkeypatch.chdir(tmp_path)
    with pytest.raises(InputError) as raised:
        open_folder(place)
    assert [problem.code for problem in raised.value.problems] == ["PK110"]
