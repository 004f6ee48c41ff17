"""The checks of a car's clauses that must hold in a range of conditions."""

from __future__ import annotations

from collections.abc import Iterator

from checker.kinds.contract.check import Check, Combining
from checker.kinds.frame.framed import Framed
from checker.kinds.judging.assessment import NOT_APPLICABLE
from checker.pack.model import Clause
from checker.verdict.inspection import Inspection


def condition_checks(inspection: Inspection) -> Iterator[tuple[Clause, Framed]]:
    """Checks that must hold in a range of conditions, with their clauses."""
    for outcome in inspection.outcomes:
        if outcome.check is not None and outcome.outcome != NOT_APPLICABLE:
            for framed in _ranging(outcome.check):
                yield outcome.clause, framed


def _ranging(check: Check) -> Iterator[Framed]:
    """The check itself, or those of its parts that must all hold, where they range over conditions."""
    if isinstance(check, Framed) and check.conditions:
        if any(not condition.is_single for condition in check.conditions):
            yield check
    elif isinstance(check, Framed) or check.combines is Combining.ALL:
        for branch in check.branches():
            yield from _ranging(branch)
