"""Takes checks of the scales."""

from __future__ import annotations

from collections.abc import Mapping

from checker.car.described.standard import WHEELS
from checker.meeting.record.contents import GearChecked
from checker.meeting.session.gear import Gear, checked
from checker.meeting.session.session import Meeting
from checker.meeting.tables.times import in_utc


def check_pads(
    meeting: Meeting, gear: Gear, applied: str, shown: Mapping[str, str], by: str
) -> list[GearChecked]:
    """Record what all four pads show with nothing on them ("0"), or under a test weight; on disk when this returns.

    Raises:
        InputError: MT209 a mass cannot be read: then none was recorded.
    """
    checks = [checked(gear, wheel, applied, shown[wheel]) for wheel in WHEELS]
    meeting.record(by, lambda _: checks)
    return checks


def check_gear(
    meeting: Meeting, gear: Gear, pad: str, applied: str, shown: str, by: str, since: str = ""
) -> GearChecked:
    """Record what one pad shows, or gear that has none (pad ""); on disk when this returns.

    Args:
        since: Of a bad check: since when it was out, as a time of the meeting's day; "" for since the last good check.

    Raises:
        InputError: MT209 a mass or MT307 the time cannot be read, MT211 no such pad.
    """
    check = checked(gear, pad, applied, shown, in_utc(since, meeting.on) if since else "")
    meeting.record(by, lambda _: [check])
    return check
