"""From the record to a verdict: the declaration, what officials measured over it, and the frozen pack.

Judging again after one more reading asks only the clauses that what changed can touch; the others keep the outcome they
had. `verify` always asks them all, so a verdict that was recorded is checked without this shortcut.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping
from datetime import date
from typing import Any, Generic, TypeVar

from checker.car.car import Car
from checker.car.declaration.loading import load_car
from checker.kinds.judging.assessment import NOT_APPLICABLE, Assessment, not_shown
from checker.kinds.judging.findings import InWords
from checker.meeting.record.car_contents import Judged
from checker.meeting.record.car_day import CarDay
from checker.meeting.record.day import Day
from checker.meeting.record.refusal import problem
from checker.meeting.session.dependence import (
    WEIGHTS,
    changed_names,
    clauses_that_follow,
    may_weigh,
    verified,
)
from checker.meeting.session.procedure import Procedure
from checker.meeting.session.readings import as_file, gauged, readings_of
from checker.meeting.session.reasons import NotSettled
from checker.meeting.session.stating import gauge_words
from checker.pack.model import Pack
from checker.quantities.kind import Unknown
from checker.quantities.reason import Reason
from checker.reading.document import Document
from checker.reading.problems import InputError, Problem
from checker.reading.quick_dataclasses import dataclass, replace
from checker.reading.strict_yaml import parse_document
from checker.reading.values import Plain
from checker.verdict.clause_by_clause import ClauseByClause
from checker.verdict.inspection import Inspection, Outcome, inspect_car

OFFICIAL = "official"
YES, NO, OPEN = "yes", "no", "open"


@dataclass(frozen=True, slots=True)
class Judgement:
    """One car as judged from the record."""

    inspection: Inspection
    occasion: str
    rests_on: int
    """The entry of the record up to which was looked."""
    verified: Mapping[str, str]
    """By clause: on whose word it rests, as `checker.meeting.session.dependence` says."""
    open_because: tuple[Reason, ...] = ()
    """Why the weighings settle nothing; none where they do."""

    @property
    def doubts(self) -> list[Problem]:
        """The same as warnings, each with the car and the cure."""
        hint = "weigh it again, correct the reading, or look and say why it is right: --confirm REASON"
        car = self.inspection.car.number
        return [
            problem("MT314", f"car {car} is left open: {reason.told()}", hint, warning=True)
            for reason in self.open_because
        ]

    def advised(self) -> Judgement:
        """The same with what there is to do tried on the car, for whoever is told it."""
        from checker.verdict.advice import advised

        return replace(self, inspection=advised(self.inspection))

    def left_open(self, reasons: tuple[Reason, ...], clauses: Collection[str]) -> Judgement:
        """The same with these clauses not shown, for these reasons, whatever came out."""
        unknown = Unknown(reasons=reasons)
        outcomes = tuple(
            replace(o, assessment=not_shown(unknown), penalty="")
            if o.clause.number in clauses and o.outcome != NOT_APPLICABLE
            else o
            for o in self.inspection.outcomes
        )
        return replace(self, inspection=replace(self.inspection, outcomes=outcomes), open_because=reasons)

    @property
    def complies(self) -> str:
        """`YES`, `NO`, or `OPEN` where something is too close or not shown."""
        return {True: YES, False: NO, None: OPEN}[self.inspection.complies]

    def as_content(self, program: str) -> Judged:
        """What is recorded of it."""
        outcomes = {o.clause.number: o.outcome.value for o in self.inspection.outcomes}
        margins = {
            o.clause.number: exact_margin(o.assessment)
            for o in self.inspection.outcomes
            if o.assessment.margin is not None
        }
        return Judged(
            self.inspection.car.number,
            self.occasion,
            self.rests_on,
            self.complies,
            outcomes=outcomes,
            margins=margins,
            program=program,
            doubt="; ".join(reason.told() for reason in self.open_because),
        )


def exact_margin(assessment: Assessment) -> str:
    """A margin as "n/d unit", exact."""
    margin = assessment.margin
    if margin is None:
        return ""
    value = margin.value if margin.unit is None else margin.value / margin.unit.factor
    return f"{value} {margin.unit.name if margin.unit else ''}".strip()


T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class _Kept(Generic[T]):
    """What was made of a car by its declaration and readings: the car that is read, or its outcomes before gauges were
    looked at from their far end."""

    declaration: Document
    readings: Mapping[str, Any]
    made: T


class Judge:
    """Judges the cars of one meeting, and remembers the last judgement of each."""

    def __init__(self, pack: Pack, on: date, procedure: Procedure, gear: Document | None) -> None:
        self.pack = pack
        self.on = on
        self.procedure = procedure
        self.gear = gear
        """The meeting's own description of its gear, if it brought one."""
        self._looks_at = {number: clause.looks_at for number, clause in pack.clauses.items()}
        self.on_weights = clauses_that_follow(pack, self._looks_at, {WEIGHTS})
        """The clauses that a weighing can touch."""
        self._last: dict[str, _Kept[Mapping[str, Outcome]]] = {}
        self._loaded: dict[str, _Kept[Car]] = {}
        self._declared: dict[str, Car] = {}

    def car(self, declaration: Document, readings: Mapping[str, Any]) -> Car:
        """A car as declared, with readings over it.

        Raises:
            InputError: CDxxx and RDxxx.
        """
        number = readings["car"]["number"]
        last = self._loaded.get(number)
        if last is None or last.declaration is not declaration or last.readings != readings:
            document = parse_document(as_file(readings), f"readings of car {number}", "RD")
            car = load_car(declaration, self.pack.vocabulary, document, audience=OFFICIAL, gear=self.gear)
            last = self._loaded[number] = _Kept(declaration, readings, car)
        return last.made

    def readable(self, declaration: Document, readings: Mapping[str, Plain]) -> Car:
        """The same car, to see whether it can be read at all.

        Raises:
            InputError: CDxxx and RDxxx, these without places in a readings file that nobody wrote by hand.
        """
        try:
            return self.car(declaration, readings)
        except InputError as error:
            raise InputError(
                replace(p, span=None) if p.code.startswith("RD") else p for p in error.problems
            ) from None

    def declared(self, declaration: Document) -> Car:
        """A car as its entrant declares it, believed in everything.

        Raises:
            InputError: CDxxx.
        """
        if declaration.sha256 not in self._declared:
            self._declared[declaration.sha256] = load_car(declaration, self.pack.vocabulary)
        return self._declared[declaration.sha256]

    def readings(self, day: Day, car: CarDay, occasion: str, far: str = "") -> dict[str, Any]:
        """The readings of a car; see `readings_of`."""
        return readings_of(day, car, occasion, self.pack.vocabulary, self.procedure, far)

    def judge(
        self,
        day: Day,
        car: CarDay,
        declaration: Document,
        occasion: str,
        *,
        afresh: bool = False,
        measured: bool = False,
    ) -> Judgement:
        """The verdict on a car.

        Args:
            day: The state of the record.
            car: The car in it.
            declaration: The car's file.
            occasion: Whose weighing counts.
            afresh: Ask every clause, whatever was found before.
            measured: The same, but of what is found only outcomes and margins count, as in the record.

        Raises:
            InputError: The declaration or a reading cannot be used.
        """
        readings = self.readings(day, car, occasion)
        near = self.car(declaration, readings)
        if measured:
            inspection = self._measured(near, gauged(car))
            outcomes = {o.clause.number: o for o in inspection.outcomes}
        else:
            touched = None if afresh or near.approvals else self._touched(car.number, declaration, readings)
            inspection = inspect_car(self.pack, near, self.on, OFFICIAL, only=touched)
            outcomes = {o.clause.number: o for o in inspection.outcomes}
            if touched is not None:
                outcomes = {**self._last[car.number].made, **outcomes}
            self._last[car.number] = _Kept(declaration, readings, outcomes)
        for fact in gauged(car):
            far = self.car(declaration, self.readings(day, car, occasion, fact))
            told = car.facts()[fact].content
            outcomes = self._at_both_ends(outcomes, fact, far, gauge_words(told.value, told.gauge))
        in_order = tuple(outcomes[number] for number in self.pack.clauses)
        rests = {
            number: verified(names, near, seen=number in car.seen())
            for number, names in self._looks_at.items()
        }
        return Judgement(replace(inspection, outcomes=in_order), occasion, day.number, rests)

    def _measured(self, car: Car, told_by_gauges: Collection[str]) -> Inspection:
        """Every clause with its outcome and margin; those that look at what a gauge told, with all that is found."""
        clauses = ClauseByClause(self.pack, car, self.on, OFFICIAL)
        outcomes = tuple(
            Outcome(clause, clauses.measured(number), None)
            if self._looks_at[number].isdisjoint(told_by_gauges)
            else clauses.whole(number)
            for number, clause in self.pack.clauses.items()
        )
        return Inspection(self.pack, car, OFFICIAL, self.on, outcomes=outcomes)

    def _touched(self, number: str, declaration: Document, readings: Mapping[str, Plain]) -> set[str] | None:
        """The clauses that anything new touches since the last judgement; None: there is none to go on from."""
        last = self._last.get(number)
        if last is None or last.declaration is not declaration:
            return None
        changed = changed_names(last.readings, readings, self.pack.vocabulary)
        return clauses_that_follow(self.pack, self._looks_at, changed)

    def _at_both_ends(
        self, outcomes: Mapping[str, Outcome], fact: str, far: Car, words: str
    ) -> dict[str, Outcome]:
        """What a gauge tells settles a clause only where both ends of it come to the same outcome."""
        settled = dict(outcomes)
        touched = clauses_that_follow(
            self.pack, self._looks_at, {fact, WEIGHTS} if may_weigh(fact) else {fact}
        )
        at_far = ClauseByClause(self.pack, far, self.on, OFFICIAL, only=touched)
        for number in at_far.numbers:
            near = outcomes[number]
            if at_far.outcome(number) != near.outcome:
                unknown = Unknown.because(NotSettled.GAUGE_TELLS, fact, words)
                settled[number] = replace(near, assessment=not_shown(unknown), penalty="")
            elif fact in self._looks_at[number] and not near.assessment.branches and near.assessment.value:
                told = replace(
                    near.assessment, margin=None, value=None, finding=InWords(f"{fact} is {words}")
                )
                settled[number] = replace(near, assessment=told)
        return settled
