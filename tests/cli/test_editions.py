"""How a user names the rules that a study is about."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import click
import pytest

from checker.cli.editions import day_named, edition_named
from checker.reading.problems import InputError
from tests.studies.packs import PACK

DAY = date(2026, 7, 5)
FOLDER = "rulepacks/dunlin"


def test_the_day_is_the_one_asked_for_else_that_behind_the_at_sign_else_today() -> None:
    assert day_named("2026-05-03", f"{FOLDER}@2026-07-05") == date(2026, 5, 3)
    assert day_named(None, f"{FOLDER}@2026-07-05") == DAY
    assert day_named(None, FOLDER) == date.today()


def test_a_file_is_its_edition_without_bulletins_and_with_the_register() -> None:
    pack = edition_named(f"{FOLDER}/2025.1.yaml", DAY)
    assert (pack.edition, pack.bulletins) == ("2025.1", ())
    assert pack.approvals is not None
    assert "A-2026-02" in [approval.reference for approval in pack.approvals]


def test_a_folder_is_what_is_in_force() -> None:
    assert edition_named(FOLDER, DAY).bulletins == ("2026-B1",)
    assert edition_named(f"{FOLDER}@2026-06-30", DAY).bulletins == ()
    assert edition_named(f"{FOLDER}/2026.1.yaml@2026-07-05", date(2026, 5, 3)).bulletins == ("2026-B1",)


def test_a_name_that_has_an_at_sign_is_a_name(tmp_path: Path) -> None:
    file = tmp_path / "pack@2026-07-05"
    file.write_text(PACK)
    assert edition_named(str(file), DAY).edition == "1"
    assert day_named(None, str(file)) == date.today()


def test_a_day_that_is_not_in_the_calendar_is_a_mistake_of_the_command_line() -> None:
    with pytest.raises(click.UsageError, match="2026-02-30"):
        edition_named(f"{FOLDER}@2026-02-30", DAY)


def test_no_pack_is_an_error() -> None:
    with pytest.raises(InputError):
        edition_named("absent", DAY)
