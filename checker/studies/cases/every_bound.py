"""Which bounds a clause has, and which of them decided: a case for one says nothing of another.

A limit has two sides, and a combination a bound in each branch. Entries of a list share the bounds of their check.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from fractions import Fraction
from typing import NamedTuple

from checker.kinds.judging.assessment import Assessment, Bound
from checker.quantities.display import decimal_text, show
from checker.quantities.sense import Sense

_SCALES = (Sense.AT_LEAST, Sense.ABOVE, Sense.AT_MOST, Sense.BELOW, Sense.NOMINAL, Sense.VALID_UNTIL)


class WhichBound(NamedTuple):
    """A bound of a clause."""

    branches: tuple[int, ...]
    """Which branch of each combination, outermost first."""
    sense: Sense
    upper: bool
    """The value may not be more; of a nominal value there are both."""


def bounds_of(found: Assessment, branches: tuple[int, ...] = ()) -> Iterator[tuple[WhichBound, Bound]]:
    """Every bound that a value may stand on by degrees."""
    for at, branch in enumerate(found.branches):
        yield from bounds_of(branch, branches if branch.item else (*branches, at))
    if found.branches or found.margin is None:
        return
    for bound in found.bounds:
        if bound.sense is Sense.NOMINAL:
            yield from ((WhichBound(branches, bound.sense, upper), bound) for upper in (False, True))
        elif bound.sense in _SCALES:
            yield WhichBound(branches, bound.sense, _is_upper(bound.sense)), bound


def deciding(found: Assessment, branches: tuple[int, ...] = ()) -> WhichBound | None:
    """The bound that decided; None where none did."""
    for at, branch in enumerate(found.branches):
        if branch.outcome == found.outcome and branch.margin_value == found.margin_value:
            return deciding(branch, branches if branch.item else (*branches, at))
    if found.branches or not found.bounds or found.margin is None:
        return None
    bound = found.bounds[0]
    if bound.sense is Sense.NOMINAL and found.value is not None and bound.amount is not None:
        return WhichBound(branches, bound.sense, bool(found.value.value > bound.amount.value))
    return WhichBound(branches, bound.sense, _is_upper(bound.sense))


def _is_upper(sense: Sense) -> bool:
    return sense.is_upper or sense is Sense.VALID_UNTIL


def bound_words(which: WhichBound, bound: Bound) -> str:
    """As in "at most 53 %", "above nominal 10 mm"."""
    side = ("above " if which.upper else "below ") if which.sense is Sense.NOMINAL else ""
    value, unit = (None, None) if bound.amount is None else (bound.amount.value, bound.amount.unit)
    if isinstance(value, date):
        told = value.isoformat()
    elif isinstance(value, (Fraction, int)):
        told = decimal_text(Fraction(value)) if unit is None else show(Fraction(value), unit)
    else:
        told = "a bound" if value is None else str(value)
    return f"{side}{which.sense.words} {told}"
