from __future__ import annotations

from pathlib import Path

import pytest

from checker.meeting.record.car_contents import (
    SCRUTINEERING,
    Noted,
)
from checker.meeting.taking.measuring import Finding, announce, measure, note
from checker.reading.problems import InputError
from tests.meeting.days import a_meeting, refused


def noted(topic: str, text: str = "words", **more: str) -> Noted:
    return Noted("7", SCRUTINEERING, topic, text, **more)  # type: ignore[arg-type]


def test_several_facts_are_recorded_in_one_go_or_none_is(tmp_path: Path) -> None:
    with a_meeting(tmp_path) as meeting:
        good = Finding("7", "seals.sump", " SO  7 ")
        with pytest.raises(InputError) as error:
            measure(meeting, [good, Finding("7", "dimensions.ride_height", "9 m")], "KV")
        assert refused(error) == "RD208"
        assert error.value.problems[0].span is None
        assert meeting.day.number == 2
        measure(meeting, [good, Finding("7", "dimensions.ride_height", "90 mm")], "KV")
        assert {fact: r.content.value for fact, r in meeting.car("7").facts().items()} == {
            "seals.sump": "SO 7",
            "dimensions.ride_height": "90 mm",
        }


@pytest.mark.parametrize(
    ("fact", "value", "code"),
    [
        ("dimensions.ride_hight", "90 mm", "MT208"),
        ("dimensions.ride_height", "90", "RD203"),
        ("dimensions.ride_height", "", "MT209"),
        ("body.sound", "maybe", "RD210"),
        ("components.front discs.width", "9 mm", "MT208"),
        ("components.rear discs.thickness", "9 mm", "MT208"),
        ("parts.front discs.thickness", "9 mm", "MT208"),
        ("components", "9 mm", "MT208"),
        ("event.wet", "yes", "MT208"),
        ("weighing.fuel", "9 L", "MT208"),
        ("car.number", "8", "MT208"),
    ],
)
def test_what_cannot_be_measured_so_is_told(tmp_path: Path, fact: str, value: str, code: str) -> None:
    with a_meeting(tmp_path) as meeting:
        with pytest.raises(InputError) as error:
            measure(meeting, [Finding("7", fact, value)], "KV")
        assert refused(error) == code
        assert meeting.day.number == 2


def test_a_part_is_named_as_in_the_declaration_whatever_its_case(tmp_path: Path) -> None:
    with a_meeting(tmp_path) as meeting:
        measure(meeting, [Finding("7", "components.Front  Discs.thickness", "8.5 mm")], "KV")
        assert list(meeting.car("7").facts()) == ["components.front discs.thickness"]
        measure(meeting, [Finding("7", "components.stay.thickness", "2 mm")], "KV")


def test_a_part_found_on_the_car_is_stated_as_a_new_one(tmp_path: Path) -> None:
    with a_meeting(tmp_path) as meeting:
        found = [
            Finding("7", "components.rear discs.category", "brakes/disc", new_entry=True),
            Finding("7", "components.rear discs.thickness", "7 mm", new_entry=True),
        ]
        measure(meeting, found, "KV")
        outcome = next(
            o for o in meeting.judgement(meeting.car("7")).inspection.outcomes if o.clause.number == "6"
        )
        assert (outcome.outcome, outcome.assessment.item) == ("fail", "rear discs")


@pytest.mark.parametrize(
    ("fact", "size", "result", "code"),
    [
        ("dimensions.ride_height", "85 mm", "went", "MT209"),
        ("dimensions.ride_height", "85", "go", "MT209"),
        ("dimensions.ride_height", "85 kg", "go", "MT209"),
        ("seals.sump", "85 mm", "go", "MT208"),
        ("body.sound", "85 mm", "no-go", "MT208"),
    ],
)
def test_a_gauge_that_tells_nothing_is_refused(
    tmp_path: Path, fact: str, size: str, result: str, code: str
) -> None:
    with a_meeting(tmp_path) as meeting, pytest.raises(InputError) as error:
        measure(meeting, [Finding("7", fact, size, gauge=result)], "KV")
    assert refused(error) == code


def test_other_gear_may_be_named_with_a_measurement(tmp_path: Path) -> None:
    with a_meeting(tmp_path) as meeting:
        measure(meeting, [Finding("7", "dimensions.ride_height", "86 mm", gear="Caliper")], "KV")
        car = meeting.judgement(meeting.car("7")).inspection.car
        assert car.facts["dimensions.ride_height"].instrument == "caliper"
        with pytest.raises(InputError):
            measure(meeting, [Finding("7", "dimensions.ride_height", "86 mm", gear="ruler")], "KV")


def test_a_measurement_is_corrected_by_a_new_one_of_the_same_fact(tmp_path: Path) -> None:
    with a_meeting(tmp_path) as meeting:
        (first,) = measure(meeting, [Finding("7", "dimensions.ride_height", "68 mm")], "KV")
        with pytest.raises(InputError) as error:
            measure(meeting, [Finding("7", "seals.sump", "SO 7", corrects=first, reason="slip")], "KV")
        assert refused(error) == "MT207"
        measure(
            meeting,
            [Finding("7", "dimensions.ride_height", "86 mm", corrects=first, reason="digits turned")],
            "KV",
        )
        assert meeting.car("7").facts()["dimensions.ride_height"].content.value == "86 mm"
        assert len(meeting.car("7").records) == 1


@pytest.mark.parametrize(
    ("fact", "value", "code"),
    [
        ("event.wet", "perhaps", "RD210"),
        ("event.wett", "yes", "MT208"),
        ("seals.sump", "SO 7", "MT208"),
        ("dimensions.ride_height", "90 mm", "MT208"),
    ],
)
def test_only_what_is_the_organiser_s_is_announced(tmp_path: Path, fact: str, value: str, code: str) -> None:
    with a_meeting(tmp_path) as meeting:
        with pytest.raises(InputError) as error:
            announce(meeting, fact, value, "KV")
        assert refused(error) == code
        assert meeting.day.number == 2


@pytest.mark.parametrize(
    ("content", "code"),
    [
        (noted("seen"), "MT212"),
        (noted("seen", clause="99"), "MT212"),
        (noted("sighted", clause="1"), "MT209"),
        (noted("defect", " ", state="open"), "MT209"),
        (noted("defect", state="bad"), "MT209"),
        (noted("seal", state="fitted"), "MT209"),
        (noted("seal", part="sump", state="lost"), "MT209"),
        (noted("lost", part="front wing"), "MT208"),
        (noted("remark", state="open"), "MT209"),
    ],
)
def test_a_note_that_says_too_little_is_refused(tmp_path: Path, content: Noted, code: str) -> None:
    with a_meeting(tmp_path) as meeting:
        with pytest.raises(InputError) as error:
            note(meeting, [content], "KV")
        assert refused(error) == code
        assert meeting.day.number == 2


def test_notes_are_kept_and_corrected(tmp_path: Path) -> None:
    with a_meeting(tmp_path) as meeting:
        numbers = note(
            meeting,
            [
                noted("seen", "", clause="7"),
                noted("defect", "crack in the  left stub axle", state="open"),
                noted("seal", "SO 7", part="sump", state="intact"),
                noted("sample", "bottle 12, seal 4401"),
                noted("lost", "", part="stay"),
                noted("remark", "entrant spoken to"),
            ],
            "KV",
        )
        assert meeting.car("7").seen() == {"7"}
        fixed = Noted(
            "7",
            SCRUTINEERING,
            "defect",
            "crack welded",
            state="mended",
            corrects=numbers[1],
            reason="shown again",
        )
        note(meeting, [fixed], "KV")
        notes = [record.content for record in meeting.car("7").of(Noted)]
        assert [(n.topic, n.state) for n in notes][:2] == [("seen", ""), ("defect", "mended")]
        with pytest.raises(InputError):
            note(meeting, [Noted("7", SCRUTINEERING, "remark", "x", corrects=1, reason="no")], "KV")
