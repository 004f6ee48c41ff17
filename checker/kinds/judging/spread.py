"""The uncertainty of a margin, by the law of propagation (JCGM 100, 5.1.2 and 5.2.2).

The margin is computed again with each source of error moved by a tiny step. In exact arithmetic nothing is lost in
the difference, so its quotient is the sensitivity to a dozen digits, however the formula is written. Sources that
several values share move them together, so correlation needs no extra term, and a share whose numerator is part of
its denominator comes out right.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Collection, Iterable
from fractions import Fraction

from checker.car.errors.every import sources_of
from checker.car.errors.followed import STEEP, STEP, TOLD, gain
from checker.car.errors.sources import ErrorSource
from checker.car.errors.unstated import places_aside, unstated
from checker.car.scene import Scene, entries_bound
from checker.car.weights.geometry import MaybeFraction
from checker.car.weights.places import rests_on
from checker.car.weights.weights import share_of
from checker.kinds.judging.acts import Unresolved
from checker.kinds.judging.assessment import Contribution, DecisionRule, Spread
from checker.quantities.elementary import sqrt
from checker.quantities.kind import Unknown, where_known
from checker.reading.quick_dataclasses import dataclass

Compute = Callable[[Scene], "tuple[Fraction, ...] | Unknown"]
Moving = Callable[[ErrorSource, Fraction], "tuple[Fraction, ...] | Unknown"]
"""The same with what a source moves moved by so much."""


@dataclass(frozen=True, slots=True)
class Sensitivity:
    """How a result follows one source of error."""

    source: ErrorSource
    slope: Fraction
    """Change of the result per base unit of the source."""
    variance: Fraction
    """What the source adds to the result's variance."""


def relevant(scene: Scene, uses: Collection[str]) -> tuple[ErrorSource, ...]:
    """The sources of error that a formula which uses these names can depend on.

    A formula that does not name a list as a whole sees only the entries that a check has bound.
    """
    names = rests_on(scene.car, uses)
    if _weights_in(names):
        names |= scene.car.weights_rest_on(scene.state, scene.weighing)
    return sources_of(scene.car, names, entries_bound(scene.names))


def taken_as_exact(scene: Scene, uses: Collection[str]) -> tuple[str, ...]:
    """Names of the readings that such a formula rests on and that have no stated error."""
    names = rests_on(scene.car, uses)
    weights = _weights_in(names)
    if weights:
        behind = scene.car.weights_rest_on(scene.state, scene.weighing)
        names |= places_aside(behind) if weights == {"weight.total"} else behind
    return unstated(scene.car, names, entries_bound(scene.names))


def _weights_in(names: Iterable[str]) -> set[str]:
    return {name for name in names if is_weight(name)}


def is_weight(name: str) -> bool:
    """Whether a name is that of a weight or percentage, which the whole weighing stands behind."""
    return name.startswith(("weight.", "percentage."))


def sensitivities(
    compute: Compute,
    scene: Scene,
    sources: Iterable[ErrorSource],
    uses: frozenset[str],
    here: tuple[Fraction, ...],
    moving: Moving | None = None,
) -> tuple[tuple[Sensitivity, ...], ...] | Unknown:
    """How several results follow each source of error.

    Args:
        compute: Gives the results in a scene.
        sources: All that may matter, as by `relevant`.
        uses: Names that the results are made of.
        here: The results in that scene.
        moving: What `compute` gives in a scene with a source moved, where that is found more quickly.

    Returns:
        For each result its sensitivities, without those that are zero; unknown where a result is not known beside
        the place it is judged at.
    """
    weights = tuple(name for name in uses if is_weight(name))
    follows_one = len(weights) == len(uses) == 1
    behind = rests_on(scene.car, uses)
    if moving is None:
        moving = lambda source, step: compute(scene.moved(source.lever, step))  # noqa: E731
    found: list[list[Sensitivity]] = [[] for _ in here]
    levers: dict[str, tuple[Fraction, ...]] = {}
    for source in sources:
        lever = source.lever
        follows = levers.get(lever.key)
        if follows is None:
            if not follows_one and source.moves not in behind and not _moves_any(scene, source, weights):
                follows = ()
            else:
                by_side = slopes(moving, source, here)
                if isinstance(by_side, Unknown):
                    return by_side
                follows = by_side
            levers[lever.key] = follows
        for place, slope in enumerate(follows):
            if slope:
                found[place].append(Sensitivity(source, slope, slope * slope * source.variance))
    return tuple(tuple(one) for one in found)


def value_followed(
    compute: Callable[[Scene], MaybeFraction], scene: Scene, uses: frozenset[str]
) -> tuple[Fraction, tuple[Sensitivity, ...]] | Unknown:
    """One value in a scene, and how it follows each source of error."""

    def alone(where: Scene) -> tuple[Fraction] | Unknown:
        found = compute(where)
        return found if isinstance(found, Unknown) else (found,)

    here = alone(scene)
    if isinstance(here, Unknown):
        return here
    found = sensitivities(alone, scene, relevant(scene, uses), uses, here)
    return found if isinstance(found, Unknown) else (here[0], found[0])


def _moves_any(scene: Scene, source: ErrorSource, weights: Iterable[str]) -> bool:
    """Whether any of these weights and percentages follows the source at all."""
    return any(_moves(scene, source, name) for name in weights)


def _moves(scene: Scene, source: ErrorSource, name: str) -> bool:
    """Whether this weight or percentage follows the source; asked by many clauses, and found once."""

    def compare() -> bool:
        return bool(moved_weight(scene, source, STEP, name) != weight_named(scene, name))

    return scene.car.once((name, source.lever.key, scene.state, scene.weighing), compare)


def weight_named(scene: Scene, name: str) -> MaybeFraction:
    """A weight or percentage by its full name."""
    what, _, which = name.partition(".")
    return scene.weight(which) if what == "weight" else scene.percentage(which)


def moved_weight(scene: Scene, source: ErrorSource, step: Fraction, name: str) -> MaybeFraction:
    """A weight or percentage with what a source moves moved."""
    what, _, which = name.partition(".")
    of = (which,) if what == "weight" else (which, "total")
    here = [scene.weight(one) for one in of]
    if which not in TOLD or any(isinstance(kg, Unknown) for kg in here):
        return weight_named(scene.moved(source.lever, step), name)
    kg, *total = (
        _with_gain(kg, gain(scene.car, scene.state, scene.weighing, one, source, step))
        for kg, one in zip(here, of, strict=True)
    )
    return kg if what == "weight" else share_of(kg, *total)


def _with_gain(kg: MaybeFraction, gain: MaybeFraction) -> MaybeFraction:
    return kg if gain == 0 else where_known(lambda kg, gain: kg + gain, kg, gain)


def slopes(
    compute: Moving, source: ErrorSource, here: tuple[Fraction, ...]
) -> tuple[Fraction, ...] | Unknown:
    """Slopes to the one side; where a result is not known there, jumps or does not change, to the other."""
    ahead = _to_side(compute, source, here, STEP)
    if not isinstance(ahead, Unknown) and all(ahead):
        return tuple(slope for slope in ahead if slope is not None)
    behind = _to_side(compute, source, here, -STEP)
    if isinstance(behind, Unknown):
        return ahead if isinstance(ahead, Unknown) else tuple(slope or Fraction(0) for slope in ahead)
    if isinstance(ahead, Unknown):
        return tuple(slope or Fraction(0) for slope in behind)
    return tuple(one or other or Fraction(0) for one, other in zip(ahead, behind, strict=True))


def _to_side(
    compute: Moving, source: ErrorSource, here: tuple[Fraction, ...], step: Fraction
) -> tuple[Fraction | None, ...] | Unknown:
    """Slopes to one side; None where a result jumps there, which is for `checker.kinds.frame.near_edges` to judge."""
    there = compute(source, step)
    if isinstance(there, Unknown):
        return there
    slopes = tuple((moved - at) / step for moved, at in zip(there, here, strict=True))
    if all(abs(slope) < STEEP for slope in slopes):
        return slopes
    nearer = compute(source, step / 2)
    if isinstance(nearer, Unknown):
        return nearer
    again = ((moved - at) / (step / 2) for moved, at in zip(nearer, here, strict=True))
    return tuple(
        slope if abs(half - slope) <= abs(slope) / 2 else None
        for slope, half in zip(slopes, again, strict=True)
    )


def spread_of(
    found: tuple[Sensitivity, ...], margins: tuple[Fraction, ...], rule: DecisionRule
) -> Spread | None:
    """The spread of a margin; None where it is exact.

    Args:
        found: How the margin follows each source.
        margins: Distances to every bound that the value is held to, for the probability of conformity.
    """
    if not found:
        return None
    by_name: dict[str, list[Sensitivity]] = {}
    for one in found:
        by_name.setdefault(one.source.name, []).append(one)
    contributions = [
        Contribution(name, total(s.variance for s in same), same[0].source.advice, same[0].source.cure)
        for name, same in by_name.items()
    ]
    contributions.sort(key=lambda c: c.variance, reverse=True)
    variance = total(c.variance for c in contributions)
    factor = rule.factor(effective_degrees(found, variance))
    covers = 2 * rule.confidence - 1
    return Spread(variance, factor, tuple(contributions), covers, probability_of(margins, variance))


def total(parts: Iterable[Fraction]) -> Fraction:
    """The exact sum, brought to lowest terms once."""
    numerator, denominator = 0, 1
    for part in parts:
        numerator = numerator * part.denominator + part.numerator * denominator
        denominator *= part.denominator
    return Fraction(numerator, denominator)


def effective_degrees(found: Iterable[Sensitivity], variance: Fraction) -> Fraction | None:
    """Effective degrees of freedom by the Welch-Satterthwaite formula (JCGM 100, G.4.1); None: infinite."""
    groups: dict[tuple[str, Fraction], Fraction] = {}
    for place, one in enumerate(found):
        if one.source.degrees_of_freedom is not None:
            group = (one.source.group or str(place), one.source.degrees_of_freedom)
            groups[group] = groups.get(group, Fraction(0)) + one.variance
    estimated = total(part**2 / degrees for (_, degrees), part in groups.items())
    return variance**2 / estimated if estimated else None


_ROOT_OF_2 = math.sqrt(2)


def probability_of(margins: tuple[Fraction, ...], variance: Fraction) -> float:
    """The probability that the true value keeps every bound (JCGM 106, 7.2: normal distribution)."""
    standard = math.sqrt(variance)
    inside = sum(0.5 * (1 + math.erf(float(margin) / standard / _ROOT_OF_2)) for margin in margins)
    return max(0.0, inside - (len(margins) - 1))


def guard_band(spread: Spread) -> Fraction:
    """Coverage factor times standard uncertainty, rounded up in the ninth digit: for acts, never for verdicts."""
    band = float(spread.factor) * math.sqrt(spread.variance)
    return Fraction(band * (1 + 1e-9))


def unresolved(spread: Spread, margin: Fraction) -> Unresolved:
    """Why an act is more than the breach, and what else would settle a margin nearer than the gear resolves."""
    if margin * margin >= spread.factor**2 * spread.variance:
        return Unresolved()
    largest = spread.contributions[0]
    allowed = (margin / spread.factor) ** 2 - (spread.variance - largest.variance)
    cure = None
    if allowed > 0 and largest.cure is not None:
        cure = largest.cure(sqrt(allowed / largest.variance))
    return Unresolved(largest.name, largest.advice, cure)
