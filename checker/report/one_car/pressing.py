"""Which clauses of an inspection press most."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from checker.kinds.judging.assessment import NOT_APPLICABLE, OUTCOMES, PASS, Amount, Assessment
from checker.kinds.judging.ranking import ranked
from checker.verdict.inspection import Outcome


def most_pressing(outcomes: Iterable[Outcome]) -> list[str]:
    """Numbers of clauses, the most pressing first.

    First what fails, by the most; then what is too close, not shown, under a dispensation; then what is met, with the
    least in hand: what is measured before what is only counted (bolts, bars, grades), where standing on the limit
    is the rule. Left out are advisory clauses, and those met of which a margin says nothing (lists, bans, truths).
    """
    bearing = [o for o in outcomes if o.counts and o.outcome != NOT_APPLICABLE]
    groups = [[o for o in bearing if o.outcome == kind] for kind in OUTCOMES if kind != PASS]
    met = [o for o in bearing if o.outcome == PASS and _has_margin(o.assessment)]
    groups.append([o for o in met if not _is_counted(o.assessment.margin)])
    groups.append([o for o in met if _is_counted(o.assessment.margin)])
    return [number for group in groups for number in _ranked(group)]


def _ranked(outcomes: list[Outcome]) -> list[str]:
    numbers = {id(outcome.assessment): outcome.clause.number for outcome in outcomes}
    return [numbers[id(found)] for found in ranked([outcome.assessment for outcome in outcomes])]


def _has_margin(found: Assessment) -> bool:
    return found.margin is not None and not (found.met_by_nature and found.margin.value == 0)


def _is_counted(margin: Amount | None) -> bool:
    """A whole number without a unit."""
    return margin is not None and margin.unit is None and Fraction(margin.value).denominator == 1
