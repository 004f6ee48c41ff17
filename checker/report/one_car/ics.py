"""What to renew by when, as an iCalendar file (RFC 5545) that any calendar program takes in.

One whole-day event for each thing that lapses, from its last good day to the meeting that it would spoil. Nothing of
the clock is in it: the same car, rules and day give the same bytes, and an event keeps its identity when it is made
anew, so that taking the file in again changes an event instead of adding another.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Sequence
from datetime import UTC, date, datetime, time, timedelta
from typing import Any

from checker import __version__
from checker.quantities.days import parse_day
from checker.reading.plain_text import printable
from checker.report.amounts import Data
from checker.report.wording import car_words
from checker.studies.change.turning_days import TurningDay


def calendar_ics(document: Data, remind: Sequence[int] = ()) -> bytes:
    """The iCalendar file of a season's document.

    Args:
        remind: How many days before the last good day an alarm goes off.
    """
    events = [_lapse(document, lapse) for lapse in document["lapses"]]
    for event in events:
        for days in remind:
            event.add_component(_alarm(event, days))
    return _calendar(events)


def turning_days_ics(
    days: Sequence[TurningDay], pack: str, made_on: date, ends: tuple[date, str] | None = None
) -> bytes:
    """The days on which a pack's rules change by themselves, a whole-day event each.

    Args:
        ends: The last day that was looked at where more were asked for, and how that is told: an event there says so,
            and moves on when the calendar is made anew.
    """
    told = [((one.clause, one.day.isoformat(), one.words), one) for one in days]
    if ends is not None:
        last = TurningDay(ends[0], "", f"{ends[1]} Make this calendar anew before then.")
        told.append((("horizon", "", ""), last))
    events = []
    for identity, one in told:
        clause = f", clause {one.clause}" if one.clause else ""
        summary = f"{pack}{clause}: {one.words}"
        events.append(_event((pack, *identity), made_on, (one.day, one.day), summary))
    return _calendar(events)


def _calendar(events: Iterable[Any]) -> bytes:
    from icalendar import Calendar

    calendar = Calendar()
    calendar.add("prodid", f"-//scrutineering-checker//{__version__}//EN")
    calendar.add("version", "2.0")
    calendar.add("calscale", "GREGORIAN")
    for event in events:
        calendar.add_component(event)
    made: bytes = calendar.to_ical()
    return made


def _event(identity: Sequence[str], made_on: date, days: tuple[date, date], summary: str) -> Any:
    """An event on whole days, from the first to the last.

    Args:
        identity: The same for the same thing, whenever it is asked.
    """
    from icalendar import Event

    event = Event()
    digest = hashlib.sha256("\0".join(identity).encode()).hexdigest()
    event.add("uid", f"{digest[:32]}@scrutineering-checker")
    event.add("dtstamp", datetime.combine(made_on, time(0), UTC))
    event.add("dtstart", days[0])
    event.add("dtend", days[1] + timedelta(days=1))
    event.add("summary", printable(summary))
    event.add("transp", "TRANSPARENT")
    return event


def _lapse(document: Data, lapse: Data) -> Any:
    meeting, number, clause = lapse["meeting"], document["car"]["number"], lapse["clause"]
    what = lapse["item"] or lapse["title"]
    identity = (document["pack"], number, clause, lapse["item"] or "", lapse["last_day"])
    days = parse_day(lapse["last_day"]), parse_day(meeting["date"])
    summary = f"Last day: {what} ({car_words(document)}, clause {clause})"
    event = _event(identity, parse_day(document["on"]), days, summary)
    told = [
        f"Clause {clause} {lapse['title']} is met until {lapse['last_day']}.",
        f"At {meeting['name']} on {meeting['date']} it fails.",
        f"To do: {lapse['act']}." if lapse["act"] else f"{lapse['text']}.",
        f"Why: {lapse['because']}." if lapse["because"] else "",
        "The organising body's rules and its scrutineers decide.",
    ]
    event.add("description", "\n".join(printable(line) for line in told if line))
    return event


def _alarm(event: Any, days: int) -> Any:
    from icalendar import Alarm

    alarm = Alarm()
    alarm.add("action", "DISPLAY")
    alarm.add("trigger", timedelta(days=-days))
    alarm.add("description", event["summary"])
    return alarm
