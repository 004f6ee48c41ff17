"""How near a limit a value may come before it is too close to call: the one place where that is decided.

Sources: JCGM 106:2012 (guarded acceptance and guarded rejection); the pack's `decision` for officials. An
entrant at home wants a guarded pass: a reading that is legal by less than the gear resolves is too close.
An official fails a car only when the reading is over by more than the gear resolves (benefit to the
entrant), goes by what is displayed, or demands a proven pass (strict), as the pack says.
"""

from __future__ import annotations

from collections.abc import Collection
from fractions import Fraction
from functools import lru_cache

from checker.car.described.vocabulary import ENTRANT
from checker.kinds.judging.assessment import FAIL, NOT_APPLICABLE, NOT_SHOWN, PASS, TOO_CLOSE, Verdict
from checker.pack.model import AS_DISPLAYED, BENEFIT, Decision
from checker.reading.quick_dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Rule:
    """A decision rule for one audience."""

    audience: str
    official: str = AS_DISPLAYED
    confidence: Fraction = Fraction(95, 100)
    exact: bool = False
    """Every value is taken as exact, as in a pack's own cases."""

    def factor(self, degrees_of_freedom: Fraction | None) -> Fraction:
        """One-sided coverage factor of the confidence, to 6 decimals (95 %: 1.644854).

        Args:
            degrees_of_freedom: Of the standard uncertainty; None: it is known, and the normal distribution serves.
        """
        return coverage_factor(self.confidence, degrees_of_freedom)

    def decide(self, margin: Fraction, guard_squared: Fraction, inclusive: bool) -> Verdict:
        """pass, fail or too_close. Exact: squares are compared, so no root is taken.

        Args:
            margin: Distance to the limit, positive when legal.
            guard_squared: Square of coverage factor times standard uncertainty, in the margin's unit squared.
            inclusive: Standing on the limit passes.
        """
        met = margin >= 0 if inclusive else margin > 0
        if guard_squared and margin * margin < guard_squared:
            if self.audience == ENTRANT:
                return TOO_CLOSE
            if self.official != AS_DISPLAYED:
                met = self.official == BENEFIT
        return PASS if met else FAIL

    def between(self, measured: Verdict, others: Collection[Verdict]) -> Verdict:
        """The outcome where the car stands nearer the edge of a case than the gear resolves.

        Args:
            measured: The outcome as measured.
            others: The outcomes on the other side of such an edge, one for each.

        Returns:
            One of these outcomes, as measured where that is as good; or too close.
        """
        if all(_as_met(other) == _as_met(measured) for other in others):
            return measured
        if self.audience == ENTRANT:
            return TOO_CLOSE
        if self.official == AS_DISPLAYED:
            return measured
        order = _FAVOURING if self.official == BENEFIT else tuple(reversed(_FAVOURING))
        return min(
            (measured, *others), key=lambda one: (order.index(_as_met(one)), one != measured, one != PASS)
        )


_FAVOURING = (PASS, TOO_CLOSE, NOT_SHOWN, FAIL)
"""Outcomes, the best for the car first."""


def _as_met(outcome: Verdict) -> Verdict:
    """What does not apply binds the car no more than what is met."""
    return PASS if outcome == NOT_APPLICABLE else outcome


def rule_for(audience: str, decision: Decision) -> Rule:
    """The rule of a pack for an entrant or an official."""
    return Rule(audience, decision.official, decision.confidence)


_USUAL, _OF_THE_USUAL = Fraction(95, 100), Fraction(1644854, 10**6)
"""Where a pack says nothing else; so a plain inspection need not load what works such factors out."""


@lru_cache(maxsize=256)
def coverage_factor(confidence: Fraction, degrees_of_freedom: Fraction | None = None) -> Fraction:
    """One-sided coverage factor, to 6 decimals: of the normal distribution, or of Student's for few repeats.

    Source: JCGM 100, G.3 and G.4. Degrees of freedom are cut to the next lower whole number, as G.4.1 allows, but for
    those that would be rounded up to it anyway: 18.9987 are 19 there.
    """
    if degrees_of_freedom is None:
        if confidence == _USUAL:
            return _OF_THE_USUAL
        from statistics import NormalDist

        return Fraction(round(NormalDist().inv_cdf(float(confidence)) * 10**6), 10**6)
    from checker.quantities.student import quantile

    whole = max(1, int(degrees_of_freedom + Fraction(1, 20)))
    return Fraction(round(quantile(float(confidence), whole) * 10**6), 10**6)
