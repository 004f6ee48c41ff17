from __future__ import annotations

import os
import tempfile
from datetime import date
from pathlib import Path

import pytest

from checker.meeting.record.frozen import check_digest, freeze, thaw
from checker.pack.editions.finding import open_folder
from checker.pack.editions.in_force import load_pack
from checker.reading.problems import InputError
from tests.examples import each_row
from tests.meeting.days import PACK, pack_folder, refused

ON = date(2026, 5, 3)


def test_a_frozen_pack_thaws_to_the_same_pack(tmp_path: Path) -> None:
    folder = open_folder(pack_folder(tmp_path))
    thawed = thaw(freeze(folder), ON)
    assert thawed.sha256 == load_pack(folder, ON).sha256
    assert list(thawed.clauses) == [str(number) for number in range(1, 9)]


@pytest.mark.deep
def test_the_whole_dunlin_pack_thaws_to_the_same_on_every_day() -> None:
    folder = open_folder("rulepacks/dunlin")
    files = freeze(folder)
    for on in (ON, date(2026, 7, 5)):
        thawed, whole = thaw(files, on), load_pack(folder, on)
        assert (thawed.sha256, thawed.bulletins, list(thawed.clauses)) == (
            whole.sha256,
            whole.bulletins,
            list(whole.clauses),
        )


@each_row("name", ["../up.yaml", "/abs.yaml", "a/../../b.yaml", "a\\b.yaml", "", "a//b.yaml", "a\nb"])
def test_a_name_that_leads_out_of_the_folder_is_refused(name: str) -> None:
    with pytest.raises(InputError) as error:
        thaw({"1.yaml": PACK.encode(), name: b"x"}, ON)
    assert refused(error) == "MT215"


def test_nothing_is_left_where_the_pack_was_laid_out(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(tempfile, "tempdir", str(tmp_path))
    thaw({"1.yaml": f"{PACK}# laid out anew\n".encode()}, ON)
    assert list(tmp_path.iterdir()) == []


def test_no_room_for_temporary_files_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(tempfile, "tempdir", str(tmp_path / "gone"))
    with pytest.raises(InputError) as error:
        thaw({"1.yaml": f"{PACK}# laid out nowhere\n".encode()}, ON)
    assert refused(error) == "MT215"


def test_a_pack_that_is_another_is_refused(tmp_path: Path) -> None:
    pack = thaw({"1.yaml": PACK.encode()}, ON)
    check_digest(pack, pack.sha256)
    with pytest.raises(InputError) as error:
        check_digest(pack, "0" * 64)
    assert refused(error) == "MT215"
    assert tmp_path.exists()


ELSEWHERE = "materials: {steel: [], exotic: {words_from: PLACE}}"


@pytest.mark.parametrize("place", ["../secret.yaml", "/etc/hostname", "lnk.yaml", '"a\\0b"', "pipe", "lists"])
def test_what_an_edition_names_beside_it_is_not_frozen_from_elsewhere(tmp_path: Path, place: str) -> None:
    """Also that of an edition which is not in force, and which nobody has read so far."""
    (tmp_path / "secret.yaml").write_text("- password\n")
    folder = pack_folder(tmp_path)
    if place == "lnk.yaml":
        (folder / "below").mkdir()
        (folder / "below" / place).symlink_to(tmp_path / "secret.yaml")
        place = f"below/{place}"
    if place == "pipe":
        os.mkfifo(folder / ".pipe")
        place = ".pipe"
    if place == "lists":
        (folder / "lists").mkdir()
    older = PACK.replace("from: 2026-01-01", "from: 2025-01-01, until: 2025-12-31").replace(
        'edition: "1"', 'edition: "0"'
    )
    (folder / "0.yaml").write_text(older.replace("materials: {steel: []}", ELSEWHERE.replace("PLACE", place)))
    with pytest.raises(InputError) as error:
        freeze(open_folder(folder))
    (problem,) = error.value.problems
    assert problem.code == "PK109"
    assert problem.span is not None
    assert problem.span.file.endswith("0.yaml")


def test_a_link_that_leads_out_of_the_folder_is_no_file_of_the_pack(tmp_path: Path) -> None:
    (tmp_path / "secret.yaml").write_text("bulletin: B1\n")
    folder = pack_folder(tmp_path)
    (folder / "lnk.yaml").symlink_to(tmp_path / "secret.yaml")
    with pytest.raises(InputError) as error:
        open_folder(folder)
    assert refused(error) == "PK613"
    assert "is a link that leads out of the pack's folder" in error.value.problems[0].message
    (folder / "lnk.yaml").unlink()
    (folder / "1.yaml").rename(folder / "edition")
    (folder / "1.yaml").symlink_to("edition")
    assert open_folder(folder / "1.yaml").editions
