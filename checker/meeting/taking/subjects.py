"""What an entry is about: where two copies of a record both went on about the same, they differ."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from checker.meeting.record.car_contents import (
    Entered,
    Judged,
    Measured,
    Protested,
    Ruled,
    Weighed,
    Withdrawn,
)
from checker.meeting.record.car_day import Record
from checker.meeting.record.contents import (
    Announced,
    Carried,
    Closed,
    Content,
    Drawn,
    GearChecked,
    Imported,
    Reopened,
    SignedOn,
    Struck,
)
from checker.meeting.record.day import Day
from checker.meeting.record.refusal import problem
from checker.reading.problems import Problem
from checker.reading.quick_dataclasses import replace

CLOSING = "closing"
_STATED = (SignedOn, Entered, Withdrawn, Announced, Imported, Carried)
"""What is the same when it is said twice; two readings that are equal are still two."""


def subject(content: Content, day: Day) -> str:
    """What an entry is about: two records that went on about the same differ."""
    match content:
        case Struck(entry):
            target = day.record(entry)
            return subject(target.content, day) if target is not None else f"entry {entry}"
        case GearChecked():
            return f"{content.gear} {content.pad}".strip()
        case Announced(fact, _, ""):
            return fact
        case SignedOn(initials):
            return f"official {initials}"
        case Closed() | Reopened():
            return CLOSING
        case Drawn():
            return f"draw of {content.purpose}"
        case Imported():
            return f"table {content.file}"
        case _:
            return f"car {number}" if (number := getattr(content, "car", "")) else content.KIND


def by_subject(records: Sequence[Record[Content]], day: Day) -> dict[str, list[Record[Content]]]:
    """Entries by what they are about; verdicts are worked out anew, and no protest stands in another's way."""
    found: dict[str, list[Record[Content]]] = {}
    for record in records:
        if not isinstance(record.content, Judged | Protested):
            found.setdefault(subject(record.content, day), []).append(record)
    return found


def standing_entry(content: Content, here: Sequence[Record[Content]]) -> int:
    """The entry here that states the same; 0 where there is none, or what is told is a reading."""
    stated = isinstance(content, _STATED) or (isinstance(content, Weighed) and bool(content.source))
    said = _without_form(content)
    return next((r.number for r in here if _without_form(r.content) == said), 0) if stated else 0


def _without_form(content: Content) -> Content:
    """What an entry states, by whatever form it was sent."""
    stated: Any = content
    return replace(stated, once="") if hasattr(content, "once") else content


def difference(
    about: str, here: Sequence[Record[Content]], there: Sequence[Record[Content]], refused: str
) -> Problem:
    """Both sides, what would be refused if both stood, and how to rule on it."""
    why = f"; both cannot stand: {refused}" if refused else ""
    hint = f"rule which side stands, with a reason: --ruling '{about}' here REASON, or there, or both"
    if about == CLOSING:
        hint = f"the merged record is closed anew: --ruling {CLOSING} here REASON"
    return problem("MT222", f"{about}: here {_told(here)}; there {_told(there)}{why}", hint)


def _told(records: Sequence[Record[Content]]) -> str:
    """Entries in a few words."""
    words = [f"entry {r.number} ({_said(r.content)}, by {r.by}, {r.at[11:16]} UTC)" for r in records]
    return (
        ", ".join(words[:3]) + (f" and {len(words) - 3} more" if len(words) > 3 else "")
        if words
        else "nothing"
    )


def _said(content: Content) -> str:
    """What an entry says, as far as a ruling needs it."""
    match content:
        case Weighed(loads=loads):
            said = ", ".join(loads.values())
        case Measured(fact=fact, value=value) | Announced(fact=fact, value=value):
            said = f"{fact} {value}"
        case GearChecked():
            said = f"{content.applied} shows {content.shown}"
        case Ruled():
            said = f"clause {content.clause}: {content.decision}"
        case _:
            said = getattr(content, "text", "")
    return f"{content.KIND.replace('_', ' ')} {said}".strip()
