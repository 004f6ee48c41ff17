"""Weighings are compared before they are averaged: those that do not go together settle nothing."""

from __future__ import annotations

from pathlib import Path

import pytest

from checker.meeting.record.car_contents import SCRUTINEERING
from checker.meeting.session.session import Meeting
from checker.meeting.standing.standing import COMPLIES, UNSETTLED, standings
from checker.meeting.standing.verifying import verify
from checker.meeting.taking.correcting import strike
from checker.meeting.taking.measuring import Finding, measure
from checker.meeting.taking.weighing import Settled
from checker.reading.problems import InputError
from checker.report.meeting.board import board_text, results_text
from checker.report.meeting.document import meeting_document, results_document, slip_document
from checker.report.meeting.slip import slip_text
from checker.report.page import Page
from tests.meeting.days import PROCEDURE, a_meeting, refused, shifted, weighed

AS_MARKED = PROCEDURE.replace("pads: swapped side to side", "pads: as marked")


@pytest.fixture
def meeting(tmp_path: Path) -> Meeting:
    found = a_meeting(tmp_path, procedure=AS_MARKED)
    measure(found, [Finding("7", "seals.sump", "SO 7")], "KV")
    return found


def twice(meeting: Meeting, *, less: float, more: float = 0) -> tuple[Settled, Settled]:
    """Two weighings, so many kilograms lighter and heavier than the 590 kg of the declaration."""
    found = weighed(meeting, loads=shifted(rear_left=-less)), weighed(meeting, loads=shifted(rear_left=more))
    meeting.judge_and_record(meeting.car("7"), "TB")
    return found


def status(meeting: Meeting) -> str:
    return standings(meeting)[0].status


def test_a_second_weighing_that_differs_turns_no_fail_into_a_pass(meeting: Meeting) -> None:
    """570 kg fails the 580 kg; with 592 kg after it the mean would pass."""
    twice(meeting, less=20, more=2)
    judged = meeting.car("7").judged[-1].content
    assert (judged.complies, judged.outcomes["1"], judged.outcomes["2"]) == ("open", "not_shown", "not_shown")
    assert judged.outcomes["3"] == "pass"
    assert "the weighings differ: total 570 kg and 592 kg, and measuring error explains 3 kg" in judged.doubt
    assert status(meeting) == UNSETTLED


@pytest.mark.parametrize(("less", "goes_together"), [(3.0, True), (3.5, False)])
def test_what_the_gear_explains_is_averaged_as_before(
    meeting: Meeting, less: float, goes_together: bool
) -> None:
    """Four pads that may each be out by 0.75 kg explain 3 kg of a total, spread over the car."""
    loads = shifted(front_left=-less / 4, front_right=-less / 4, rear_left=-less / 4, rear_right=-less / 4)
    weighed(meeting)
    weighed(meeting, loads=loads)
    assert (meeting.judgement(meeting.car("7")).open_because == ()) is goes_together


def test_it_says_so_everywhere(meeting: Meeting) -> None:
    twice(meeting, less=20)
    words = "the weighings differ: total 570 kg and 590 kg"
    judgement = meeting.judgement(meeting.car("7"))
    slip = slip_document(meeting, meeting.car("7"), judgement, [], [])
    pages = [Page(100) for _ in range(3)]
    board_text(meeting_document(meeting), pages[0])
    results_text(results_document(meeting, meeting.day.number), pages[1])
    slip_text(slip, pages[2])
    for page in pages:
        assert words[:24] in " ".join(page.text().split())
    assert {p.code for p in judgement.doubts} == {"MT314"}


@pytest.mark.parametrize("how", ["weigh again", "strike", "correct"])
def test_it_is_settled_by_weighing_again_by_striking_or_by_correcting(meeting: Meeting, how: str) -> None:
    first, _ = twice(meeting, less=20)
    if how == "weigh again":  # though the procedure allows it after a fail only, and it uses nothing up
        weighed(meeting, again="the weighings differ")
        weighed(meeting)
    elif how == "strike":
        strike(meeting, first.number, "a jack was left under it", "TB")
        weighed(meeting)
    else:
        weighed(meeting, corrects=first.number, reason="a digit was misread")  # type: ignore[arg-type]
    meeting.judge_and_record(meeting.car("7"), "TB")
    assert status(meeting) == COMPLIES
    assert verify(meeting.store.path).sound


def exchanged() -> dict[str, str]:
    return {"front_left": "141.0", "front_right": "155.0", "rear_left": "141.0", "rear_right": "153.0"}


def test_sides_that_look_exchanged_leave_the_car_open_until_somebody_has_looked(meeting: Meeting) -> None:
    first = weighed(meeting, loads=exchanged())
    weighed(meeting, loads=exchanged())
    (reason,) = meeting.judgement(meeting.car("7")).open_because
    assert f"in entry {first.number} the numbers look as if left and right were exchanged" in reason.told()
    weighed(
        meeting,
        loads=exchanged(),
        corrects=first.number,  # type: ignore[arg-type]
        reason="looked",
        confirmed="the seat is on the right",
    )
    assert meeting.judgement(meeting.car("7")).open_because == ()


def test_pads_that_disagree_under_the_same_wheels_settle_nothing(tmp_path: Path) -> None:
    with a_meeting(tmp_path) as meeting:
        weighed(meeting)
        weighed(meeting, loads=shifted(front_left=-4, front_right=4, rear_left=0, rear_right=0))
        reasons = meeting.judgement(meeting.car("7")).open_because
    assert any("out of order" in reason.told() for reason in reasons)


def test_an_incident_that_the_procedure_names_is_a_reason_to_weigh_again(tmp_path: Path) -> None:
    procedure = AS_MARKED.replace("at_most: 1}", 'at_most: 1, incidents: ["wheels not chocked"]}')
    with a_meeting(tmp_path, procedure=procedure) as meeting:
        for _ in range(2):
            weighed(meeting)
        with pytest.raises(InputError) as error:
            weighed(meeting, again="I feel like it")
        assert refused(error) == "MT210"
        assert "wheels not chocked" in error.value.problems[0].hint
        for _ in range(2):  # it uses up nobody's re-weighing
            weighed(meeting, again="Wheels not chocked")
            weighed(meeting)
        assert len(meeting.car("7").sets(SCRUTINEERING)) == 3


def test_an_older_record_is_judged_by_the_rules_that_it_was_made_by(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("checker.meeting.taking.opening.RULES", 0)
    with a_meeting(tmp_path, procedure=AS_MARKED) as meeting:
        twice(meeting, less=20, more=2)
        judged = meeting.car("7").judged[-1].content
        assert (judged.outcomes["1"], judged.doubt) == ("pass", "")
    assert verify(tmp_path / "day.meeting").sound
