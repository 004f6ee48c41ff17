"""Decisions of officials, and protests: beside what was computed, never instead of it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from checker.kinds.judging.assessment import PASS
from checker.meeting.record.contents import ALLOW, DECISIONS, STAND, Content, Protested, Ruled
from checker.meeting.record.day import Day
from checker.meeting.record.refusal import refusal
from checker.meeting.session.judging import Judgement
from checker.meeting.session.session import Meeting
from checker.meeting.taking.correcting import correctable
from checker.meeting.taking.measuring import refuse_no_clause
from checker.quantities.folding import fold


@dataclass(frozen=True, slots=True)
class Ruling:
    """A decision as an official gives it."""

    car: str
    clause: str
    decision: str
    """One of `DECISIONS`."""
    reason: str
    protest: int = 0
    """The entry of the protest that it answers."""
    corrects: int = 0


def rule(meeting: Meeting, ruling: Ruling, by: str) -> int:
    """Record a decision with the outcome as it was computed when it was taken; on disk when this returns.

    Returns:
        The number of its entry.

    Raises:
        InputError: MT203, MT206, MT207, MT209, MT212.
    """
    if ruling.decision not in DECISIONS:
        raise refusal("MT209", f"'{ruling.decision}' is no decision", f"one of: {', '.join(DECISIONS)}")
    if not ruling.reason.strip():
        raise refusal("MT206", f"why clause {ruling.clause} is decided so is not said", "give a reason")
    refuse_no_clause(meeting, ruling.clause)

    def decide(day: Day) -> list[Content]:
        car = meeting.car(ruling.car)
        judgement = meeting.judgement(car)
        outcome, found = _computed(judgement, ruling.clause)
        if ruling.decision == ALLOW and outcome == PASS:
            raise refusal(
                "MT209", f"clause {ruling.clause} is met; there is nothing to allow", f"decide '{STAND}'"
            )
        if ruling.protest:
            _refuse_no_protest(day, car.number, ruling)
        if ruling.corrects:
            _refuse_other(day, car.number, ruling)
        return [
            Ruled(
                car.number,
                ruling.clause,
                ruling.decision,
                ruling.reason.strip(),
                outcome,
                found,
                day.number,
                ruling.protest,
                ruling.corrects,
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
    refuse_no_clause(meeting, content.clause)
    if not content.text.strip():
        raise refusal("MT209", "what the protest says is not given")

    def decide(_: Day) -> list[Content]:
        by_car = meeting.car(content.by_car).number if content.by_car else ""
        text = " ".join(content.text.split())
        return [Protested(meeting.car(content.car).number, content.clause, text, by_car)]

    return meeting.record(by, decide)[0].number


def _computed(judgement: Judgement, clause: str) -> tuple[str, str]:
    """Outcome and sentence of a clause."""
    for outcome in judgement.inspection.outcomes:
        if outcome.clause.number == clause:
            assessment = outcome.assessment
            return outcome.outcome, assessment.text or "; ".join(assessment.unknown.says)
    raise KeyError(clause)


def _refuse_no_protest(day: Day, car: str, ruling: Ruling) -> None:
    record = day.record(ruling.protest)
    content: Any = record.content if record else None
    if not isinstance(content, Protested) or fold(content.car) != fold(car):
        raise refusal("MT207", f"entry {ruling.protest} is no protest against car {car}")


def _refuse_other(day: Day, car: str, ruling: Ruling) -> None:
    content: Any = correctable(day, ruling.corrects, ruling.reason).content
    if not isinstance(content, Ruled) or content.clause != ruling.clause or fold(content.car) != fold(car):
        raise refusal("MT207", f"entry {ruling.corrects} is no ruling on clause {ruling.clause} of car {car}")
