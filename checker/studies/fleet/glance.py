"""A car as a list of cars tells it: what becomes of each clause, and how nearly of those that may press most."""

from __future__ import annotations

from datetime import date

from checker.car.car import Car
from checker.kinds.judging.assessment import NOT_APPLICABLE, OUTCOMES, Assessment
from checker.pack.model import Pack
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
    bearing = {
        number for number in found if Outcome(pack.clauses[number], Assessment(found[number]), None).counts
    }
    pressing = next((one for one in OUTCOMES if one in {found[number] for number in bearing}), NOT_APPLICABLE)
    outcomes = tuple(
        Outcome(
            pack.clauses[number],
            judged.measured(number)
            if number in bearing and outcome == pressing != NOT_APPLICABLE
            else Assessment(outcome),
            None,
        )
        for number, outcome in found.items()
    )
    return Inspection(pack, car, audience, on, outcomes=outcomes, what_if=what_if)
