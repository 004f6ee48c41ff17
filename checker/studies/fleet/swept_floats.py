"""What floats tell of a clause at each value of a swept number, by one function that takes the number as it comes."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from fractions import Fraction

from checker.car.car import Car
from checker.kinds.contract.check import walk
from checker.kinds.judging.assessment import Verdict
from checker.pack.model import Clause, Pack
from checker.quantities.formula.expression import Expression
from checker.studies.fleet.swept_number import Number
from checker.verdict.filtered import SweptBound, told_by_floats


class SweptFloats:
    """The clause of a number in floats, told by the pack with two values of it."""

    def __init__(self, number: Number, low: Pack, high: Pack) -> None:
        self._pack, self._clause = low, number.clause
        self._bound = _bound(number, low, high)

    def outcome(self, car: Car, value: Fraction, on: date, audience: str, *, exact: bool) -> Verdict | None:
        """What becomes of the clause at a value, in base units; None: the exact engine is to be asked."""
        if self._bound is None:
            return None
        swept, only = SweptBound(self._bound, value), [self._clause]
        told = told_by_floats(self._pack, car, on, audience, exact=exact, only=only, swept=swept)
        return told[self._clause].outcome if self._clause in told else None


def _bound(number: Number, low: Pack, high: Pack) -> Expression | None:
    """The number as a bound to which a limit holds something: nothing else of the clause differs, and no name stands
    for it.
    """
    formulas = [list(_formulas(pack.clauses[number.clause])) for pack in (low, high)]
    differing = [
        (role, one) for (role, one), (_, other) in zip(*formulas, strict=True) if one.text != other.text
    ]
    if len(differing) != 1 or not number.one_sided:
        return None
    ((role, found),) = differing
    return found if role == number.sense and found.constant and found.kind.is_measure else None


def _formulas(clause: Clause) -> Iterator[tuple[str, Expression]]:
    for check in clause.checks:
        for part in walk(check):
            if not part.branches():
                yield from part.expressions()
