"""Choosing among branches: which are open to a car, and how many may be met."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from checker.kinds.judging.acts import Act, Do
from checker.kinds.judging.assessment import (
    FAIL,
    NOT_APPLICABLE,
    NOT_SHOWN,
    PASS,
    TOO_CLOSE,
    Amount,
    Assessment,
    not_shown,
)
from checker.kinds.judging.findings import MetOf
from checker.quantities.kind import NUMBER, unite


def at_most_met(found: list[Assessment], count: int) -> Assessment:
    """At most `count` branches are met: decided if the undecided ones cannot change it.

    The margin is `count` minus the branches known to be met, in branches.
    """
    found = open_to_choice(found)
    met = [a for a in found if a.outcome == PASS]
    open_ = [a for a in found if a.outcome in (NOT_SHOWN, TOO_CLOSE)]
    margin = Amount(Fraction(count - len(met)), NUMBER)
    if len(met) > count:
        over = Amount(Fraction(len(met) - count), NUMBER)
        options = tuple(a.item or a.finding or "one branch" for a in met)
        return Assessment(
            FAIL,
            margin=margin,
            branches=tuple(found),
            unknown=unite(a.unknown for a in open_),
            act=Act(Do.GIVE_UP, amount=over, options=options),
            finding=MetOf(len(met), count, at_least=False),
        )
    if len(met) + len(open_) <= count:
        return Assessment(PASS, margin=margin, branches=tuple(found))
    outcome = NOT_SHOWN if any(a.outcome == NOT_SHOWN for a in open_) else TOO_CLOSE
    if len(met) + sum(a.outcome == NOT_SHOWN for a in open_) <= count:
        outcome = TOO_CLOSE
    return Assessment(outcome, branches=tuple(found), unknown=unite(a.unknown for a in open_))


def open_to_choice(found: Sequence[Assessment]) -> list[Assessment]:
    """Branches to choose from: one of which it is not known whether it is open to the car is not shown.

    A branch that may be closed to the car must not be what it passes by.
    """
    return [
        a
        if a.doubt is None or a.outcome == NOT_APPLICABLE
        else not_shown(unite([a.doubt, a.unknown]), branches=(a,))
        for a in found
    ]
