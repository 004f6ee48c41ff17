"""A season's meetings, from a file: a list of names and days.

- {name: Opening meeting, date: 2026-04-12}
- {name: Spring meeting, date: 2026-05-03}
"""

from __future__ import annotations

from datetime import date

from checker.quantities.days import parse_day
from checker.reading.document import Document
from checker.reading.file_reader import Codes, FileReader, Mistake
from checker.reading.quick_dataclasses import dataclass

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
    reader = FileReader(document, Codes(PREFIX, 202, {Mistake.DAY: 203}))
    found: list[SeasonMeeting] = []
    if not isinstance(document.data, list) or not document.data:
        reader.problem(201, "this is not a list of meetings", hint=f"write {_EXAMPLE}")
    days: dict[date, int] = {}
    for place in range(len(document.data) if isinstance(document.data, list) else 0):
        meeting = _meeting(reader, place)
        if meeting is None:
            continue
        first = days.setdefault(meeting.day, place)
        if first != place:
            related = (("the first", document.span((first,))),)
            message = f"two meetings are on {meeting.day.isoformat()}"
            reader.problem(204, message, place, "date", related=related)
        found.append(meeting)
    reader.problems.raise_if_any()
    return tuple(sorted(found, key=lambda meeting: meeting.day))


def _meeting(reader: FileReader, place: int) -> SeasonMeeting | None:
    given = reader.get(place)
    if not isinstance(given, dict):
        reader.problem(202, "a meeting is a name and a day", place, hint=f"write {_EXAMPLE}")
        return None
    sound = reader.known_keys(("name", "date"), place, what="a meeting")
    lacking = [key for key in ("name", "date") if given.get(key) is None]
    for key in lacking:
        reader.problem(202, f"the meeting has no {key}", place, hint=f"write {_EXAMPLE}")
    if lacking:
        return None
    name = reader.text(place, "name", needed=True)
    day = reader.parsed(parse_day, Mistake.DAY, "a day", place, "date", hint="a day is written 2026-05-03")
    return SeasonMeeting(name.strip(), day) if sound and name and day else None
