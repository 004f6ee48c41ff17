"""Advice on weights from the planner, for an inspection: what to do with what the car's own file tells of, where."""

from __future__ import annotations

from typing import TYPE_CHECKING

from checker.car.described.vocabulary import ENTRANT
from checker.kinds.judging.assessment import FAIL, TOO_CLOSE
from checker.reading.problems import InputError
from checker.studies.planning.highs import is_there
from checker.verdict.inspection import Inspection, Outcome
from checker.verdict.run import Request

if TYPE_CHECKING:
    from checker.studies.planning.planner import WeightPlan

SECONDS = 3.0
"""How long an inspection waits for a better plan."""


def asks_for_a_plan(inspection: Inspection) -> bool:
    """Whether a clause on weights is not met by an entrant's own car, and its file says what may be done about it."""
    car = inspection.car
    if inspection.audience != ENTRANT or inspection.what_if or car.readings_sha256 or car.pad_doubts:
        return False
    return bool(car.planning or car.planning.places) and any(map(is_broken, inspection.outcomes))


def is_broken(outcome: Outcome) -> bool:
    return outcome.counts and outcome.on_weights and outcome.outcome in (FAIL, TOO_CLOSE)


def plan_for(inspection: Inspection, request: Request) -> WeightPlan | None:
    """A plan that mends what the inspection of a request found on weights; None where none is asked for, or found."""
    if not asks_for_a_plan(inspection) or not is_there():
        return None
    from checker.studies.planning.looking import Asked
    from checker.studies.planning.request import plan_request

    try:
        found = plan_request(request, None, Asked(seconds=SECONDS, why=False))
    except InputError:  # a file that a plan cannot be written into is inspected all the same
        return None
    return None if found.found is None or found.before.car.sha256 != inspection.car.sha256 else found
