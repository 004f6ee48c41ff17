"""Times as people write them, in the computer's zone or one that is stated, as the record keeps them: in UTC."""

from __future__ import annotations

import re
from datetime import UTC, date, datetime, time, timedelta, timezone

from checker.meeting.record.refusal import refusal
from checker.reading.plain_text import printable, shortened

ZONE = "([+-])(0[0-9]|1[0-4]):([0-5][0-9])"
"""How far a zone is ahead of UTC."""


def in_utc(text: str, on: date) -> str:
    """A time of day, or a day and a time.

    Args:
        text: "12:40", "2026-05-24 12:40" or with a zone, "2026-05-24T12:40+01:00"; without one it is the computer's.
        on: The day that a time of day is of.

    Raises:
        InputError: MT307, it is no time.
    """
    try:
        if ":" in text[:3]:
            moment = datetime.combine(on, time.fromisoformat(text))
        else:
            moment = datetime.fromisoformat(text)
    except ValueError:
        raise refusal(
            "MT307", f"'{text}' is no time", "write it as in 12:40, or 2026-05-24T12:40+01:00"
        ) from None
    return kept(moment, "")


def kept(moment: datetime, zone: str) -> str:
    """A moment as the record keeps it.

    Args:
        moment: With or without its zone.
        zone: Its zone where it has none: "UTC", "+01:00", or "" for the computer's.
    """
    if moment.tzinfo is None and zone:
        moment = moment.replace(tzinfo=offset_of(zone))
    return moment.astimezone(UTC).isoformat(timespec="seconds").replace("+00:00", "Z")


def known_pattern(text: str) -> str:
    """A pattern of days and times that reads what it writes; "serial 1900" and "serial 1904" are for day numbers.

    Raises:
        ValueError: It is none.
    """
    if text.startswith("serial"):
        return text
    try:
        written = datetime(2026, 5, 24, 12, 40, 30, tzinfo=UTC).strftime(text)
        datetime.strptime(written, text)
    except (ValueError, re.error):  # a directive that is not known, or given twice
        raise ValueError(f"'{shortened(printable(text))}' is no pattern of days and times") from None
    return text


def offset_of(zone: str) -> timezone | None:
    """The zone that is meant by "UTC" or "+01:00"; None for any other text."""
    if zone == "UTC":
        return UTC
    found = re.fullmatch(ZONE, zone)
    if found is None:
        return None
    ahead = timedelta(hours=int(found[2]), minutes=int(found[3]))
    return timezone(ahead if found[1] == "+" else -ahead)
