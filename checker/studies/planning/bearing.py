"""Which clauses bear on a plan, and which fail whatever it does."""

from __future__ import annotations

from checker.kinds.judging.assessment import FAIL
from checker.studies.planning.lists import on_lists, touched
from checker.studies.planning.planner import WeightPlan
from checker.verdict.inspection import Inspection
from checker.verdict.outcome import Outcome


def still_failing(plan: WeightPlan) -> tuple[Outcome, ...]:
    """Clauses that count and fail whatever is moved: nothing that may be done bears on them."""
    after = plan.before if plan.found is None else plan.found.inspection
    bears = {o.clause.number for o in weight_outcomes(after, plan)}
    return tuple(o for o in after.outcomes if o.counts and o.outcome == FAIL and o.clause.number not in bears)


def weight_outcomes(inspection: Inspection, plan: WeightPlan) -> tuple[Outcome, ...]:
    """Outcomes of the clauses that bear on a plan, in the rulebook's order."""
    lists = touched(plan.model.options)
    return tuple(o for o in inspection.outcomes if o.on_weights or on_lists(o, lists))
