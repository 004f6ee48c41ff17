"""A plan of a car's weights: what to add, move and take off so that every clause on weights is met.

Floats plan and the exact engine decides. The program of `model` chooses; what it chose is written into the car's
declaration, read again and judged like any other, guarded as an entrant's car is. What rounding or a guard that grows
with the load breaks is cut off, and the program chooses again.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from fractions import Fraction

from checker.car.car import Car
from checker.car.declaration.loading import load_car
from checker.car.described.planning import Planning
from checker.car.described.vocabulary import ENTRANT
from checker.car.scene import Scene
from checker.car.weights.race_run import RaceRun
from checker.kinds.judging.assessment import (
    DISPENSATION,
    NOT_APPLICABLE,
    NOT_SHOWN,
    PASS,
    DecisionRule,
)
from checker.pack.model import Pack
from checker.quantities.kind import Unknown
from checker.reading.document import Document
from checker.reading.problems import InputError, Problem
from checker.reading.quick_dataclasses import KW_ONLY, dataclass, replace
from checker.reading.strict_yaml import parse_document
from checker.studies.planning.aims import Aim, best
from checker.studies.planning.free import with_free_ballast
from checker.studies.planning.highs import Clock
from checker.studies.planning.holding import (
    More,
    Price,
    Unresolvable,
    conflict,
    more_that_would_do,
    prices,
    unresolvable,
)
from checker.studies.planning.lists import Barred, caps_and_bars
from checker.studies.planning.model import Model
from checker.studies.planning.options import TANK, NotReckoned, Option, options_of
from checker.studies.planning.program import Solution, Status
from checker.studies.planning.race import Start, start_of
from checker.studies.planning.rows import Declined, Probing, Row, on_weights, parts, shares_of
from checker.studies.planning.written import written
from checker.verdict.decision import rule_for
from checker.verdict.inspection import Inspection, Outcome, inspect_car
from checker.verdict.run import dated

_ROUNDS = 40
"""How often the program chooses again, at most."""
_MET = (PASS, NOT_APPLICABLE, DISPENSATION)


@dataclass(frozen=True, slots=True)
class Asked:
    """What a plan is asked for."""

    aim: Aim = Aim.LEAST
    confidence: Fraction | None = None
    """How certainly every clause is to be met; None: as the pack asks."""
    seconds: float = 10.0
    """How long to look for a better plan."""
    race: bool = False
    """Clauses that ask for any fuel are to be met on the run of the race alone that the file tells of."""


@dataclass(frozen=True, slots=True)
class Found:
    """A car as it would be with a plan carried out."""

    chosen: Mapping[Option, Fraction]
    text: str
    """The declaration."""
    inspection: Inspection
    proven: bool
    """No better plan exists."""
    run: RaceRun | None = None
    """The race that it is held to alone, where it is."""


@dataclass(frozen=True)
class WeightPlan:
    """What was found."""

    before: Inspection
    """By the confidence that is asked for."""
    asked: Asked
    _: KW_ONLY
    model: Model
    found: Found | None
    """None: nothing that may be done makes the car legal, or the time was up."""
    status: Status
    left_out: tuple[NotReckoned, ...]
    declined: tuple[Declined, ...]
    """Clauses on weights that no plan can reckon with: they were judged afterwards."""
    barred: tuple[Barred, ...]
    freed: tuple[Outcome, ...]
    """Clauses on weights that an approval frees."""
    prices: tuple[Price, ...]
    """What holds the car back from being lighter."""
    conflict: tuple[str, ...]
    """Where there is no plan: what cannot hold together, as "clause 3.3"."""
    more: More | None
    """Where there is no plan: the least further ballast that would do."""
    unresolvable: tuple[Unresolvable, ...]
    """Clauses whose window is narrower than what the gear leaves open."""

    @property
    def clauses(self) -> tuple[str, ...]:
        """Numbers of those that the plan holds to."""
        of_rows = [row.clause for row in self.model.rows]
        return tuple(dict.fromkeys((*of_rows, *(cap.clause for cap in self.model.caps))))


def plan(
    pack: Pack,
    document: Document,
    car: Car,
    planning: Planning,
    on: date,
    asked: Asked,
    gear: Document | None = None,
) -> WeightPlan:
    """What to do so that every clause on weights is met.

    Args:
        pack: The rules.
        document: The car's declaration.
        car: As read from it.
        planning: All that may be done.
        on: The day it is judged for.
        asked: What the plan is to be best at, and how certain.
        gear: A club's file of its instruments.

    Raises:
        InputError: Nothing may be done, or something that a plan needs is not known; or the solver is not there.
    """
    planning = with_free_ballast(car, planning)
    start = start_of(car, planning) if asked.race else None
    if not planning and start is None:
        message = "nothing is said to be done to the car: no pieces with places, nothing movable, nothing to take off"
        hint = "add planning: to the car's file, as `checker declare` shows it, or give --shelf FILE"
        raise InputError([Problem("PL305", message, document.span(("planning",)), hint=hint)])
    if asked.confidence is not None:
        pack = replace(pack, decision=replace(pack.decision, confidence=asked.confidence))
    clock = Clock(asked.seconds)
    looked = _plan(pack, document, car, planning, on, asked, gear, start, clock)
    if start is None or looked.found is None or looked.found.run is None:
        return looked
    again = _plan(pack, document, car, planning, on, asked, gear, start.found_at(looked.found.run), clock)
    return looked if again.found is None else again


def _plan(
    pack: Pack,
    document: Document,
    car: Car,
    planning: Planning,
    on: date,
    asked: Asked,
    gear: Document | None,
    start: Start | None,
    clock: Clock,
) -> WeightPlan:
    if start is not None:
        car = replace(car, run=start.run(start.reckoned_at))
    before = inspect_car(pack, car, on, ENTRANT)
    rule = rule_for(ENTRANT, pack.decision)
    options, left_out = options_of(car, planning)
    if start is not None and start.steps:
        why = Unknown(
            reasons=("with it the fuel to start with is not settled, and only one of both is planned",)
        )
        left_out += tuple(NotReckoned(o.what, why) for o in options if o.path == TANK)[:1]
        options = tuple(option for option in options if option.path != TANK)
    caps, barred = caps_and_bars(before.outcomes, car, options)
    rows, declined, freed = rows_of(before, rule)
    model = Model(car, planning, options, rows, tuple(caps), tuple(barred), start)
    looking = _Looking(before, model, document, asked, clock, rule, gear)
    found, status = looking.found()
    return WeightPlan(
        before,
        asked,
        model=model,
        found=found,
        status=status,
        left_out=left_out,
        declined=tuple(declined),
        barred=tuple(barred),
        freed=tuple(freed),
        prices=prices(model, clock) if found is not None else (),
        conflict=conflict(model, clock) if status is Status.INFEASIBLE else (),
        more=more_that_would_do(model, clock) if status is Status.INFEASIBLE else None,
        unresolvable=unresolvable(model.rows),
    )


def rows_of(before: Inspection, rule: DecisionRule) -> tuple[list[Row], list[Declined], list[Outcome]]:
    """The rows of all clauses on weights, those that decline, and those that an approval frees."""
    rows: list[Row] = []
    declined: list[Declined] = []
    freed: list[Outcome] = []
    probing = Probing(before.car)
    for outcome in before.outcomes:
        if outcome.check is None or not on_weights(outcome.check) or outcome.outcome == NOT_APPLICABLE:
            continue
        if outcome.outcome == DISPENSATION:
            freed.append(outcome)
        elif outcome.counts:
            of_clause, why = probing.rows(outcome.clause.number, outcome.check, rule)
            rows += of_clause
            if why is not None:
                declined.append(why)
    return rows, declined, freed


@dataclass
class _Looking:
    """The search for a plan that holds."""

    before: Inspection
    model: Model
    document: Document
    asked: Asked
    clock: Clock
    rule: DecisionRule
    gear: Document | None

    def found(self) -> tuple[Found | None, Status]:
        """The first choice of the program that the exact engine passes."""
        for number in range(_ROUNDS):
            solution = best(self.model, self.asked.aim, self.clock)
            if not solution.values:
                return None, solution.status
            found = self._judged(solution)
            broken = self._broken(found.inspection)
            if not broken:
                return found, solution.status
            self._cut_off(found, broken, Fraction(4**number, 10**8))
        return None, Status.TIME

    def _judged(self, solution: Solution) -> Found:
        chosen = self.model.chosen(solution.values)
        before = self.before
        text = written(self.document, before.car, chosen)
        run = self.model.run(solution.values)
        document = dated(parse_document(text.encode(), self.document.name, "CD"), before.on)
        car = replace(load_car(document, before.pack.vocabulary, gear=self.gear), run=run)
        judged = inspect_car(before.pack, car, before.on, ENTRANT)
        return Found(chosen, text, judged, solution.status is Status.OPTIMAL, run)

    def _broken(self, after: Inspection) -> list[Outcome]:
        """Clauses that the plan is to hold and does not, and any other that it makes worse."""
        held = {row.clause for row in self.model.rows} | {cap.clause for cap in self.model.caps}
        were = {o.clause.number: o.outcome for o in self.before.outcomes}
        return [
            o
            for o in after.outcomes
            if o.counts
            and o.outcome not in _MET
            and (o.clause.number in held or (were[o.clause.number] in _MET and o.outcome != NOT_SHOWN))
        ]

    def _cut_off(self, found: Found, broken: Sequence[Outcome], little: Fraction) -> None:
        """Ask for more of every clause that does not hold: the guard as it is on the planned car, or a little more."""
        guards: dict[tuple[str, int], Fraction] = {}
        numbers = {o.clause.number for o in broken}
        scene = Scene(found.inspection.car)
        for outcome in broken:
            place = 0
            for part in parts(outcome.check, scene.car) if outcome.check is not None else ():
                if not on_weights(part.check):
                    continue
                for state in part.states:
                    for _, guard, _ in shares_of(part.assess(scene, state, self.rule)):
                        guards[outcome.clause.number, place] = guard
                        place += 1
        tighter = []
        for row in self.model.rows:
            if row.clause in numbers:
                wanted = guards.get((row.clause, row.place), row.guard)
                row = replace(row, guard=max(wanted, row.guard + little))
            tighter.append(row)
        self.model.tighten(tighter)
