"""Judging one car by one pack: every clause in the rulebook's order.

Within the text in force, what speaks is settled in this order: the clause's own days (`since`, `until`), an
older check for older cars (`earlier`), a clause that takes another's place (`instead_of`), then guards. An
approval that the car cites stands above all of it.
Nothing here reads a file or a clock.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Mapping
from datetime import date
from fractions import Fraction

from checker.car.car import Car
from checker.car.premises import ApprovalNote, ErrorFree, Premise
from checker.car.scene import Scene
from checker.kinds.contract.check import Check
from checker.kinds.frame.near_edges import judged
from checker.kinds.judging.acts import Act, Do
from checker.kinds.judging.assessment import (
    DISPENSATION,
    FAIL,
    NOT_APPLICABLE,
    NOT_SHOWN,
    OUTCOMES,
    PASS,
    TOO_CLOSE,
    Amount,
    Assessment,
    DecisionRule,
    Verdict,
    not_applicable,
    not_shown,
    softened,
)
from checker.kinds.judging.findings import BindsNot, Instead, NotInForce
from checker.kinds.judging.reasons import NotJudged
from checker.pack.model import Clause, Pack, Penalty
from checker.quantities.amount import Statement
from checker.quantities.kind import Unknown
from checker.reading.quick_dataclasses import KW_ONLY, dataclass, replace
from checker.verdict.approvals import changed_clause, citations, permitted, unused
from checker.verdict.decision import rule_for
from checker.verdict.outcome import Outcome

__all__ = ["Inspection", "Outcome", "inspect_car"]


@dataclass(frozen=True, slots=True)
class Together:
    """What makes all clauses on weights pass at once."""

    enough: bool
    """False: nothing that was tried does."""
    acts: tuple[Act, ...]
    clauses: tuple[str, ...]
    """Those that ask for something to be done."""
    not_shown: tuple[str, ...] = ()
    """Those that are not shown then."""


@dataclass(frozen=True, slots=True)
class Inspection:
    """One car judged by one pack on one day."""

    pack: Pack
    car: Car
    audience: str
    on: date
    _: KW_ONLY
    outcomes: tuple[Outcome, ...]
    what_if: tuple[str, ...] = ()
    """Values that were put in place of the declared ones, as "PATH=VALUE"."""
    notes: tuple[ApprovalNote, ...] = ()
    """On approvals that have no effect, are not needed, or are too broad."""
    together: Together | None = None
    """What makes all clauses on weights pass, where that is more than each of their acts says."""

    @property
    def premises(self) -> tuple[Premise, ...]:
        """What the verdict rests on beside what is stated: defaults, beliefs, what has no stated error, approvals."""
        names = {name for o in self.outcomes if o.counts for name in o.assessment.taken_as_exact}
        exact = (ErrorFree(tuple(sorted(names))),) if names else ()
        return (*self.car.notes().premises, *exact, *self.notes)

    @property
    def tally(self) -> Mapping[str, int]:
        """How many clauses came to each outcome, in the order of `OUTCOMES`."""
        found = Counter(outcome.outcome for outcome in self.outcomes)
        return {outcome: found[outcome] for outcome in OUTCOMES}

    @property
    def complies(self) -> bool | None:
        """True: every clause that counts is met; False: one fails; None: something is too close or not shown, or it
        is not said which car it is."""
        return comes_to({o.outcome for o in self.outcomes if o.counts}, self.car)


def comes_to(bearing: Collection[Verdict], car: Car) -> bool | None:
    """The verdict on a car by the outcomes that count; see `Inspection.complies`."""
    if FAIL in bearing:
        return False
    if TOO_CLOSE in bearing or NOT_SHOWN in bearing:
        return None
    return True if (PASS in bearing or DISPENSATION in bearing) and car.number else None


def inspect_car(
    pack: Pack,
    car: Car,
    on: date,
    audience: str,
    what_if: tuple[str, ...] = (),
    *,
    exact: bool = False,
    only: Collection[str] | None = None,
) -> Inspection:
    """Judge a car by the clauses of a pack.

    Args:
        pack: The rules in force on the day.
        car: Loaded with that pack's vocabulary.
        on: The day the car is judged for.
        audience: "entrant" or "official": decides how values near a limit are taken.
        what_if: What was put in place of declared values, for the report.
        exact: Take every value as exact, so that only the limit itself divides pass from fail.
        only: Numbers of the clauses to judge; None: all.
    """
    scene = Scene(car)
    rule = replace(rule_for(audience, pack.decision), exact=exact)
    cited = citations(pack, car, scene, on)
    wanted = pack.clauses if only is None else with_those_before(pack, only)
    judged: dict[str, Outcome] = {}
    for number in wanted:
        outcome = _judge(pack.clauses[number], scene, rule, on)
        grant = cited.grants.get(number)
        changed = changed_clause(grant, number)
        if grant is not None and changed is not None:
            by_approval = _judge(changed, scene, rule, on)
            reference, without = grant.approval.reference, outcome.assessment
            outcome = replace(by_approval, reference=reference, without=without)
        judged[number] = outcome
    settled = _instead_of(pack, judged)
    for number, grant in cited.grants.items():
        if number in settled and changed_clause(grant, number) is None:
            settled[number] = permitted(settled[number], grant)
    outcomes = tuple(settled[number] for number in wanted if only is None or number in only)
    notes = (*cited.notes, *(unused(cited.grants, outcomes) if only is None else ()))
    return Inspection(pack, car, audience, on, outcomes=outcomes, what_if=what_if, notes=notes)


def with_those_before(pack: Pack, only: Collection[str]) -> list[str]:
    """The clauses asked for, and those that may take their place, in the rulebook's order."""
    return [
        number
        for number, clause in pack.clauses.items()
        if number in only or any(replaced in only for replaced in clause.instead_of)
    ]


def _judge(clause: Clause, scene: Scene, rule: DecisionRule, on: date) -> Outcome:
    if clause.since is not None and on < clause.since:
        return Outcome(clause, not_applicable(NotInForce(since=clause.since)), None)
    if clause.until is not None and on > clause.until:
        return Outcome(clause, not_applicable(NotInForce(until=clause.until)), None)
    check, assessment = _present_or_earlier(clause, scene, rule, on)
    if assessment.outcome in (FAIL, TOO_CLOSE) and clause.act:
        assessment = replace(assessment, act=Act(Do.AS_WRITTEN, clause.act))
    return Outcome(clause, assessment, check, _penalty(clause, assessment, scene))


def _present_or_earlier(
    clause: Clause, scene: Scene, rule: DecisionRule, on: date
) -> tuple[Check | None, Assessment]:
    """The check that binds this car: an older one where its day says so. An unknown day has both judged."""
    doubtful: list[tuple[Assessment, Unknown]] = []
    for entry in clause.earlier:
        if entry.until is not None and on > entry.until:
            continue
        built = entry.by.evaluate(scene)
        if not isinstance(built, Unknown) and built >= entry.before:
            continue
        check = entry.check
        assessment = not_applicable(BindsNot(entry.before)) if check is None else judged(check, scene, rule)
        if not isinstance(built, Unknown):
            break
        doubtful.append((assessment, built))
    else:
        check, assessment = clause.check, judged(clause.check, scene, rule)
    # where the car's age is not shown: one outcome by every check it may fall under, else not shown
    other = next((unknown for older, unknown in doubtful if older.outcome != assessment.outcome), None)
    return check, assessment if other is None else not_shown(other)


def _instead_of(pack: Pack, judged: Mapping[str, Outcome]) -> dict[str, Outcome]:
    """A clause that applies takes the place of those it names; one that may apply casts doubt on them."""
    settled = dict(judged)
    for number in judged:
        for replaced in pack.clauses[number].instead_of:
            if replaced not in judged:
                continue
            mine, other = judged[number], settled[replaced]
            if other.outcome == NOT_APPLICABLE or mine.outcome == NOT_APPLICABLE:
                continue
            doubt = mine.assessment.doubt
            if doubt is None:
                told = not_applicable(Instead(number))
                settled[replaced] = replace(other, assessment=told, penalty="")
            else:
                settled[replaced] = replace(other, assessment=softened(other.assessment, doubt))
    return settled


def _penalty(clause: Clause, assessment: Assessment, scene: Scene) -> str | Statement | Unknown:
    penalty, margin = clause.penalty, assessment.margin
    if assessment.outcome != FAIL or not penalty:
        return ""
    if not isinstance(penalty, Penalty):
        return penalty
    excess = Unknown.because(NotJudged.NO_MARGIN) if margin is None else -Fraction(margin.value)
    amount = penalty.amount.evaluate(scene.bind("excess", excess))
    if isinstance(amount, Unknown):
        return amount
    unit = penalty.amount.written_unit(scene)
    if unit is None and margin is not None and margin.kind.same_measure(penalty.amount.kind):
        unit = margin.unit
    return (Amount(amount, penalty.amount.kind, unit), f" {penalty.unit}")
