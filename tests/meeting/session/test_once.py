"""A form's one-time number is kept in the record, so that what is sent twice is entered once."""

from __future__ import annotations

from pathlib import Path

import pytest

from checker.meeting.record.contents import GearChecked
from checker.meeting.session.gear import named_gear
from checker.meeting.session.named import entered_with
from checker.meeting.session.session import Meeting
from checker.meeting.standing.verifying import verify
from checker.meeting.taking.checking import check_pads
from checker.meeting.taking.measuring import Finding, measure
from checker.reading.problems import InputError
from tests.meeting.days import LOADS, a_meeting, refused, weighed

ONCE = "0123456789abcdef" * 2


def test_the_number_stays_with_the_first_entry_and_survives(tmp_path: Path) -> None:
    with a_meeting(tmp_path) as meeting:
        meeting.once = ONCE
        checks = check_pads(meeting, named_gear(meeting.gear, "pads"), "0", dict.fromkeys(LOADS, "0.0"), "TB")
        number = entered_with(meeting.day, ONCE)
        assert number == meeting.day.number - 3
        assert all(isinstance(one, GearChecked) and one.good for one in checks)
    with Meeting.open(tmp_path / "day.meeting") as again:
        assert entered_with(again.day, ONCE) == number
        assert entered_with(again.day, "") == 0
    assert verify(str(tmp_path / "day.meeting")).faults == ()


def test_a_number_that_was_used_is_refused_with_its_entry(tmp_path: Path) -> None:
    with a_meeting(tmp_path) as meeting:
        meeting.once = ONCE
        number = weighed(meeting).number
        with pytest.raises(InputError) as error:
            weighed(meeting)
        assert refused(error) == "MT223"
        assert f"as entry {number}" in error.value.problems[0].message


@pytest.mark.parametrize("once", ["again", "0" * 31, "G" * 32, f"{ONCE}\n"])
def test_what_is_no_such_number_is_refused(tmp_path: Path, once: str) -> None:
    with a_meeting(tmp_path) as meeting:
        meeting.once = once
        with pytest.raises(InputError) as error:
            measure(meeting, [Finding("7", "engine.inlet_bore", "35 mm")], "KV")
        assert refused(error) == "MT223"
