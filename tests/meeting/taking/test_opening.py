from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from checker.meeting.session.session import Meeting
from checker.meeting.standing.verifying import verify
from checker.meeting.taking.opening import Opening, open_meeting, sign_on
from checker.reading.problems import InputError
from tests.conftest import ROOT
from tests.meeting.days import DAY, PACK, PROCEDURE, a_meeting, pack_folder, refused, weighed
from tests.meeting.records import ToldClock

OTHER = PACK.replace('edition: "1"', 'edition: "0"').replace(
    "from: 2026-01-01", "from: 2025-01-01, until: 2025-12-31"
)
OTHER = OTHER.replace('"3": {title: Ride height', '"33": {title: Ride height')


def opened_on(tmp_path: Path, on: str, *procedures: str) -> Meeting:
    """A meeting by a pack whose older edition has another clause in place of 3, with these procedures beside it."""
    folder = pack_folder(tmp_path, procedure=None)
    (folder / "0.yaml").write_text(OTHER)
    for at, text in enumerate(procedures):
        (folder / f"{at}.procedure.yaml").write_text(text)
    return open_meeting(tmp_path / f"{on}.meeting", Opening(str(folder), on, ("KV",)), ToldClock())


NEW = PROCEDURE.replace("procedure: plover", 'procedure: plover\neditions: ["1"]')
OLD = NEW.replace('editions: ["1"]', 'editions: ["0", "00"]').replace('["3", "4"]', '["33", "4"]')


def test_each_edition_has_its_own_procedure(tmp_path: Path) -> None:
    for on, clauses in (("2025-06-01", ("33", "4")), ("2026-06-01", ("3", "4"))):
        with opened_on(tmp_path, on, NEW, OLD) as meeting:
            assert meeting.procedure.steps[-1].clauses == clauses
        assert verify(tmp_path / f"{on}.meeting").sound


@pytest.mark.parametrize(
    ("procedures", "told"),
    [
        ((NEW,), "this procedure is for editions 1; the pack's edition is 0"),
        ((NEW, NEW), "no procedure beside the pack is for edition 0"),
        ((OLD, OLD), "2 of the procedures beside the pack are for edition 0"),
        ((OLD, PROCEDURE), "2 of the procedures beside the pack are for edition 0"),
        ((PROCEDURE,), "the pack has no clause 3"),
        ((OLD.replace('"00"', "00"),), "editions[1] holds the number 00; text was wanted"),
    ],
)
def test_a_day_is_not_opened_with_a_procedure_of_another_edition(
    tmp_path: Path, procedures: tuple[str, ...], told: str
) -> None:
    with pytest.raises(InputError) as error:
        opened_on(tmp_path, "2025-06-01", *procedures)
    assert refused(error) == "MT250"
    assert told in " ".join(problem.message for problem in error.value.problems)


def test_a_day_under_the_older_edition_of_the_club_s_pack_is_opened(tmp_path: Path) -> None:
    opening = Opening(str(ROOT / "rulepacks" / "dunlin"), "2025-06-01", ("KV",))
    with open_meeting(tmp_path / "day.meeting", opening) as meeting:
        assert meeting.day.opened.content.edition == "2025.1"
        assert meeting.procedure.weighings == 2


def test_the_pack_is_frozen_and_its_folder_no_longer_matters(tmp_path: Path) -> None:
    with a_meeting(tmp_path) as meeting:
        weighed(meeting)
        before = meeting.judgement(meeting.car("7")).as_content("x")
    shutil.rmtree(tmp_path / "plover")
    with Meeting.open(tmp_path / "day.meeting") as meeting:
        assert meeting.judgement(meeting.car("7")).as_content("x").outcomes == before.outcomes
        assert meeting.pack.sha256 == meeting.day.opened.content.pack_sha256
        assert meeting.procedure.weighings == 2


def test_word_lists_in_folders_below_are_frozen_too(tmp_path: Path) -> None:
    pack = PACK.replace(
        "materials: {steel: []}", "materials: {steel: [], exotic: {words_from: lists/exotic.yaml}}"
    )
    folder = pack_folder(tmp_path, pack)
    (folder / "lists").mkdir()
    (folder / "lists" / "exotic.yaml").write_text("- beryllium\n")
    (folder / "2025.yaml").write_text(PACK.replace("from: 2026-01-01", "from: 2025-01-01, until: 2025-12-31"))
    with open_meeting(tmp_path / "day.meeting", Opening(str(folder), DAY, ("KV",))) as meeting:
        assert set(meeting.day.opened.content.pack_files) == {"1.yaml", "2025.yaml", "lists/exotic.yaml"}
        shutil.rmtree(folder)
        assert meeting.pack.edition == "1"
        assert meeting.pack.vocabulary.materials.canonical("beryllium") == "beryllium"


def test_a_clause_is_told_by_its_file_s_name_in_the_pack(tmp_path: Path) -> None:
    with a_meeting(tmp_path) as meeting:
        span = meeting.pack.clauses["1"].span
        assert span is not None
        assert span.file == "pack/1.yaml"


def test_a_single_file_will_do_whatever_its_name_ends_in(tmp_path: Path) -> None:
    file = tmp_path / "rules.txt"
    file.write_text(PACK)
    with open_meeting(tmp_path / "day.meeting", Opening(str(file), DAY, ("KV",))) as meeting:
        assert meeting.pack.name == "plover"
        assert meeting.procedure.weighings == 1


def test_a_pack_is_found_by_the_name_of_its_formula(tmp_path: Path) -> None:
    with open_meeting(tmp_path / "day.meeting", Opening("dunlin", "2026-05-24", ("KV",))) as meeting:
        assert meeting.pack.name == "dunlin"
        assert meeting.procedure.weighings == 2
        assert meeting.procedure.steps


@pytest.mark.parametrize(
    ("opening", "code"),
    [
        (Opening("plover", "3 May 2026", ("KV",)), "MT213"),
        (Opening("plover", DAY, ()), "MT213"),
        (Opening("plover", DAY, (" ",)), "MT213"),
        (Opening("plover", DAY, ("KV", "kv")), "MT213"),
        (Opening("plover", "2020-05-03", ("KV",)), "PK620"),
        (Opening("no such pack", DAY, ("KV",)), "PK110"),
        (Opening("plover", DAY, ("KV",), procedure="none.yaml"), "MT110"),
        (Opening("plover", DAY, ("KV",), gear="none.yaml"), "GR110"),
    ],
)
def test_a_meeting_that_cannot_be_opened_leaves_no_file(tmp_path: Path, opening: Opening, code: str) -> None:
    folder = pack_folder(tmp_path)
    if opening.pack == "plover":
        opening = Opening(
            str(folder), *[getattr(opening, n) for n in ("on", "officials", "title", "gear", "procedure")]
        )
    with pytest.raises(InputError) as error:
        open_meeting(tmp_path / "day.meeting", opening)
    assert refused(error) == code
    assert not (tmp_path / "day.meeting").exists()


def test_a_procedure_of_another_formula_is_refused(tmp_path: Path) -> None:
    file = tmp_path / "p.yaml"
    file.write_text(PROCEDURE.replace("procedure: plover", "procedure: dunlin"))
    opening = Opening(str(pack_folder(tmp_path)), DAY, ("KV",), procedure=str(file))
    with pytest.raises(InputError) as error:
        open_meeting(tmp_path / "day.meeting", opening)
    assert refused(error) == "MT250"


def test_two_records_are_never_alike(tmp_path: Path) -> None:
    folder = str(pack_folder(tmp_path))
    with (
        open_meeting(tmp_path / "a.meeting", Opening(folder, DAY, ("KV",))) as one,
        open_meeting(tmp_path / "b.meeting", Opening(folder, DAY, ("KV",))) as two,
    ):
        assert one.day.hash != two.day.hash


def test_an_official_signs_by_initials_whatever_their_case(tmp_path: Path) -> None:
    with a_meeting(tmp_path) as meeting:
        assert meeting.official("tb") == "TB"
        for by, word in (("TX", "no official signs as 'TX'"), ("", "which official")):
            with pytest.raises(InputError) as error:
                meeting.official(by)
            assert refused(error) == "MT202"
            assert word in error.value.problems[0].message
    folder = str(pack_folder(tmp_path))
    with open_meeting(tmp_path / "one.meeting", Opening(folder, DAY, ("KV",))) as meeting:
        assert meeting.official("") == "KV"


def test_an_official_may_join_later(tmp_path: Path) -> None:
    with a_meeting(tmp_path) as meeting:
        sign_on(meeting, " AL ", "KV")
        assert meeting.day.officials == ["KV", "TB", "AL"]
        assert meeting.official("al") == "AL"
        for initials in ("al", " "):
            with pytest.raises(InputError) as error:
                sign_on(meeting, initials, "KV")
            assert refused(error) == "MT213"
