"""A season's meetings, from a file: a list of names and days.

- {name: Opening meeting, date: 2026-04-12}
- {name: Spring meeting, date: 2026-05-03}
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from checker.quantities.days import parse_day
from checker.reading.document import Document
from checker.reading.nearest import did_you_mean
from checker.reading.problems import Path, Problems

CODES = {
    201: "not a list of meetings",
    202: "a meeting without a name or a day, or with something else",
    203: "a day that cannot be read or is not in the calendar",
    204: "two meetings on one day",
}
"""What each problem is, by the number after SN; 110 to 121 are those of any file that is read."""

PREFIX = "SN"
_EXAMPLE = "- {name: Spring meeting, date: 2026-05-03}"


@dataclass(frozen=True, slots=True)
class SeasonMeeting:
    """A day on which cars are judged."""

    name: str
    day: date


def read_meetings(document: Document) -> tuple[SeasonMeeting, ...]:
    """The meetings in a file, by day.

    Raises:
        InputError: With every mistake found (codes SN2xx).
    """
    problems = Problems()
    found: list[SeasonMeeting] = []
    listed = document.data
    if not isinstance(listed, list) or not listed:
        problems.add("SN201", "this is not a list of meetings", document.span(()), hint=f"write {_EXAMPLE}")
        listed = []
    days: dict[date, int] = {}
    for place in range(len(listed)):
        meeting = _meeting(document, (place,), problems)
        if meeting is None:
            continue
        first = days.setdefault(meeting.day, place)
        if first != place:
            related = (("the first", document.span((first,))),)
            message = f"two meetings are on {meeting.day.isoformat()}"
            problems.add("SN204", message, document.span((place, "date")), related=related)
        found.append(meeting)
    problems.raise_if_any()
    return tuple(sorted(found, key=lambda meeting: meeting.day))


def _meeting(document: Document, path: Path, problems: Problems) -> SeasonMeeting | None:
    given = document.get(path)
    if not isinstance(given, dict):
        problems.add("SN202", "a meeting is a name and a day", document.span(path), hint=f"write {_EXAMPLE}")
        return None
    sound = True
    for key in given:
        if key not in ("name", "date"):
            hint = did_you_mean(key, ("name", "date")) or "a meeting has a name and a date"
            problems.add(
                "SN202", f"'{key}' is not a key of a meeting", document.key_span((*path, key)), hint=hint
            )
            sound = False
    name, day = given.get("name"), given.get("date")
    if not isinstance(name, str) or not name.strip():
        if name is None:
            problems.add("SN202", "the meeting has no name", document.span(path), hint=f"write {_EXAMPLE}")
        else:
            message, hint = "the name of a meeting is text", "put it in quotes"
            problems.add("SN202", message, document.span((*path, "name")), hint=hint)
        sound = False
    if day is None:
        problems.add("SN202", "the meeting has no date", document.span(path), hint=f"write {_EXAMPLE}")
        return None
    try:
        if not isinstance(day, str):
            raise ValueError(f"'{document.written((*path, 'date'))}' is not a day")
        parsed = parse_day(day)
    except ValueError as error:
        hint = "a day is written 2026-05-03"
        problems.add("SN203", str(error), document.span((*path, "date")), hint=hint)
        return None
    return SeasonMeeting(str(name).strip(), parsed) if sound else None
