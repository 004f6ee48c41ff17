"""Corrections: a new entry that points to the old one with a reason. Nothing is ever overwritten."""

from __future__ import annotations

from checker.meeting.record.contents import Struck
from checker.meeting.session.session import Meeting


def strike(meeting: Meeting, number: int, reason: str, by: str) -> None:
    """An entry no longer counts, and nothing stands in its place.

    Raises:
        InputError: MT206 no reason, MT207 it cannot be struck.
    """

    meeting.record(by, lambda _: [Struck(number, reason.strip())])
