"""Moments: a day and a time of day, as the meeting's own clock shows it; there are no time zones.

A moment is kept as seconds since the beginning of 1900, so that two of them have a difference, a time, and no sum.
"""

from __future__ import annotations

import re
from datetime import date, timedelta
from fractions import Fraction

from checker.quantities.days import FIRST_YEAR, LAST_YEAR, parse_day

_MOMENT = re.compile(r"([0-9]{4}-[0-9]{2}-[0-9]{2})[ \t\r\n]+([0-9]{1,2}):([0-9]{2})")
_FIRST = date(FIRST_YEAR, 1, 1)
_DAY_S = 24 * 60 * 60
LAST_S = ((date(LAST_YEAR, 12, 31) - _FIRST).days + 1) * _DAY_S
"""The end of the last day of the calendar, in seconds."""


def parse_moment(text: str) -> Fraction:
    """The moment written YYYY-MM-DD HH:MM, in seconds.

    Raises:
        ValueError: It is written otherwise, or the day is not in the calendar, or the time not on the clock.
    """
    found = _MOMENT.fullmatch(text)
    if found is None:
        raise ValueError(f"'{text[:40]}' is not a day and a time; write it as 2026-03-01 14:30")
    day, hour, minute = parse_day(found[1]), int(found[2]), int(found[3])
    if hour > 23 or minute > 59:
        raise ValueError(f"{found[2]}:{found[3]} is not on the clock; hours are 00 to 23, minutes 00 to 59")
    return Fraction((day - _FIRST).days * _DAY_S + hour * 3600 + minute * 60)


def day_of(moment_s: Fraction) -> date:
    """The day of a moment.

    Raises:
        ValueError: It lies outside the calendar.
    """
    if not 0 <= moment_s < LAST_S:
        raise ValueError(f"the moment lies outside the years {FIRST_YEAR} to {LAST_YEAR}")
    return _FIRST + timedelta(days=int(moment_s // _DAY_S))


def time_of_day(moment_s: Fraction) -> Fraction:
    """How long after midnight a moment lies, in seconds."""
    return moment_s % _DAY_S


def moment_text(moment_s: Fraction) -> str:
    """A moment as it is written; seconds, rounded down to hundredths, only where it has some."""
    if not 0 <= moment_s < LAST_S:
        return f"outside the years {FIRST_YEAR} to {LAST_YEAR}"
    minutes, hundredths = divmod(int(time_of_day(moment_s) * 100), 6000)
    seconds = f":{hundredths // 100:02d}" + (f".{hundredths % 100:02d}" if hundredths % 100 else "")
    return f"{day_of(moment_s)} {minutes // 60:02d}:{minutes % 60:02d}{seconds if hundredths else ''}"
