"""Takes checks of the scales."""

from __future__ import annotations

from collections.abc import Mapping

from checker.car.described.standard import WHEELS
from checker.meeting.record.contents import GearChecked
from checker.meeting.session.gear import Gear, checked
from checker.meeting.session.session import Meeting


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
