"""The uncertainty of a margin, by the law of propagation (JCGM 100, 5.1.2 and 5.2.2).

The margin is computed again with each source of error moved by a tiny step; exact arithmetic makes the
quotient of the differences the sensitivity itself. Sources that several values share move them together, so
correlation needs no extra term, and a share whose numerator is part of its denominator comes out right.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction
from statistics import NormalDist
from typing import TYPE_CHECKING

from checker.car.scene import Scene
from checker.car.sources import WEIGHTS, Source
from checker.kinds.shared.assessment import Contribution, DecisionRule, Spread
from checker.quantities.kind import Unknown

if TYPE_CHECKING:
    from collections.abc import Iterable

STEP = Fraction(1, 10**9)
"""In base units: small against any measurement, and exact arithmetic loses nothing."""

Compute = Callable[[Scene], Fraction | Unknown]


@dataclass(frozen=True, slots=True)
class Sensitivity:
    """How a result follows one source of error."""

    source: Source
    slope: Fraction
    """Change of the result per base unit of the source."""

    @property
    def variance(self) -> Fraction:
        """What the source adds to the result's variance."""
        return self.slope * self.slope * self.source.variance


def relevant(scene: Scene, uses: Iterable[str]) -> tuple[Source, ...]:
    """The sources of error that a formula which uses these names can depend on."""
    names = set(uses)
    if any(name.startswith(("weight.", "percentage.")) for name in names):
        names.add(WEIGHTS)
    return tuple(source for source in scene.car.sources if not names.isdisjoint(source.moves))


def sensitivities(compute: Compute, scene: Scene, uses: Iterable[str]) -> tuple[Sensitivity, ...]:
    """How `compute` follows each source that it depends on; none where its value is unknown."""
    sources = relevant(scene, uses)
    if not sources:
        return ()
    here = compute(scene)
    if isinstance(here, Unknown):
        return ()
    found: list[Sensitivity] = []
    for source in sources:
        there = compute(scene.moved(source, STEP))
        if isinstance(there, Unknown):
            continue
        slope = (there - here) / STEP
        if slope:
            found.append(Sensitivity(source, slope))
    return tuple(found)


def variance_of(found: Iterable[Sensitivity]) -> Fraction:
    """The variance of a result: the sum over independent sources."""
    return sum((s.variance for s in found), Fraction(0))


def spread_of(
    found: tuple[Sensitivity, ...], margins: tuple[Fraction, ...], rule: DecisionRule
) -> Spread | None:
    """The spread of a margin; None where it is exact.

    Args:
        found: How the margin follows each source.
        margins: Distances to every bound that the value is held to, for the probability of conformity.
        rule: Gives the coverage factor.
    """
    variance = variance_of(found)
    if variance == 0:
        return None
    by_name: dict[str, Contribution] = {}
    for one in found:
        name = one.source.name
        before = by_name.get(name)
        total = one.variance + (before.variance if before else 0)
        by_name[name] = Contribution(name, total, one.source.advice)
    contributions = tuple(sorted(by_name.values(), key=lambda c: c.variance, reverse=True))
    factor = rule.factor(effective_degrees(found))
    return Spread(variance, factor, contributions, probability_of(margins, variance))


def effective_degrees(found: Iterable[Sensitivity]) -> Fraction | None:
    """Effective degrees of freedom by the Welch-Satterthwaite formula (JCGM 100, G.4.1); None: infinite."""
    estimated = Fraction(0)
    variance = Fraction(0)
    for one in found:
        variance += one.variance
        if one.source.degrees_of_freedom is not None:
            estimated += one.variance**2 / one.source.degrees_of_freedom
    return variance**2 / estimated if estimated else None


def probability_of(margins: tuple[Fraction, ...], variance: Fraction) -> float:
    """The probability that the true value keeps every bound (JCGM 106, 7.2: normal distribution)."""
    standard = math.sqrt(variance)
    inside = sum(NormalDist().cdf(float(margin) / standard) for margin in margins)
    return max(0.0, inside - (len(margins) - 1))


def guard_band(spread: Spread) -> Fraction:
    """Coverage factor times standard uncertainty, rounded up in the ninth digit: for acts, never for verdicts."""
    band = float(spread.factor) * math.sqrt(spread.variance)
    return Fraction(band * (1 + 1e-9))


def settling(spread: Spread, margin: Fraction) -> str:
    """What else would settle a margin that is nearer the limit than the gear resolves, as the end of a sentence."""
    if margin * margin >= spread.factor**2 * spread.variance:
        return ""
    largest = spread.contributions[0]
    advice = f": {largest.advice}" if largest.advice else ""
    return f" (mostly {largest.name}{advice})"
