"""Which approvals count for a car, what they make of an outcome, and what is to be said of the others.

An approval counts when it is in force, is for this car, is cited in its declaration, and its `when` is true. It never
hides what the car would have come to without it.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date

from checker.car.car import Car
from checker.car.premises import ApprovalNote, OfApproval
from checker.car.scene import Scene
from checker.kinds.judging.assessment import (
    DISPENSATION,
    FAIL,
    NOT_APPLICABLE,
    NOT_SHOWN,
    TOO_CLOSE,
    softened,
)
from checker.kinds.judging.working import as_statement
from checker.pack.model import Approval, Clause, Pack
from checker.quantities.folding import fold
from checker.quantities.kind import Unknown
from checker.reading.nearest import did_you_mean
from checker.reading.quick_dataclasses import dataclass, replace
from checker.verdict.outcome import Outcome


@dataclass(frozen=True, slots=True)
class Grant:
    """An approval that counts for a car, or may."""

    approval: Approval
    doubt: Unknown | None = None
    """Why it is not known whether its `when` is true."""


@dataclass(frozen=True, slots=True)
class Citations:
    """What the approvals that a car cites come to."""

    grants: Mapping[str, Grant]
    """By clause."""
    notes: tuple[ApprovalNote, ...]
    """On approvals that have no effect or are too broad."""


def citations(pack: Pack, car: Car, scene: Scene, on: date) -> Citations:
    """The approvals that count for a car on a day, and what is to be said of the others."""
    register = {fold(approval.reference): approval for approval in pack.approvals or ()}
    grants: dict[str, Grant] = {}
    notes: list[ApprovalNote] = []
    for reference in dict.fromkeys(car.approvals):
        approval = register.get(fold(reference))
        if approval is None:
            notes.append(_stranger(reference, pack))
            continue
        grant = _granted(approval, car, scene, on, notes)
        if grant is not None:
            too_broad = _OPEN_ENDS.get((bool(approval.cars), approval.last_day is not None))
            if too_broad is not None:
                notes.append(ApprovalNote(approval.reference, too_broad))
            for number in approval.clauses:
                if number not in grants or (grants[number].doubt is not None and grant.doubt is None):
                    grants[number] = grant
    cited = {fold(reference) for reference in car.approvals}
    for approval in pack.approvals or ():
        its_own = _is_for(approval, car) and approval.cars
        if its_own and approval.covers(on) and fold(approval.reference) not in cited:
            notes.append(ApprovalNote(approval.reference, OfApproval.NOT_CITED))
    return Citations(grants, tuple(notes))


def _stranger(reference: str, pack: Pack) -> ApprovalNote:
    if pack.approvals is None:
        return ApprovalNote(reference, OfApproval.NO_REGISTER)
    hint = did_you_mean(reference, [approval.reference for approval in pack.approvals])
    return ApprovalNote(reference, OfApproval.NOT_IN_REGISTER, hint=hint)


def _granted(approval: Approval, car: Car, scene: Scene, on: date, notes: list[ApprovalNote]) -> Grant | None:
    """The approval if it counts, or may; else why not is noted."""
    name = approval.reference
    if not _is_for(approval, car):
        notes.append(ApprovalNote(name, OfApproval.FOR_OTHERS, approval.cars))
    elif approval.last_day is not None and on > approval.last_day:
        notes.append(ApprovalNote(name, OfApproval.ENDED, day=approval.last_day))
    elif approval.first_day is not None and on < approval.first_day:
        notes.append(ApprovalNote(name, OfApproval.BEGINS, day=approval.first_day))
    elif approval.when is None:
        return Grant(approval)
    else:
        answer = approval.when.evaluate(scene)
        if isinstance(answer, Unknown):
            notes.append(ApprovalNote(name, OfApproval.NOT_SHOWN, unknown=answer))
            return Grant(approval, answer)
        if answer:
            return Grant(approval)
        statement = as_statement(approval.when, scene)
        notes.append(ApprovalNote(name, OfApproval.DOES_NOT_APPLY, statement=statement))
    return None


def _is_for(approval: Approval, car: Car) -> bool:
    return not approval.cars or fold(car.number) in {fold(number) for number in approval.cars}


_OPEN_ENDS = {
    (False, False): OfApproval.TOO_BROAD,
    (False, True): OfApproval.NAMES_NO_CAR,
    (True, False): OfApproval.NO_LAST_DAY,
}
"""What an approval leaves open that it should settle, by whether it names cars, and whether it ends."""


def changed_clause(grant: Grant | None, number: str) -> Clause | None:
    """The clause as an approval has it; None where no approval changes it for certain."""
    if grant is None or grant.doubt is not None:
        return None
    return grant.approval.changed.get(number)


def permitted(outcome: Outcome, grant: Grant) -> Outcome:
    """An outcome under an approval: a fail, too close or not shown becomes a dispensation.

    What it would have been stays with it. Under an approval that may or may not apply, it is not shown.
    """
    if outcome.outcome not in (FAIL, TOO_CLOSE, NOT_SHOWN):
        return outcome
    if grant.doubt is not None:
        return replace(outcome, assessment=softened(outcome.assessment, grant.doubt), penalty="")
    return replace(
        outcome,
        assessment=replace(outcome.assessment, outcome=DISPENSATION, act=None),
        penalty="",
        reference=grant.approval.reference,
        without=outcome.assessment,
    )


def unused(grants: Mapping[str, Grant], outcomes: Sequence[Outcome]) -> list[ApprovalNote]:
    """Approvals that were not needed, as a whole or for some of their clauses."""
    by_number = {outcome.clause.number: outcome for outcome in outcomes}
    notes: list[ApprovalNote] = []
    for grant in {id(grant): grant for grant in grants.values()}.values():
        if grant.doubt is not None:
            continue
        clauses = grant.approval.clauses
        idle = tuple(number for number in clauses if not _needed(by_number.get(number)))
        if idle:
            what = OfApproval.NOT_NEEDED if len(idle) == len(clauses) else OfApproval.BROADER
            notes.append(ApprovalNote(grant.approval.reference, what, idle))
    return notes


def _needed(outcome: Outcome | None) -> bool:
    """Whether the outcome rests on its approval: without it, it would not have been met."""
    if outcome is None or outcome.without is None:
        return False
    return outcome.without.outcome in (FAIL, TOO_CLOSE, NOT_SHOWN) and outcome.outcome != NOT_APPLICABLE
