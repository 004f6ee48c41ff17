"""Judging one car by one pack: every clause in the rulebook's order.

Within the text in force, what speaks is settled in this order: the clause's own days (`since`, `until`), an
older check for older cars (`earlier`), a clause that takes another's place (`instead_of`), then guards.
Nothing here reads a file or a clock.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date
from fractions import Fraction

from checker.car.car import Car
from checker.car.scene import Scene
from checker.kinds.shared.assessment import (
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
    not_applicable,
    not_shown,
    softened,
)
from checker.kinds.shared.check import Check
from checker.kinds.shared.wording import show_value
from checker.pack.model import ADVISORY, Clause, Pack, Penalty
from checker.quantities.kind import Unknown
from checker.verdict.decision import rule_for


@dataclass(frozen=True, slots=True)
class Outcome:
    """What became of one clause."""

    clause: Clause
    assessment: Assessment
    check: Check | None
    """The check that was judged: the clause's own, or an older one; None where none was."""
    penalty: str = ""
    """What the breach costs, where the clause says."""
    reference: str = ""
    """The approval that a dispensation rests on."""

    @property
    def outcome(self) -> str:
        return self.assessment.outcome

    @property
    def counts(self) -> bool:
        """Whether it bears on the verdict: advice never does."""
        return self.clause.severity != ADVISORY


@dataclass(frozen=True, slots=True)
class Inspection:
    """One car judged by one pack on one day."""

    pack: Pack
    car: Car
    audience: str
    on: date
    outcomes: tuple[Outcome, ...]
    what_if: tuple[str, ...] = ()
    """Values that were put in place of the declared ones, as "PATH=VALUE"."""

    @property
    def tally(self) -> Mapping[str, int]:
        """How many clauses came to each outcome, in the order of `OUTCOMES`."""
        found = Counter(outcome.outcome for outcome in self.outcomes)
        return {outcome: found[outcome] for outcome in OUTCOMES}

    @property
    def complies(self) -> bool | None:
        """True: every clause that counts is met; False: one fails; None: something is too close or not shown."""
        bearing = {o.outcome for o in self.outcomes if o.counts}
        if FAIL in bearing:
            return False
        if bearing & {TOO_CLOSE, NOT_SHOWN}:
            return None
        return True if bearing & {PASS, DISPENSATION} else None


def inspect_car(
    pack: Pack, car: Car, on: date, audience: str, what_if: tuple[str, ...] = (), *, exact: bool = False
) -> Inspection:
    """Judge a car by every clause of a pack.

    Args:
        pack: The rules in force on the day.
        car: Loaded with that pack's vocabulary.
        on: The day the car is judged for.
        audience: "entrant" or "official": decides how values near a limit are taken.
        what_if: What was put in place of declared values, for the report.
        exact: Take every value as exact, so that only the limit itself divides pass from fail.
    """
    scene = Scene(car)
    rule = rule_for(audience, pack.decision)
    if exact:
        rule = replace(rule, exact=True)
    judged = {number: _judge(clause, scene, rule, on) for number, clause in pack.clauses.items()}
    settled = _instead_of(pack, judged)
    return Inspection(pack, car, audience, on, tuple(settled[number] for number in pack.clauses), what_if)


def _judge(clause: Clause, scene: Scene, rule: DecisionRule, on: date) -> Outcome:
    if clause.since is not None and on < clause.since:
        return Outcome(clause, not_applicable(f"in force from {clause.since.isoformat()}"), None)
    if clause.until is not None and on > clause.until:
        return Outcome(clause, not_applicable(f"in force until {clause.until.isoformat()}"), None)
    check, assessment = _present_or_earlier(clause, scene, rule, on)
    if assessment.outcome in (FAIL, TOO_CLOSE) and clause.act:
        assessment = replace(assessment, act=clause.act)
    return Outcome(clause, assessment, check, _penalty(clause, assessment, scene))


def _present_or_earlier(
    clause: Clause, scene: Scene, rule: DecisionRule, on: date
) -> tuple[Check | None, Assessment]:
    """The check that binds this car: an older one where its day says so. An unknown day has both judged."""
    doubtful: list[tuple[Check | None, Assessment, Unknown]] = []
    for entry in clause.earlier:
        if entry.until is not None and on > entry.until:
            continue
        built = entry.by.evaluate(scene)
        if isinstance(built, Unknown):
            older = (
                not_applicable(_binds_not(entry.before))
                if entry.check is None
                else entry.check.assess(scene, rule)
            )
            doubtful.append((entry.check, older, built))
        elif built < entry.before:
            if entry.check is None:
                check, assessment = None, not_applicable(_binds_not(entry.before))
            else:
                check, assessment = entry.check, entry.check.assess(scene, rule)
            return _same_or_not_shown(check, assessment, doubtful)
    return _same_or_not_shown(clause.check, clause.check.assess(scene, rule), doubtful)


def _binds_not(before: date) -> str:
    return f"does not bind cars from before {before.isoformat()}"


def _same_or_not_shown(
    check: Check | None, assessment: Assessment, doubtful: list[tuple[Check | None, Assessment, Unknown]]
) -> tuple[Check | None, Assessment]:
    """Where the car's age is not shown: one outcome by every check it may fall under, else not shown."""
    for _, older, unknown in doubtful:
        if older.outcome != assessment.outcome:
            return check, not_shown(unknown)
    return check, assessment


def _instead_of(pack: Pack, judged: Mapping[str, Outcome]) -> dict[str, Outcome]:
    """A clause that applies takes the place of those it names; one that may apply casts doubt on them."""
    settled = dict(judged)
    for number, clause in pack.clauses.items():
        for replaced in clause.instead_of:
            mine, other = judged[number], settled[replaced]
            if other.outcome == NOT_APPLICABLE or mine.outcome == NOT_APPLICABLE:
                continue
            doubt = mine.assessment.doubt
            if doubt is None:
                told = not_applicable(f"clause {number} applies instead")
                settled[replaced] = replace(other, assessment=told, penalty="")
            else:
                settled[replaced] = replace(other, assessment=softened(other.assessment, doubt))
    return settled


def _penalty(clause: Clause, assessment: Assessment, scene: Scene) -> str:
    if assessment.outcome != FAIL or not clause.penalty:
        return ""
    if not isinstance(clause.penalty, Penalty):
        return clause.penalty
    return _worked_out(clause.penalty, assessment.margin, scene)


def _worked_out(penalty: Penalty, margin: Amount | None, scene: Scene) -> str:
    excess = Fraction(0) if margin is None else -Fraction(margin.value)
    amount = penalty.amount.evaluate(scene.bind("excess", excess))
    if isinstance(amount, Unknown):
        return f"cannot be worked out: {'; '.join(amount.says)}"
    unit = penalty.amount.written_unit(scene)
    return f"{show_value(amount, penalty.amount.kind, unit)} {penalty.unit}".strip()
