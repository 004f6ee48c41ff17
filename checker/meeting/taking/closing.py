"""Closes the day, and opens it again where something is still to be recorded."""

from __future__ import annotations

from collections.abc import Sequence

from checker.meeting.record.contents import Closed, Content, Reopened
from checker.meeting.record.day import Day
from checker.meeting.session.session import Meeting
from checker.meeting.standing.standing import (
    COMPLIES,
    EXCLUDED,
    WITHDRAWN,
    Standing,
    recorded_tally,
    standings,
)


def close(meeting: Meeting, by: str, *, provisional: bool = False) -> list[Standing]:
    """Close the meeting with its tally; on disk when this returns.

    Args:
        meeting: Open for work.
        by: Initials of the official.
        provisional: Protests are still unanswered, and the results say so.

    Returns:
        The cars that are left with something open: not weighed, in doubt, unsettled.

    Raises:
        InputError: MT201 it is closed already, MT217 a verdict or MT219 a protest is outstanding.
    """
    found: list[Standing] = []

    def decide(_: Day) -> list[Content]:
        found[:] = standings(meeting)
        return [Closed(recorded_tally(found), provisional)]

    meeting.record(by, decide)
    return left_open(found)


def left_open(found: Sequence[Standing]) -> list[Standing]:
    """The cars of which something is open still."""
    return [one for one in found if one.status not in (COMPLIES, EXCLUDED, WITHDRAWN) and not one.failing]


def reopen(meeting: Meeting, reason: str, by: str) -> None:
    """Go on after the meeting was closed.

    Raises:
        InputError: MT206 no reason, MT216 it is open.
    """
    meeting.record(by, lambda _: [Reopened(" ".join(reason.split()))])
