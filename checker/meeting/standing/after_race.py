"""After a race a car is not as it was presented: fuel is burnt, tyres are worn, parts may be lost.

What is to be looked at again is told, never judged by guess: the clauses that the procedure names, those that come out
otherwise than at scrutineering, and those that a lost part bears on.
"""

from __future__ import annotations

from collections.abc import Iterator

from checker.meeting.record.car_contents import SCRUTINEERING, Noted
from checker.meeting.record.car_day import CarDay
from checker.meeting.session.judging import OFFICIAL, Judgement, exact_margin
from checker.meeting.session.session import Meeting
from checker.quantities.folding import fold
from checker.reading.document import REMOVE, Edit
from checker.reading.paths import parse_path
from checker.reading.quick_dataclasses import dataclass
from checker.verdict.inspection import Outcome, inspect_car


@dataclass(frozen=True, slots=True)
class MarginMoved:
    """A margin that is another than at scrutineering; exact, as it stands in a record, "" for none."""

    was: str
    now: str


@dataclass(frozen=True, slots=True)
class LookAgain:
    """A clause to be looked at after a race."""

    clause: str
    title: str
    why: tuple[str | MarginMoved, ...]


def look_again(meeting: Meeting, car: CarDay, occasion: str) -> list[LookAgain]:
    """The clauses to look at again, in the order of the pack, each with its reasons.

    Args:
        meeting: The meeting.
        car: One of its cars.
        occasion: Of the weighing after the race, for instance "after the final".

    Raises:
        InputError: The car's declaration or a reading cannot be used.
    """
    reasons: dict[str, list[str | MarginMoved]] = {}
    for number in meeting.procedure.after_race_clauses:
        reasons.setdefault(number, []).append("the procedure says so")
    for number, why in (*_otherwise(meeting, car, occasion), *_lost(meeting, car, occasion)):
        reasons.setdefault(number, []).append(why)
    return [
        LookAgain(number, clause.title, tuple(dict.fromkeys(reasons[number])))
        for number, clause in meeting.pack.clauses.items()
        if number in reasons
    ]


def _otherwise(meeting: Meeting, car: CarDay, occasion: str) -> Iterator[tuple[str, str | MarginMoved]]:
    """Clauses that come out otherwise on the two occasions, where the car was weighed on both."""
    if occasion == SCRUTINEERING or not {SCRUTINEERING, occasion} <= set(car.occasions()):
        return
    before, after = (meeting.judgement(car, at, measured=True) for at in (SCRUTINEERING, occasion))
    for number, was, now in _pairs(before, after):
        if was.outcome != now.outcome:
            yield number, f"{_plain(was.outcome)} at scrutineering, {_plain(now.outcome)} now"
        elif was.assessment.margin != now.assessment.margin:
            yield number, MarginMoved(exact_margin(was.assessment), exact_margin(now.assessment))


def _lost(meeting: Meeting, car: CarDay, occasion: str) -> Iterator[tuple[str, str]]:
    """Clauses that come out otherwise once a part that was lost is taken out of the declaration."""
    lost = [r.content for r in car.of(Noted) if r.content.topic == "lost" and r.content.occasion == occasion]
    if not lost:
        return
    declaration = meeting.declaration(car)
    readings = meeting.judge.readings(meeting.day, car, occasion)
    whole = meeting.judge.car(declaration, readings)
    entries = [entry for name in ("components", "ballast") for entry in whole.every_entry(name)]
    with_it = inspect_car(meeting.pack, whole, meeting.on, OFFICIAL).outcomes
    for noted in lost:
        path = next((parse_path(e.path) for e in entries if fold(e.label) == fold(noted.part)), None)
        if path is None:
            continue
        rest = meeting.judge.car(declaration.edited([Edit(path, REMOVE)], code="MT208"), readings)
        without = inspect_car(meeting.pack, rest, meeting.on, OFFICIAL).outcomes
        for was, now in zip(with_it, without, strict=True):
            if was.outcome != now.outcome or was.assessment.margin != now.assessment.margin:
                yield was.clause.number, f"{noted.part} was lost"


def _pairs(before: Judgement, after: Judgement) -> Iterator[tuple[str, Outcome, Outcome]]:
    for was, now in zip(before.inspection.outcomes, after.inspection.outcomes, strict=True):
        yield was.clause.number, was, now


def _plain(outcome: str) -> str:
    return outcome.replace("_", " ")
