"""What the rules ask of the total, or of a percentage of it, by itself; a bound on more than that is not among them."""

from __future__ import annotations

from collections.abc import Iterator

from checker.kinds.contract.check import Check, Combining
from checker.kinds.frame.framed import Framed
from checker.kinds.judging.assessment import NOT_APPLICABLE, Assessment
from checker.pack.model import Clause
from checker.quantities.amount import Bound
from checker.reading.quick_dataclasses import dataclass
from checker.verdict.inspection import Inspection

_NAMED = {f"percentage.{name}": name for name in ("inside", "outside", "front", "rear")}
_NAMED["weight.total"] = "total"


@dataclass(frozen=True, slots=True)
class LoadLimit:
    """A bound of one clause."""

    clause: Clause
    of: str
    """total, or whose percentage it is."""
    bound: Bound
    driver: str | None
    """ "out" or "aboard" where the state that decides says so."""


def limits_of(inspection: Inspection) -> Iterator[LoadLimit]:
    """In the rulebook's order."""
    for outcome in inspection.outcomes:
        if outcome.check is None or not outcome.counts or outcome.outcome == NOT_APPLICABLE:
            continue
        for check, found in _all_of(outcome.check, outcome.assessment):
            about = check.subject()
            of = _NAMED.get(about[0].text) if about else None
            if of is not None:
                driver = found.state.driver if found.state is not None else None
                yield from (LoadLimit(outcome.clause, of, bound, driver) for bound in found.bounds)


def _all_of(check: Check, found: Assessment) -> Iterator[tuple[Check, Assessment]]:
    """The checks that must all hold, each with what came of it."""
    below = check.branches()
    if isinstance(check, Framed) and check.many is None:
        yield from _all_of(check.check, found)
    elif check.combines is Combining.ALL and len(below) == len(found.branches):
        for branch, its in zip(below, found.branches, strict=True):
            yield from _all_of(branch, its)
    elif not below:
        yield check, found
