"""Decisions of officials, and protests: beside what was computed, never instead of it."""

from __future__ import annotations

from collections.abc import Callable

from checker.kinds.judging.assessment import Assessment
from checker.kinds.judging.findings import Found
from checker.meeting.record.car_contents import ALLOW, REJECT, STAND, Protested, Ruled
from checker.meeting.record.contents import Content
from checker.meeting.record.day import Day
from checker.meeting.session.judging import Judgement
from checker.meeting.session.named import refuse_no_clause
from checker.meeting.session.session import Meeting
from checker.reading.quick_dataclasses import dataclass

DECISIONS_SAID = {"uphold": STAND, "exclude": REJECT, "allow": ALLOW}
"""As officials say it, and as the record has always kept it."""


@dataclass(frozen=True, slots=True)
class Ruling:
    """A decision as an official gives it."""

    car: str
    clause: str
    decision: str
    """One of `checker.meeting.record.contents.DECISIONS`."""
    reason: str
    protest: int = 0
    """The entry of the protest that it answers."""
    corrects: int = 0


def rule(meeting: Meeting, ruling: Ruling, by: str, words: Callable[[Found | None], str]) -> int:
    """Record a decision with the outcome as it was computed when it was taken; on disk when this returns.

    Args:
        words: Tells in a sentence what was found, to stand in the record.

    Returns:
        The number of its entry.

    Raises:
        InputError: MT203, MT206, MT207, MT209, MT212.
    """
    refuse_no_clause(meeting.pack, ruling.clause)

    def decide(day: Day) -> list[Content]:
        car = meeting.car(ruling.car)
        outcome, assessment = _computed(meeting.judgement(car), ruling.clause)
        found = words(assessment.finding) or "; ".join(assessment.unknown.told())
        return [
            Ruled(
                car.number,
                ruling.clause,
                ruling.decision,
                ruling.reason.strip(),
                computed=outcome,
                found=found,
                rests_on=day.number,
                protest=ruling.protest,
                corrects=ruling.corrects,
            )
        ]

    return meeting.record(by, decide)[0].number


def protest(meeting: Meeting, content: Protested, by: str) -> int:
    """Record a protest against a car; on disk when this returns.

    Returns:
        The number of its entry, by which a ruling answers it.

    Raises:
        InputError: MT203, MT209, MT212.
    """

    def decide(_: Day) -> list[Content]:
        by_car = meeting.car(content.by_car).number if content.by_car else ""
        text = " ".join(content.text.split())
        return [Protested(meeting.car(content.car).number, content.clause, text, by_car)]

    return meeting.record(by, decide)[0].number


def _computed(judgement: Judgement, clause: str) -> tuple[str, Assessment]:
    """What became of a clause."""
    for outcome in judgement.inspection.outcomes:
        if outcome.clause.number == clause:
            return outcome.outcome, outcome.assessment
    raise KeyError(clause)
