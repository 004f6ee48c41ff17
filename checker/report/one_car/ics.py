"""What to renew by when, as an iCalendar file (RFC 5545) that any calendar program takes in.

One whole-day event for each thing that lapses, from its last good day to the meeting that it would spoil. Nothing of
the clock is in it: the same car, rules and day give the same bytes, and an event keeps its identity when it is made
anew, so that taking the file in again changes an event instead of adding another.
"""

from __future__ import annotations

import hashlib
from collections.abc import Sequence
from datetime import UTC, date, datetime, time, timedelta

from checker import __version__
from checker.reading.plain_text import printable
from checker.report.amounts import Data
from checker.report.wording import car_words
from checker.studies.change.turning_days import TurningDay


def calendar_ics(document: Data, remind: Sequence[int] = ()) -> bytes:
    """The iCalendar file of a season's document.

    Args:
        remind: How many days before the last good day an alarm goes off.
    """
    from icalendar import Calendar

    calendar = Calendar()
    calendar.add("prodid", f"-//scrutineering-checker//{__version__}//EN")
    calendar.add("version", "2.0")
    calendar.add("calscale", "GREGORIAN")
    for lapse in document["lapses"]:
        event = _event(document, lapse)
        for days in remind:
            event.add_component(_alarm(event, days))
        calendar.add_component(event)
    made: bytes = calendar.to_ical()
    return made


def turning_days_ics(
    days: Sequence[TurningDay], pack: str, made_on: date, ends: tuple[date, str] | None = None
) -> bytes:
    """The days on which a pack's rules change by themselves, a whole-day event each.

    Args:
        ends: The last day that was looked at where more were asked for, and how that is told: an event there says so,
            and moves on when the calendar is made anew.
    """
    from icalendar import Calendar, Event

    told = [((one.clause, one.day.isoformat(), one.words), one) for one in days]
    if ends is not None:
        told.append(
            (("horizon", "", ""), TurningDay(ends[0], "", f"{ends[1]} Make this calendar anew before then."))
        )

    calendar = Calendar()
    calendar.add("prodid", f"-//scrutineering-checker//{__version__}//EN")
    calendar.add("version", "2.0")
    calendar.add("calscale", "GREGORIAN")
    for identity, one in told:
        event = Event()
        digest = hashlib.sha256("\0".join((pack, *identity)).encode())
        event.add("uid", f"{digest.hexdigest()[:32]}@scrutineering-checker")
        event.add("dtstamp", datetime.combine(made_on, time(0), UTC))
        event.add("dtstart", one.day)
        event.add("dtend", one.day + timedelta(days=1))
        clause = f", clause {one.clause}" if one.clause else ""
        event.add("summary", printable(f"{pack}{clause}: {one.words}"))
        event.add("transp", "TRANSPARENT")
        calendar.add_component(event)
    made: bytes = calendar.to_ical()
    return made


def _event(document: Data, lapse: Data):  # type: ignore[no-untyped-def]
    from icalendar import Event

    from checker.quantities.days import parse_day

    last, meeting = parse_day(lapse["last_day"]), lapse["meeting"]
    what = lapse["item"] or lapse["title"]
    event = Event()
    event.add("uid", _identity(document, lapse))
    event.add("dtstamp", datetime.combine(parse_day(document["on"]), time(0), UTC))
    event.add("dtstart", last)
    event.add("dtend", parse_day(meeting["date"]) + timedelta(days=1))
    event.add("summary", printable(f"Last day: {what} ({car_words(document)}, clause {lapse['clause']})"))
    told = [
        f"Clause {lapse['clause']} {lapse['title']} is met until {lapse['last_day']}.",
        f"At {meeting['name']} on {meeting['date']} it fails.",
        f"To do: {lapse['act']}." if lapse["act"] else f"{lapse['text']}.",
        f"Why: {lapse['because']}." if lapse["because"] else "",
        "The organising body's rules and its scrutineers decide.",
    ]
    event.add("description", "\n".join(printable(line) for line in told if line))
    event.add("transp", "TRANSPARENT")
    return event


def _alarm(event, days: int):  # type: ignore[no-untyped-def]
    from icalendar import Alarm

    alarm = Alarm()
    alarm.add("action", "DISPLAY")
    alarm.add("trigger", timedelta(days=-days))
    alarm.add("description", event["summary"])
    return alarm


def _identity(document: Data, lapse: Data) -> str:
    """The same for the same thing on the same car, whenever it is asked."""
    parts = (
        document["pack"],
        document["car"]["number"],
        lapse["clause"],
        lapse["item"] or "",
        lapse["last_day"],
    )
    digest = hashlib.sha256("\0".join(parts).encode()).hexdigest()
    return f"{digest[:32]}@scrutineering-checker"
