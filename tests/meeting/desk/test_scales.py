"""The conversation at the scales, key by key."""

from __future__ import annotations

from pathlib import Path

import pytest

from checker.car.described.standard import WHEELS
from checker.meeting.desk.conversation import BACK, BACKWARD, CAR, ENTER, FORWARD, LEAVE, MISTYPED
from checker.meeting.desk.scales import DOUBT, REASON, STATE, VERDICT, ScalesDesk
from checker.meeting.desk.scales import LOADS as WHEELS_ASKED
from checker.meeting.record.car_contents import SCRUTINEERING
from checker.meeting.session.session import Meeting
from checker.meeting.taking.measuring import Finding, measure
from checker.reading.problems import InputError
from tests.meeting.days import LOADS, PROCEDURE, a_meeting, car_text, refused

FOUR = tuple(LOADS.values())


def typed(desk: ScalesDesk, *answers: str) -> None:
    """Answers, each ended with Enter."""
    for answer in answers:
        for character in answer:
            desk.key(character)
        desk.key(ENTER)


def recorded(meeting: Meeting, car: str = "7") -> list[dict[str, str]]:
    return [record.content.loads for record in meeting.car(car).weighings(SCRUTINEERING)]


def test_a_car_is_weighed_pad_by_pad_and_judged_at_once(tmp_path: Path) -> None:
    with a_meeting(tmp_path) as meeting:
        measure(meeting, [Finding("7", "seals.sump", "SO 7")], "KV")
        desk = ScalesDesk(meeting, "tb")
        assert (desk.stage, desk.by) == (CAR, "TB")
        typed(desk, "7")
        assert (desk.stage, desk.car and desk.car.name) == (STATE, "Ruff")
        typed(desk, "6,5")
        assert (desk.stage, desk.wheel, desk.pads_stand) == (WHEELS_ASKED, "front_left", "as marked")
        typed(desk, *FOUR[:3])
        assert (desk.wheel, desk.loads) == ("rear_right", dict(zip(WHEELS, FOUR[:3], strict=False)))
        typed(desk, FOUR[3])
        assert desk.stage == VERDICT
        assert recorded(meeting) == [{wheel: f"{load} kg" for wheel, load in LOADS.items()}]
        assert meeting.car("7").weighings(SCRUTINEERING)[0].content.fuel == "6.5 L"
        assert desk.judgement is not None
        assert desk.judgement.complies == "yes"
        typed(desk, "")
        assert (desk.stage, desk.pads_stand, desk.loads) == (WHEELS_ASKED, "swapped side to side", {})
        typed(desk, *FOUR)
        desk.after_shown()
        assert meeting.day.last_judged(meeting.car("7")) is not None
        typed(desk, "")
        assert (desk.stage, desk.car) == (CAR, None)


def test_backspace_takes_back_a_digit_then_a_pad(tmp_path: Path) -> None:
    with a_meeting(tmp_path) as meeting:
        desk = ScalesDesk(meeting, "TB")
        typed(desk, "7", "6", "155.0", "141.0")
        for character in "153":
            desk.key(character)
        desk.key(BACK)
        assert desk.typed == "15"
        desk.key(BACK)
        desk.key(BACK)
        desk.key(BACK)
        assert (desk.wheel, desk.typed) == ("front_right", "141.0")
        desk.key(BACK)
        typed(desk, "5", "153.0", "141.0")
        assert recorded(meeting)[0]["front_right"] == "141.5 kg"


def test_more_fuel_than_the_tank_holds_is_refused_where_it_is_asked_for(tmp_path: Path) -> None:
    with a_meeting(tmp_path) as meeting:
        desk = ScalesDesk(meeting, "TB")
        typed(desk, "7", "60")
        assert (desk.stage, desk.typed, desk.loads) == (STATE, "60", {})
        (told,) = desk.problems
        assert "60 L on board when weighed is more than the tank holds, 20 L" in told.message
        desk.clear()
        typed(desk, "6", *FOUR)
        assert (desk.stage, len(recorded(meeting))) == (VERDICT, 1)


@pytest.mark.parametrize("key", [BACK, BACKWARD])
def test_from_the_first_wheel_a_key_leads_back_to_the_fuel(tmp_path: Path, key: str) -> None:
    with a_meeting(tmp_path) as meeting:
        desk = ScalesDesk(meeting, "TB")
        typed(desk, "7", "6", *FOUR[:2])
        desk.key(BACKWARD)
        desk.key(BACKWARD)
        if key == BACK:
            desk.clear()
        desk.key(key)
        assert (desk.stage, desk.typed) == (STATE, "6")
        desk.clear()
        typed(desk, "8", "", *FOUR[2:])
        assert meeting.car("7").weighings(SCRUTINEERING)[0].content.fuel == "8 L"
        assert recorded(meeting) == [{wheel: f"{load} kg" for wheel, load in LOADS.items()}]


def test_a_second_weighing_asks_for_no_fuel_and_leads_back_to_none(tmp_path: Path) -> None:
    with a_meeting(tmp_path) as meeting:
        desk = ScalesDesk(meeting, "TB")
        typed(desk, "7", "6", *FOUR, "")
        desk.key(BACK)
        assert desk.stage == CAR


def test_one_key_leads_from_the_verdict_into_a_correction(tmp_path: Path) -> None:
    with a_meeting(tmp_path) as meeting:
        desk = ScalesDesk(meeting, "TB")
        typed(desk, "7", "6", *FOUR)
        first = desk.settled.number if desk.settled else 0
        desk.key(BACK)
        assert (desk.stage, desk.wheel, desk.typed) == (WHEELS_ASKED, "rear_right", "141.0")
        desk.clear()
        typed(desk, "142.0")
        assert desk.stage == VERDICT
        assert recorded(meeting) == [
            {**{w: f"{load} kg" for w, load in LOADS.items()}, "rear_right": "142.0 kg"}
        ]
        content = meeting.car("7").weighings(SCRUTINEERING)[0].content
        assert (content.corrects, content.reason, content.pads) == (first, MISTYPED, "as marked")
        assert desk.weighings == 1


def test_a_correction_of_the_second_weighing_keeps_its_pads(tmp_path: Path) -> None:
    with a_meeting(tmp_path) as meeting:
        desk = ScalesDesk(meeting, "TB")
        typed(desk, "7", "6", *FOUR, "", *FOUR)
        desk.key(BACK)
        assert desk.pads_stand == "swapped side to side"
        desk.clear()
        typed(desk, "142.0")
        assert [r.content.pads for r in meeting.car("7").weighings(SCRUTINEERING)] == [
            "as marked",
            "swapped side to side",
        ]


def test_what_is_no_number_is_not_even_typed_and_what_is_no_load_is_told_at_its_pad(tmp_path: Path) -> None:
    with a_meeting(tmp_path) as meeting:
        desk = ScalesDesk(meeting, "TB")
        typed(desk, "7", "6")
        for character in "1x5\x07":
            desk.key(character)
        assert desk.typed == "15"
        desk.clear()
        typed(desk, "15..5")
        assert desk.problems[0].code == "MT209"
        assert (desk.stage, desk.loads) == (WHEELS_ASKED, {})
        desk.clear()
        typed(desk, "", "123456789")
        assert desk.loads == {"front_left": "123456"}


def test_a_car_that_cannot_be_weighed_is_told_and_asked_for_again(tmp_path: Path) -> None:
    with a_meeting(tmp_path) as meeting:
        desk = ScalesDesk(meeting, "TB")
        typed(desk, "", "71")
        assert (desk.stage, desk.problems[0].code) == (CAR, "MT203")
        desk.key(BACK)
        desk.key(BACK)
        typed(desk, "7")
        assert (desk.stage, desk.problems) == (STATE, ())
        desk.key(BACK)
        assert desk.stage == CAR


def test_a_refused_reading_is_told_and_nothing_typed_is_lost(tmp_path: Path) -> None:
    with a_meeting(tmp_path) as meeting:
        desk = ScalesDesk(meeting, "TB")
        typed(desk, "7", "6", *FOUR[:3], "0")
        assert (desk.stage, desk.problems[0].code) == (WHEELS_ASKED, "RD214")
        assert (list(desk.loads.values()), desk.typed) == ([*FOUR[:3], "0"], "0")
        assert recorded(meeting) == []


def test_what_looks_like_a_slip_is_asked_about_before_it_is_stored(tmp_path: Path) -> None:
    with a_meeting(tmp_path) as meeting:
        desk = ScalesDesk(meeting, "TB")
        typed(desk, "7", "6", "255.0", *FOUR[1:])
        assert (desk.stage, desk.problems[0].code) == (DOUBT, "MT313")
        assert recorded(meeting) == []
        desk.key(BACKWARD)
        assert (desk.stage, desk.wheel) == (WHEELS_ASKED, "rear_right")
        desk.key(FORWARD)
        assert (desk.wheel, desk.typed) == ("front_left", "255.0")
        desk.answer("155.0")
        assert desk.stage == VERDICT
        assert recorded(meeting) == [{wheel: f"{load} kg" for wheel, load in LOADS.items()}]


def test_what_is_said_to_be_right_is_stored_as_read_with_its_doubt(tmp_path: Path) -> None:
    with a_meeting(tmp_path) as meeting:
        desk = ScalesDesk(meeting, "TB")
        typed(desk, "7", "6", "255.0", *FOUR[1:])
        desk.key(ENTER)
        assert (desk.stage, desk.problems[0].code) == (VERDICT, "MT313")
        assert recorded(meeting)[0]["front_left"] == "255.0 kg"


@pytest.mark.parametrize("wheel", WHEELS)
def test_any_wheel_can_be_corrected_alone_after_the_verdict(tmp_path: Path, wheel: str) -> None:
    with a_meeting(tmp_path) as meeting:
        desk = ScalesDesk(meeting, "TB")
        typed(desk, "7", "6", *FOUR)
        desk.key(BACK)
        while desk.wheel != wheel:
            desk.key(BACKWARD)
        wanted = f"{float(LOADS[wheel]) + 1}"
        desk.answer(wanted)
        assert desk.stage == VERDICT
        others = {name: f"{load} kg" for name, load in LOADS.items()}
        assert recorded(meeting) == [{**others, wheel: f"{wanted} kg"}]


def test_what_is_taken_of_the_car_s_state_is_told_and_can_be_changed_by_a_key(tmp_path: Path) -> None:
    with a_meeting(tmp_path) as meeting:
        desk = ScalesDesk(meeting, "TB")
        typed(desk, "7")
        assert desk.state == {"fuel": "", "driver": "out", "tyres": "dry", "wear": "new"}
        desk.key("d")
        desk.key("W")
        typed(desk, "6", *FOUR)
        content = meeting.car("7").weighings(SCRUTINEERING)[0].content
        assert (content.fuel, content.driver, content.tyres, content.wear) == ("6 L", "aboard", "dry", "worn")


def test_that_a_car_may_not_be_weighed_again_is_said_before_it_rolls_on(tmp_path: Path) -> None:
    with a_meeting(tmp_path) as meeting:
        desk = ScalesDesk(meeting, "TB")
        typed(desk, "7", "6", *FOUR, "", *FOUR, "")
        typed(desk, "7")
        assert (desk.stage, desk.problems[0].code) == (CAR, "MT210")
        assert "after a fail only" in desk.problems[0].message


def test_a_car_weighed_before_is_weighed_again_for_a_reason(tmp_path: Path) -> None:
    procedure = PROCEDURE.replace("{when: after a fail, at_most: 1}", "{when: always}")
    with a_meeting(tmp_path, procedure=procedure) as meeting:
        desk = ScalesDesk(meeting, "TB")
        typed(desk, "7", "6", *FOUR, "", *FOUR, "")
        typed(desk, "7")
        assert desk.stage == REASON
        assert not desk.is_doubted
        typed(desk, "", "a stone under a pad", "5", *FOUR)
        assert desk.stage == VERDICT
        assert [len(weighings) for weighings in meeting.car("7").sets(SCRUTINEERING)] == [2, 1]
        typed(desk, "", *FOUR)
        assert [len(weighings) for weighings in meeting.car("7").sets(SCRUTINEERING)] == [2, 2]


def test_where_the_procedure_names_incidents_the_desk_asks_what_happened_before_the_car_rolls_on(
    tmp_path: Path,
) -> None:
    """After an incident a car that does not fail may be weighed again; for any other reason it may not."""
    reweigh = "{when: after a fail, at_most: 1, incidents: [contact on track]}"
    procedure = PROCEDURE.replace("{when: after a fail, at_most: 1}", reweigh)
    with a_meeting(tmp_path, procedure=procedure) as meeting:
        desk = ScalesDesk(meeting, "TB")
        typed(desk, "7", "6", *FOUR, "", *FOUR, "")
        typed(desk, "7")
        assert (desk.stage, desk.problems) == (REASON, ())
        typed(desk, "it rained")
        assert (desk.stage, desk.problems[0].code) == (REASON, "MT210")
        assert "after a fail only" in desk.problems[0].message
        assert "contact on track" in desk.problems[0].hint
        desk.clear()
        typed(desk, "Contact on track", "5", *FOUR)
        assert desk.stage == VERDICT
        assert [len(weighings) for weighings in meeting.car("7").sets(SCRUTINEERING)] == [2, 1]


def test_a_half_weighed_car_goes_on_where_it_stood(tmp_path: Path) -> None:
    with a_meeting(tmp_path) as meeting, Meeting.open(tmp_path / "day.meeting") as other:
        first, second = ScalesDesk(meeting, "TB"), ScalesDesk(other, "KV")
        typed(first, "7", "6", *FOUR)
        typed(second, "7")
        assert (second.stage, second.weighings, second.pads_stand) == (
            WHEELS_ASKED,
            1,
            "swapped side to side",
        )
        typed(second, *FOUR)
        assert len(recorded(other)) == 2


def test_the_desk_asks_before_it_is_left_from_anywhere(tmp_path: Path) -> None:
    with a_meeting(tmp_path) as meeting:
        for answers in ((), ("7",), ("7", "6"), ("7", "6", "155.0", "141")):
            desk = ScalesDesk(meeting, "TB")
            typed(desk, *answers)
            before = (desk.stage, dict(desk.loads), desk.typed)
            desk.key(LEAVE)
            desk.key("5")
            assert (desk.left, desk.stage, desk.loads, desk.typed) == (False, *before)
            desk.key(LEAVE)
            desk.key(ENTER)
            assert desk.left


def test_a_stranger_has_no_desk(tmp_path: Path) -> None:
    with a_meeting(tmp_path) as meeting, pytest.raises(InputError) as error:
        ScalesDesk(meeting, "XX")
    assert refused(error) == "MT202"


def test_a_title_of_a_car_is_never_control_code(tmp_path: Path) -> None:
    from checker.report.desk.screen import desk_screen
    from checker.report.page import Page

    with a_meeting(tmp_path, {"7": car_text(name='"Ruff\\u001b[31m"')}) as meeting:
        desk = ScalesDesk(meeting, "TB")
        typed(desk, "7")
        page = Page(80)
        desk_screen(desk, page)
        assert "\x1b" not in page.text()
