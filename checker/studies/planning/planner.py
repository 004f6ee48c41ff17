"""A plan of a car's weights: what to add, move and take off so that every clause on weights is met.

Floats plan and the exact engine decides. The program of `model` chooses; what it chose is written into the car's
declaration, read again and judged like any other, guarded as an entrant's car is. What rounding or a guard that grows
with the load breaks is cut off, and the program chooses again.
"""

from __future__ import annotations

from datetime import date

from checker.car.car import Car
from checker.car.described.planning import Planning
from checker.car.described.vocabulary import ENTRANT
from checker.kinds.judging.assessment import DISPENSATION, FAIL, NOT_APPLICABLE, DecisionRule
from checker.pack.model import Pack
from checker.reading.document import Document
from checker.reading.problems import InputError, Problem
from checker.reading.quick_dataclasses import KW_ONLY, dataclass, replace
from checker.studies.planning.free import with_free_ballast
from checker.studies.planning.highs import Clock
from checker.studies.planning.holding import More, Price, Unresolvable, conflict, prices, unresolvable
from checker.studies.planning.lists import Barred, caps_and_bars, on_lists, touched
from checker.studies.planning.looking import Asked, Found, Looking
from checker.studies.planning.model import Model
from checker.studies.planning.options import NotReckoned, options_of
from checker.studies.planning.program import Status
from checker.studies.planning.race import Start, options_beside, start_of
from checker.studies.planning.rows import Declined, Probing, Row, on_weights
from checker.studies.planning.widening import Wider, changes_that_would_do, more_that_holds
from checker.verdict.decision import rule_for
from checker.verdict.inspection import Inspection, Outcome, inspect_car


@dataclass(frozen=True)
class WeightPlan:
    before: Inspection
    """By the confidence that is asked for."""
    asked: Asked
    _: KW_ONLY
    model: Model
    found: Found | None
    """None: nothing that may be done makes the car legal, the time was up, or a clause on weights is not shown."""
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
    wider: tuple[Wider, ...]
    """Where there is no plan: what could be let be done more of, each of which would do; the least first."""
    unresolvable: tuple[Unresolvable, ...]
    """Clauses whose window is narrower than what the gear leaves open."""

    @property
    def clauses(self) -> tuple[str, ...]:
        """Numbers of those that the plan holds to."""
        of_rows = [row.clause for row in self.model.rows]
        return tuple(dict.fromkeys((*of_rows, *(cap.clause for cap in self.model.caps))))

    @property
    def is_lacking(self) -> bool:
        """Whether a clause on weights cannot be planned for because of what is not stated."""
        return self.status is Status.NOT_SHOWN


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
        planning: All that may be done.
        asked: What the plan is to be best at, and how certain.
        gear: A club's file of its instruments.

    Raises:
        InputError: Nothing may be done, or something that a plan needs is not known; or the solver is not there.
    """
    planning = with_free_ballast(car, planning)
    start = start_of(car, planning) if asked.race else None
    if not planning and start is None:
        raise InputError([_nothing_to_do(planning, document)])
    if asked.confidence is not None:
        pack = replace(pack, decision=replace(pack.decision, confidence=asked.confidence))
    clock = Clock(asked.seconds)
    looked = _plan(pack, document, car, planning, on, asked, gear, start, clock)
    if start is None or looked.found is None or looked.found.run is None:
        return looked
    again = _plan(pack, document, car, planning, on, asked, gear, start.found_at(looked.found.run), clock)
    return looked if again.found is None else again


def _nothing_to_do(planning: Planning, document: Document) -> Problem:
    if planning.shelf:
        message = "the shelf has pieces, but the car's file names no places for them"
        hint = (
            "add them under planning: in its file, as in places: [{name: left box, at: {...}, most: 10 kg}]"
        )
    else:
        message = "nothing is said to be done to the car: no pieces with places, nothing movable, nothing to take off"
        hint = "add planning: to the car's file, as `checker declare` shows it, or give --shelf a file that says so"
    return Problem("PL305", message, document.span(("planning",)), hint=hint)


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
    options, left_out = options_beside(start, *options_of(car, planning))
    caps, barred = caps_and_bars(before.outcomes, car, options)
    rows, declined, freed = rows_of(before, rule)
    model = Model(car, planning, options, rows, tuple(caps), tuple(barred), start)
    looking = Looking(before, model, document, asked, clock, rule, gear)
    lacking = any(one.not_shown for one in declined)
    found, status = (None, Status.NOT_SHOWN) if lacking else looking.found()
    nothing = status is Status.INFEASIBLE and asked.why
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
        conflict=conflict(model, clock) if nothing else (),
        more=more_that_holds(looking) if nothing else None,
        wider=changes_that_would_do(looking) if nothing else (),
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
                all_of_it = outcome.assessment.unknown
                declined.append(replace(why, why=all_of_it) if why.not_shown and all_of_it.is_told else why)
    return rows, declined, freed


def still_failing(plan: WeightPlan) -> tuple[Outcome, ...]:
    """Clauses that count and fail whatever is moved: nothing that may be done bears on them."""
    after = plan.before if plan.found is None else plan.found.inspection
    bears = {o.clause.number for o in weight_outcomes(after, plan)}
    return tuple(o for o in after.outcomes if o.counts and o.outcome == FAIL and o.clause.number not in bears)


def weight_outcomes(inspection: Inspection, plan: WeightPlan) -> tuple[Outcome, ...]:
    """Outcomes of the clauses that bear on a plan, in the rulebook's order."""
    lists = touched(plan.model.options)
    return tuple(o for o in inspection.outcomes if o.on_weights or on_lists(o, lists))
