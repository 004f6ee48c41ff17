"""A car as a list of cars tells it: what becomes of each clause, and how nearly of those that may press most."""

from __future__ import annotations

from datetime import date

from checker.car.car import Car
from checker.kinds.judging.assessment import NOT_APPLICABLE, OUTCOMES, Assessment
from checker.pack.model import ADVISORY, Pack
from checker.verdict.clause_by_clause import ClauseByClause
from checker.verdict.inspection import Inspection
from checker.verdict.outcome import Outcome


def glance(pack: Pack, car: Car, on: date, audience: str, what_if: tuple[str, ...] = ()) -> Inspection:
    """The car judged no further than that: value, bound and margin are those of the clauses that press most.

    Args:
        pack, car, on, audience, what_if: As for `inspect_car`.
    """
    judged = ClauseByClause(pack, car, on, audience)
    found = {number: judged.outcome(number) for number in judged.numbers}
    bearing = {number for number in found if pack.clauses[number].severity != ADVISORY}
    pressing = next((one for one in OUTCOMES if one in {found[number] for number in bearing}), NOT_APPLICABLE)
    outcomes: list[Outcome] = []
    for number, outcome in found.items():
        presses = number in bearing and outcome == pressing != NOT_APPLICABLE
        told = judged.measured(number) if presses else Assessment(outcome)
        outcomes.append(Outcome(pack.clauses[number], told, None))
    return Inspection(pack, car, audience, on, outcomes=tuple(outcomes), what_if=what_if)
