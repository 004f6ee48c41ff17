"""The rule by which nothing but the limit itself divides: every value is taken as exact."""

from __future__ import annotations

from collections.abc import Collection
from fractions import Fraction

from checker.kinds.judging.assessment import FAIL, PASS, Verdict
from checker.reading.quick_dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class ExactRule:
    """Met on the right side of the limit, failed on the other; nothing is too close."""

    exact: bool = True
    confidence: Fraction = Fraction(1)

    def factor(self, degrees_of_freedom: Fraction | None) -> Fraction:  # noqa: ARG002
        return Fraction(0)

    def decide(self, margin: Fraction, guard_squared: Fraction, inclusive: bool) -> Verdict:  # noqa: ARG002
        return PASS if (margin >= 0 if inclusive else margin > 0) else FAIL

    def between(self, measured: Verdict, others: Collection[Verdict]) -> Verdict:  # noqa: ARG002
        return measured


EXACTLY = ExactRule()
