"""Worst and nearest: which of several assessments a report shows first, and how outcomes combine.

Margins of one kind and dimension are compared as they are; others by margin over the size of the bound. The
ranking only picks what is shown first: the outcome never depends on it.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from checker.kinds.judging.acts import all_of
from checker.kinds.judging.assessment import FAIL, NOT_APPLICABLE, NOT_SHOWN, PASS, TOO_CLOSE, Assessment
from checker.quantities.kind import unite
from checker.reading.quick_dataclasses import replace

ALL_ORDER = (FAIL, NOT_SHOWN, TOO_CLOSE, PASS)
ANY_ORDER = (PASS, TOO_CLOSE, NOT_SHOWN, FAIL)


def ranked(assessments: Sequence[Assessment], *, best: bool = False) -> list[Assessment]:
    """Assessments of one outcome, the least margin first (with `best` the greatest).

    Those whose margin says nothing of how near the car is, then those without a margin, come last.
    """
    kinds = {
        (a.margin.kind.name, a.margin.kind.dimension) for a in assessments if a.margin and not says_nothing(a)
    }
    by_ratio = len(kinds) > 1

    def key(assessment: Assessment) -> tuple[int, Fraction]:
        margin = assessment.margin_value
        if margin is None:
            return (2, Fraction(0))
        if says_nothing(assessment):
            return (1, Fraction(0))
        measure = margin / (assessment.size or 1) if by_ratio else margin
        return (0, -measure if best else measure)

    return sorted(assessments, key=key)


def says_nothing(assessment: Assessment) -> bool:
    """A margin of 0 that does not say how near the car is."""
    return assessment.met_by_nature and assessment.margin_value == 0


def first_of(assessments: Sequence[Assessment], order: Sequence[str]) -> str | None:
    """The outcome that comes first in `order` among those present."""
    present = {a.outcome for a in assessments}
    return next((outcome for outcome in order if outcome in present), None)


def all_hold(assessments: Sequence[Assessment]) -> Assessment:
    """Several assessments that must all be met, as one: the worst speaks, all are kept as branches.

    What is not applicable drops out; if all do, the whole is not applicable. If it is not known of any whether it
    applies, it is not known of the whole.
    """
    applicable = [a for a in assessments if a.outcome != NOT_APPLICABLE]
    outcome = first_of(applicable, ALL_ORDER)
    if outcome is None:
        finding = next((a.finding for a in assessments if a.finding), None)
        return Assessment(NOT_APPLICABLE, finding=finding, branches=tuple(assessments))
    worst = ranked([a for a in applicable if a.outcome == outcome])[0]
    doubts = [a.doubt for a in applicable]
    return replace(
        worst,
        branches=tuple(assessments),
        doubt=None if None in doubts else unite(doubt for doubt in doubts if doubt is not None),
        unknown=unite(a.unknown for a in applicable if a.outcome == NOT_SHOWN),
        act=all_of(a.act for a in applicable if a.outcome in (FAIL, TOO_CLOSE) or a.unknown.too_few),
        margin=worst.margin if outcome != NOT_SHOWN else None,
    )
