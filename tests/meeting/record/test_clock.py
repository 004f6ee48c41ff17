"""Times that do not fit: told with every entry, and never corrected."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

import pytest

from checker.meeting.record.clock import oddities
from checker.meeting.session.session import Meeting
from checker.meeting.standing.verifying import verify
from tests.meeting.days import a_meeting, weighed
from tests.meeting.records import MORNING, ToldClock

DAYS_LATER = timedelta(days=3)


@pytest.mark.parametrize(("weighings", "which"), [(1, "entry 3 was"), (2, "2 entries from 3 on were")])
def test_what_is_recorded_on_another_day_is_told(tmp_path: Path, weighings: int, which: str) -> None:
    a_meeting(tmp_path).store.close()
    with Meeting.open(tmp_path / "day.meeting", clock=ToldClock(MORNING + DAYS_LATER)) as meeting:
        for _ in range(weighings):
            weighed(meeting)
        (told,) = oddities(meeting.day)
        assert (told.code, told.warning) == ("MT409", True)
        assert (
            told.message
            == f"{which} recorded on 2026-05-06 by the computer's clock, and the meeting is of 2026-05-03"
        )
        assert oddities(meeting.day, meeting.day.number + 1) == []
    found = verify(tmp_path / "day.meeting")
    assert found.sound
    assert found.clock == (told.message,)


@pytest.mark.parametrize(("hours", "told"), [(-20, 0), (16, 0), (30, 0), (-22, 1), (31, 1)])
def test_a_day_is_that_of_some_zone(tmp_path: Path, hours: int, told: int) -> None:
    """Somewhere on earth it is still, or already, the day of the meeting: 14 hours before and after its own."""
    a_meeting(tmp_path).store.close()
    clock = ToldClock(MORNING + timedelta(hours=hours))
    with Meeting.open(tmp_path / "day.meeting", clock=clock) as meeting:
        weighed(meeting)
        assert sum("recorded on" in one.message for one in oddities(meeting.day)) == told
