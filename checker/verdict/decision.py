"""How near a limit a value may come before it is too close to call: the one place where that is decided.

Sources: JCGM 106:2012 (guarded acceptance and guarded rejection); the pack's `decision` for officials.
An entrant at home wants a guarded pass: a reading that is legal by less than the gear resolves is too close. An
official fails a car only when the reading is over by more than the gear resolves (benefit to the entrant), goes by what is
displayed, or demands a proven pass (strict), as the pack says.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from statistics import NormalDist

from checker.car.vocabulary import ENTRANT
from checker.kinds.shared.assessment import FAIL, PASS, TOO_CLOSE
from checker.pack.model import AS_DISPLAYED, BENEFIT, Decision


@dataclass(frozen=True, slots=True)
class Rule:
    """A decision rule for one audience."""

    audience: str
    official: str = AS_DISPLAYED
    factor: Fraction = Fraction(0)
    """One-sided coverage factor of the pack's confidence, e.g. 1.645 for 95 %."""

    def decide(self, margin: Fraction, standard: Fraction, inclusive: bool) -> str:
        """pass, fail or too_close.

        Args:
            margin: Distance to the limit, positive when legal.
            standard: Its standard uncertainty, in the same unit; 0 for an exact value.
            inclusive: Standing on the limit passes.
        """
        met = margin >= 0 if inclusive else margin > 0
        guard = self.factor * standard
        if guard == 0:
            return PASS if met else FAIL
        if self.audience == ENTRANT:
            if margin >= guard:
                return PASS
            return FAIL if margin <= -guard else TOO_CLOSE
        if self.official == AS_DISPLAYED:
            return PASS if met else FAIL
        if self.official == BENEFIT:
            if met:
                return PASS
            return FAIL if margin < -guard else TOO_CLOSE
        return PASS if margin >= guard else FAIL


def rule_for(audience: str, decision: Decision) -> Rule:
    """The rule of a pack for an entrant or an official."""
    return Rule(audience, decision.official, coverage_factor(decision.confidence))


def coverage_factor(confidence: Fraction) -> Fraction:
    """One-sided coverage factor of the standard normal distribution, to 6 decimals (0.95: 1.644854)."""
    return Fraction(round(NormalDist().inv_cdf(float(confidence)) * 10**6), 10**6)
