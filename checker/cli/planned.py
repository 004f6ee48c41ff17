"""What an inspection says to do about weights, by a plan where the car's file tells of what may be done."""

from __future__ import annotations

from typing import TYPE_CHECKING

from checker.reading.quick_dataclasses import replace
from checker.report.amounts import Data
from checker.report.wording import UNPLANNED
from checker.verdict.inspection import Inspection
from checker.verdict.run import Request

if TYPE_CHECKING:
    from checker.studies.planning.planner import WeightPlan


def as_planned(document: Data, inspection: Inspection, request: Request, *, draw: bool = False) -> Data:
    """The document with what a plan says; as it is where none is asked for or found. Only then is a planner loaded.

    Args:
        draw: What the car can reach is drawn.
    """
    plan = _plan(inspection, request)
    if plan is None:
        return {**document, "unplanned": UNPLANNED} if _would_be_planned(inspection) else document
    from checker.report.one_car.planned import with_plan
    from checker.studies.planning.advising import SECONDS
    from checker.studies.planning.reach import reach

    return with_plan(document, plan, reach(plan, SECONDS) if draw else None)


def clause_as_planned(document: Data, inspection: Inspection, request: Request) -> Data:
    """The explanation of one clause with what a plan says; as it is where none is asked for or found."""
    plan = _plan(inspection, request)
    if plan is None:
        return document
    from checker.report.one_car.planned import outcome_by_plan

    return {**document, "outcome": outcome_by_plan(document["outcome"], plan)}


def _would_be_planned(inspection: Inspection) -> bool:
    """Whether only a what-if keeps the planner from being asked: it begins at what the car's own file says."""
    car = inspection.car
    if not inspection.what_if or not (car.planning or car.planning.places):
        return False
    from checker.studies.planning.advising import asks_for_a_plan

    return asks_for_a_plan(replace(inspection, what_if=()))


def _plan(inspection: Inspection, request: Request) -> WeightPlan | None:
    planning = inspection.car.planning
    if inspection.complies or not (planning or planning.places):
        return None
    from checker.studies.planning.advising import plan_for

    return plan_for(inspection, request)
