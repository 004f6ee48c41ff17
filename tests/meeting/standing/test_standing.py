from __future__ import annotations

from pathlib import Path

from checker.meeting.record.car_contents import (
    SCRUTINEERING,
    Noted,
)
from checker.meeting.session.gear import checked, doubts
from checker.meeting.session.session import Meeting
from checker.meeting.standing.standing import Standing, standings
from checker.meeting.taking.entering import withdraw
from checker.meeting.taking.measuring import Finding, measure, note
from tests.meeting.days import PROCEDURE, a_meeting, car_text, shifted, weighed


def only(meeting: Meeting) -> Standing:
    (found,) = standings(meeting)
    return found


def test_a_car_goes_through_its_day_step_by_step(tmp_path: Path) -> None:
    with a_meeting(tmp_path) as meeting:
        seen: list[tuple[str, str]] = []

        def look() -> None:
            found = only(meeting)
            seen.append((found.status, found.next_step))

        look()
        measure(meeting, [Finding("7", "seals.sump", "SO 7")], "KV")
        look()
        weighed(meeting)
        look()
        weighed(meeting)
        look()
        meeting.judge_and_record(meeting.car("7"), "KV")
        look()
        measure(meeting, [Finding("7", "engine.inlet_bore", "36.0 mm", gauge="no-go")], "KV")
        look()
        note(meeting, [Noted("7", SCRUTINEERING, "seen", "", clause="3")], "KV")
        meeting.judge_and_record(meeting.car("7"), "KV")
        look()
        assert seen == [
            ("waits", "papers: clause 5"),
            ("waits", "scales: weighing 1 of 2"),
            ("on the scales", "scales: weighing 2 of 2, pads swapped side to side"),
            ("to be judged", "gauges: clauses 3, 4"),
            ("complies", "gauges: clauses 3, 4"),
            ("to be judged", "gauges: clause 3"),
            ("complies", ""),
        ]


def test_a_car_weighed_on_a_bad_pad_is_in_doubt_until_it_is_weighed_again(tmp_path: Path) -> None:
    with a_meeting(tmp_path) as meeting:
        weighed(meeting)
        weighed(meeting)
        meeting.judge_and_record(meeting.car("7"), "KV")
        bad = checked(meeting.gear["pads"], "rear_left", "20", "14")
        good = checked(meeting.gear["pads"], "rear_left", "20", "20")
        meeting.record("TB", lambda _: [bad, good])
        assert doubts(meeting.day)
        assert (only(meeting).status, only(meeting).next_step) == (
            "in doubt",
            "weigh again: pads failed a check",
        )
        weighed(meeting, again="pad")
        weighed(meeting)
        meeting.judge_and_record(meeting.car("7"), "KV")
        assert only(meeting).status == "unsettled"


def test_a_failing_car_shows_its_clauses_and_margins(tmp_path: Path) -> None:
    with a_meeting(tmp_path) as meeting:
        weighed(meeting, loads=shifted(front_left=-12))
        weighed(meeting, loads=shifted(front_left=-13))
        measure(meeting, [Finding("7", "dimensions.ride_height", "80 mm")], "KV")
        meeting.judge_and_record(meeting.car("7"), "KV")
        found = only(meeting)
        assert (found.failing, dict(found.margins)) == (("1", "3"), {"1": "-5/2 kg", "3": "-5 mm"})


def test_after_a_race_the_weighing_of_that_occasion_is_what_counts(tmp_path: Path) -> None:
    procedure = PROCEDURE.replace("after_race: {weighings: 1", "after_race: {weighings: 2")
    with a_meeting(tmp_path, procedure=procedure) as meeting:
        weighed(meeting)
        weighed(meeting, occasion="after the final", fuel="1 L")
        found = only(meeting)
        assert (found.occasion, found.weighings, found.due) == ("after the final", 1, 2)
        assert found.next_step == "weigh (after the final)"


def test_a_withdrawn_car_has_nothing_to_do(tmp_path: Path) -> None:
    with a_meeting(tmp_path) as meeting:
        withdraw(meeting, "7", "engine", "KV")
        assert (only(meeting).status, only(meeting).next_step) == ("withdrawn", "")


def test_without_steps_the_weighings_are_the_only_step(tmp_path: Path) -> None:
    with a_meeting(tmp_path, {"7": car_text()}, procedure=None) as meeting:
        assert only(meeting).next_step == "weighing 1 of 1"
        weighed(meeting)
        assert only(meeting).next_step == ""
