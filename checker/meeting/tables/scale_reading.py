"""A reading of the scales as an official, or a table, gives it."""

from __future__ import annotations

from collections.abc import Mapping

from checker.meeting.record.car_contents import SCRUTINEERING
from checker.reading.quick_dataclasses import KW_ONLY, dataclass


@dataclass(frozen=True, slots=True)
class ScaleReading:
    """A reading as an official gives it; what is "" is as for the car's last reading, or as the procedure says."""

    car: str
    loads: Mapping[str, str]
    """By wheel, axle or side, or `total`: as the display shows it, or with a unit."""
    occasion: str = SCRUTINEERING
    gear: str = ""
    _: KW_ONLY
    pads: str = ""
    fuel: str = ""
    driver: str = ""
    tyres: str = ""
    wear: str = ""
    again: str = ""
    """Why the car is weighed anew."""
    source: str = ""
    taken: str = ""
    confirmed: str = ""
    """Why it is right though it looks wrong."""
    corrects: int = 0
    reason: str = ""
