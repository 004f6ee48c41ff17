from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from checker.meeting.record.car_contents import (
    SCRUTINEERING,
    Noted,
)
from checker.meeting.record.contents import Carried
from checker.meeting.record.rows import digest_of
from checker.meeting.tables.given import GivenFile
from checker.meeting.taking.carrying import carry
from checker.meeting.taking.measuring import announce, note
from checker.reading.problems import InputError
from tests.meeting.days import a_meeting, car_text, refused

CARS = {number: car_text(number, f"Bird {number}") for number in ("7", "8", "9")}


def defect(car: str, text: str, state: str, **more: object) -> Noted:
    return Noted(car, SCRUTINEERING, "defect", text, state=state, **more)  # type: ignore[arg-type]


def before(tmp_path: Path) -> Path:
    """The meeting before: an open defect and a mended one, a broken seal, and ballast due."""
    folder = tmp_path / "before"
    folder.mkdir()
    with a_meeting(folder, CARS) as meeting:
        note(
            meeting,
            [
                defect("7", "crack in the stub axle", "open"),
                defect("8", "loose mirror", "open"),
                Noted("8", SCRUTINEERING, "seal", "SO 8", part="sump", state="broken"),
                Noted("9", SCRUTINEERING, "seal", "SO 9", part="sump", state="intact"),
                Noted("9", SCRUTINEERING, "remark", "spoken to"),
            ],
            "KV",
        )
        note(meeting, [defect("8", "loose mirror", "mended")], "KV")
        announce(meeting, "results.carried", "5 kg", "KV", car="7")
        announce(meeting, "results.place", "winner", "KV", car="7")
    return folder / "day.meeting"


def results(tmp_path: Path, text: str = "car,place\n9,1\n7,2\n44,3\n") -> GivenFile:
    file = tmp_path / "results.csv"
    file.write_text(text)
    return GivenFile.read(file)


def test_open_defects_and_broken_seals_follow_the_car(tmp_path: Path) -> None:
    with a_meeting(
        tmp_path, {**CARS, "7": car_text("7", "Bird 7")}, name="next.meeting", on="2026-05-24"
    ) as meeting:
        taken = carry(meeting, "KV", before=str(before(tmp_path)))
        notes = {car.number: [r.content for r in car.of(Noted)] for car in meeting.day.cars.values()}
        assert [(n.topic, n.text, n.state, n.carried) for n in notes["7"]] == [
            ("defect", "crack in the stub axle (since 2026-05-03)", "open", True)
        ]
        assert [(n.topic, n.part, n.state) for n in notes["8"]] == [("seal", "sump", "broken")]
        assert notes["9"] == []
        assert len(taken.notes) == 2


def test_a_copy_of_the_same_meeting_is_not_the_meeting_before(tmp_path: Path) -> None:
    with a_meeting(tmp_path) as meeting:
        copy = tmp_path / "copy.meeting"
        shutil.copy(tmp_path / "day.meeting", copy)
        for file in (copy, tmp_path / "day.meeting"):
            with pytest.raises(InputError) as error:
                carry(meeting, "KV", before=str(file))
            assert refused(error) == "MT213"


def test_a_defect_carried_twice_keeps_its_first_day(tmp_path: Path) -> None:
    with a_meeting(tmp_path, CARS, name="second.meeting", on="2026-05-24") as meeting:
        carry(meeting, "KV", before=str(before(tmp_path)))
    with a_meeting(tmp_path, CARS, name="third.meeting", on="2026-06-07") as meeting:
        taken = carry(meeting, "KV", before=str(tmp_path / "second.meeting"))
        assert taken.notes[0].text == "crack in the stub axle (since 2026-05-03)"


def test_places_and_what_was_due_become_the_organiser_s_facts(tmp_path: Path) -> None:
    with a_meeting(tmp_path, CARS, name="next.meeting", on="2026-05-24") as meeting:
        file = results(tmp_path)
        old = before(tmp_path)
        taken = carry(meeting, "KV", before=str(old), results=file)
        assert [(a.fact, a.value, a.car) for a in taken.announced] == [
            ("results.place", "lower", "7"),
            ("results.carried", "9 kg", "7"),
            ("results.place", "winner", "9"),
        ]
        assert taken.not_entered == ("44",)
        head = meeting.day.carried[0].content
        assert head == Carried("2026-05-03", head.hash, digest_of(file.data))
        margins = meeting.judgement(meeting.car("7")).as_content("x").margins
        assert margins["8"] == "0 kg"


def test_results_alone_will_do(tmp_path: Path) -> None:
    with a_meeting(tmp_path, CARS) as meeting:
        taken = carry(meeting, "KV", results=results(tmp_path))
        assert {(a.car, a.value) for a in taken.announced} == {("7", "lower"), ("9", "winner")}


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("car,place\n9,first\n", "MT252"),
        ("car,place\n9,0\n", "MT252"),
        ("car,place\n,1\n", "MT252"),
        ("car,place\n9,1\n9,2\n", "MT252"),
        ("car,place\n9,1\n7,1\n", "MT252"),
        ("car,rank\n9,1\n", "MT303"),
        ("car,place\n9,=1\n", "MT304"),
    ],
)
def test_results_that_cannot_be_are_told(tmp_path: Path, text: str, code: str) -> None:
    with a_meeting(tmp_path, CARS) as meeting:
        number = meeting.day.number
        with pytest.raises(InputError) as error:
            carry(meeting, "KV", results=results(tmp_path, text))
        assert refused(error) == code
        assert meeting.day.number == number


def test_without_anything_to_take_over_or_a_word_on_success_it_is_told(tmp_path: Path) -> None:
    with a_meeting(tmp_path, CARS) as meeting, pytest.raises(InputError) as error:
        carry(meeting, "KV")
    assert refused(error) == "MT213"
    with a_meeting(tmp_path, CARS, name="bare.meeting", procedure="procedure: plover\n") as meeting:
        (tmp_path / "plover" / "procedure.yaml").unlink()
        with pytest.raises(InputError) as error:
            carry(meeting, "KV", results=results(tmp_path))
        assert refused(error) == "MT250"
