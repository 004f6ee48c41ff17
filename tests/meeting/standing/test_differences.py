from __future__ import annotations

from pathlib import Path

from checker.meeting.session.session import Meeting
from checker.meeting.standing.differences import NotAsDeclared, differences
from checker.meeting.taking.measuring import Finding, measure
from tests.meeting.days import a_meeting, shifted, weighed


def found(meeting: Meeting) -> list[NotAsDeclared]:
    car = meeting.car("7")
    return differences(meeting, car, meeting.judgement(car).inspection.car)


def measured(meeting: Meeting, fact: str, value: str, **more: str) -> None:
    measure(meeting, [Finding("7", fact, value, **more)], "KV")  # type: ignore[arg-type]


def test_what_the_gear_explains_is_no_difference(tmp_path: Path) -> None:
    """A step gauge of 1 mm steps, good to 0.2 mm, explains 0.7 mm; the pads explain 0.75 kg a wheel."""
    with a_meeting(tmp_path) as meeting:
        measured(meeting, "dimensions.ride_height", "90.7 mm")
        weighed(meeting, loads=shifted(front_left=1, rear_right=1))
        assert found(meeting) == []


def test_what_it_does_not_explain_is_listed(tmp_path: Path) -> None:
    with a_meeting(tmp_path) as meeting:
        measured(meeting, "dimensions.ride_height", "90.8 mm")
        measured(meeting, "components.front discs.thickness", "8.8 mm")
        measured(meeting, "body.sound", "no")
        weighed(meeting, loads=shifted(front_left=5))
        assert found(meeting) == [
            NotAsDeclared("weight.total", "590 kg", "595 kg", "3 kg"),
            NotAsDeclared("weight.left", "308 kg", "313 kg", "1.5 kg"),
            NotAsDeclared("weight.front", "296 kg", "301 kg", "1.5 kg"),
            NotAsDeclared("dimensions.ride_height", "90 mm", "90.8 mm", "0.7 mm"),
            NotAsDeclared("body.sound", "true", "false"),
            NotAsDeclared("components.front discs.thickness", "9 mm", "8.8 mm", "0.075 mm"),
        ]


def test_a_gauge_is_held_against_what_is_declared(tmp_path: Path) -> None:
    with a_meeting(tmp_path) as meeting:
        measured(meeting, "dimensions.ride_height", "85 mm", gauge="go")
        measured(meeting, "components.front discs.thickness", "10 mm", gauge="no-go")
        assert found(meeting) == []
        measured(meeting, "dimensions.ride_height", "85 mm", gauge="no-go")
        measured(meeting, "components.front discs.thickness", "10 mm", gauge="go")
        assert found(meeting) == [
            NotAsDeclared("dimensions.ride_height", "90 mm", "below 85 mm (gauge did not go)"),
            NotAsDeclared("components.front discs.thickness", "9 mm", "above 10 mm (gauge went)"),
        ]


def test_what_only_officials_state_is_no_difference(tmp_path: Path) -> None:
    with a_meeting(tmp_path) as meeting:
        measured(meeting, "seals.sump", "SO 8")
        assert found(meeting) == []


def test_a_car_that_was_not_weighed_differs_in_no_weight(tmp_path: Path) -> None:
    with a_meeting(tmp_path) as meeting:
        assert found(meeting) == []
