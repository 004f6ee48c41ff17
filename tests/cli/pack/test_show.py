"""`checker pack show` from the outside."""

from __future__ import annotations

from pathlib import Path

import pytest

from checker.cli.editions import edition_for
from checker.pack.editions.finding import open_folder
from tests.building import HEAD
from tests.cli.running import run

pytestmark = pytest.mark.usefixtures("at_root")
Capsys = pytest.CaptureFixture[str]

DUNLIN = "rulepacks/dunlin"


def test_packs_are_listed(capsys: Capsys) -> None:
    ran = run(capsys, "pack", "show")
    assert (ran.code, ran.err) == (0, "")
    assert DUNLIN in ran.out


def test_a_pack_is_shown_whole_or_by_clause(capsys: Capsys) -> None:
    whole = run(capsys, "pack", "show", DUNLIN, "--on", "2026-05-03")
    assert (whole.code, whole.err) == (0, "")
    assert "FACTS" in whole.out
    one = run(capsys, "pack", "show", DUNLIN, "--on", "2026-05-03", "--clause", "3.1", "--clause", "5.8")
    assert "Minimum weight" in one.out
    assert "Titanium" in one.out
    assert "FACTS" not in one.out


@pytest.mark.parametrize(
    ("arguments", "code", "told"),
    [
        (("absent",), 3, "there is no pack"),
        ((DUNLIN, "--on", "2020-01-01"), 3, "no edition is in force"),
        ((DUNLIN, "--on", "2026-05-03", "--clause", "3.10"), 2, "Did you mean '3.1'?"),
        (("--clause", "3.1"), 2, "need the PATH"),
        (("samples/cars/legal.yaml",), 3, "PK"),
    ],
)
def test_what_is_wrong_is_told(arguments: tuple[str, ...], code: int, told: str, capsys: Capsys) -> None:
    ran = run(capsys, "pack", "show", *arguments)
    assert (ran.code, ran.out) == (code, "")
    assert told in ran.err


def test_a_pack_may_be_read_before_it_is_in_force(tmp_path: Path) -> None:
    for edition, first in (("1", "2190-01-01, until: 2190-12-31"), ("2", "2191-01-01")):
        head = HEAD.replace('edition: "1"', f'edition: "{edition}"').replace("2020-01-01", first)
        clauses = 'clauses: {"1": {title: T, check: {limit: weighing.fuel, at_most: 9 L}}}\n'
        (tmp_path / f"{edition}.yaml").write_text(head + clauses)
    assert edition_for(open_folder(tmp_path), None).edition == "2"
    assert edition_for(open_folder(tmp_path), "2190-05-03").edition == "1"
