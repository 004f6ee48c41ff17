"""`checker pack book`, as a technical secretary prints it."""

from __future__ import annotations

from pathlib import Path

import pytest

from checker.cli import exits
from tests.cli.running import run
from tests.studies.packs import PACK

Capsys = pytest.CaptureFixture[str]


def test_the_book_is_written_with_the_changes_since_the_edition_before(
    capsys: Capsys, tmp_path: Path
) -> None:
    file = tmp_path / "book.md"
    ran = run(capsys, "pack", "book", "rulepacks/dunlin", "--on", "2026-07-05", "--output", str(file))
    assert (ran.code, ran.out) == (exits.COMPLIES, "")
    book = file.read_text(encoding="utf-8")
    assert book.startswith("# Dunlin Formula technical regulations\n")
    assert "what is not as in edition 2025.1" in book
    assert "2026-B1" in book


def test_a_file_is_that_edition_against_the_one_before_it_in_its_folder(capsys: Capsys) -> None:
    ran = run(capsys, "pack", "book", "rulepacks/dunlin/2026.1.yaml")
    assert "what is not as in edition 2025.1" in ran.out
    assert "Bulletins carried out" not in ran.out


def test_the_first_edition_has_none_before_it(capsys: Capsys) -> None:
    ran = run(capsys, "pack", "book", "rulepacks/dunlin/2025.1.yaml")
    assert ran.code == exits.COMPLIES
    assert "A bar in the margin" not in ran.out


def test_other_rules_can_be_marked_against(capsys: Capsys, tmp_path: Path) -> None:
    old, new = tmp_path / "old.yaml", tmp_path / "new.yaml"
    old.write_text(PACK)
    new.write_text(
        PACK.replace("at_most: 1400 mm", "at_most: 1380 mm").replace('edition: "1"', 'edition: "2"')
    )
    ran = run(capsys, "pack", "book", str(new), "--against", str(old))
    assert "> **Check:** `frame.width` at most 1380 mm" in ran.out


def test_a_day_behind_an_at_sign_is_that_day(capsys: Capsys) -> None:
    plain = run(capsys, "pack", "book", "rulepacks/dunlin@2026-06-30").out
    assert "2026-B1" not in plain
    assert "what is not as in edition 2025.1" in plain


def test_no_pack_is_an_error(capsys: Capsys) -> None:
    ran = run(capsys, "pack", "book", "absent")
    assert ran.code == exits.UNREADABLE
    assert "PK110" in ran.err
