"""Judging on both sides of an edge that is nearer than the gear resolves.

Guards, `where`, `if`, counts and the bands of tables all turn on an edge. Where a measured value stands so near one
that it might lie beyond, the check is judged again on a car whose measured values are moved just across, each by its
share in the uncertainty; the decision rule then has both outcomes.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from fractions import Fraction
from typing import Any

from checker.car.scene import Scene, entries_bound
from checker.kinds.contract.check import Check
from checker.kinds.judging.acts import Act, Do, all_of
from checker.kinds.judging.assessment import FAIL, TOO_CLOSE, Amount, Assessment, DecisionRule
from checker.kinds.judging.findings import NearEdge, OtherSide, all_found
from checker.kinds.judging.spread import (
    Sensitivity,
    effective_degrees,
    is_weight,
    relevant,
    sensitivities,
    total,
)
from checker.quantities.elementary import sqrt
from checker.quantities.formula.edges import MetEdge, noting
from checker.quantities.kind import NUMBER, Unknown
from checker.reading.quick_dataclasses import dataclass, replace

_BEYOND = Fraction(1, 10**6)
"""How far beyond the edge the other side is judged, as a share of the expanded uncertainty."""
_MOST_STRETCHES = 6
"""How often the way is doubled where it turns out not to lead across."""


@dataclass(frozen=True, slots=True)
class Near:
    """An edge that the car stands nearer to than its gear resolves."""

    edge: MetEdge
    distance: Fraction
    variance: Fraction
    factor: Fraction
    found: tuple[Sensitivity, ...]

    @property
    def expanded(self) -> Fraction:
        return self.factor * sqrt(self.variance)

    @property
    def told(self) -> NearEdge:
        """How near it is."""
        unit = self.edge.unit.step if self.edge.unit is not None else None
        kind = NUMBER if unit is None else unit.kind
        off, known = (Amount(value, kind, unit) for value in (abs(self.distance), self.expanded))
        return NearEdge(self.edge.text, off, known)

    def across(self, scene: Scene) -> Iterator[Scene]:
        """The scene with the measured values moved just beyond the edge: both ways, where it stands on it."""
        step = self.expanded * _BEYOND
        targets = [step, -step] if self.distance == 0 else [-step if self.distance > 0 else step]
        for target in targets:
            way = (target - self.distance) / self.variance
            for _ in range(_MOST_STRETCHES):
                there = self.edge.distance(self._moved(self.edge.scene, way))
                if isinstance(there, Fraction) and there != 0 and (there > 0) == (target > 0):
                    yield self._moved(scene, way)
                    break
                way *= 2

    def _moved(self, scene: Scene, way: Fraction) -> Scene:
        steps: dict[str, Fraction] = {}
        levers = {one.source.lever.key: one.source.lever for one in self.found}
        for one in self.found:
            key = one.source.lever.key
            steps[key] = steps.get(key, Fraction(0)) + way * one.slope * one.source.variance
        for key, step in steps.items():
            scene = scene.moved(levers[key], step)
        return scene


def judged(check: Check, scene: Scene, rule: DecisionRule) -> Assessment:
    """A check judged as measured and, where an edge is nearer than the gear resolves, beyond it too."""
    if rule.exact:
        return check.assess(scene, rule)
    with noting(lambda met: met.car is scene.car) as edges:
        found = check.assess(scene, rule)
    near = [one for edge in _distinct(edges) if (one := _near(edge, rule)) is not None]
    if not near:
        return found
    others = [(one, check.assess(there, rule)) for one in near for there in one.across(scene)]
    outcome = rule.between(found.outcome, [other.outcome for _, other in others])
    if outcome == found.outcome:
        return found
    turning = [(one, other) for one, other in others if other.outcome != found.outcome]
    told = all_found(*(one.told for one, _ in turning))
    if outcome != TOO_CLOSE:
        chosen = next(other for _, other in turning if other.outcome == outcome)
        return replace(chosen, finding=all_found(chosen.finding, told))
    worse = next((other for _, other in turning if other.outcome == FAIL), found)
    other = turning[0][1]
    advice = (max(one.found, key=lambda s: s.variance).source.advice for one, _ in turning)
    acts = [Act(Do.MEASURE, remedy=remedy) for remedy in advice if remedy is not None]
    return replace(
        found,
        outcome=TOO_CLOSE,
        finding=all_found(found.finding, told, OtherSide(other.outcome, other.finding)),
        act=all_of((*acts, worse.act)),
    )


def _distinct(edges: Iterable[MetEdge]) -> Iterator[MetEdge]:
    """Each edge once for each entry and, where it follows the weights, each state it was met in."""
    seen: set[Any] = set()
    for edge in edges:
        follows = any(map(is_weight, edge.uses))
        state = (edge.scene.state, edge.scene.weighing) if follows else None
        key = (edge.site, entries_bound(edge.scene.names), state)
        if key not in seen:
            seen.add(key)
            yield edge


def _near(edge: MetEdge, rule: DecisionRule) -> Near | None:
    scene: Scene = edge.scene
    sources = relevant(scene, edge.uses)
    if not sources:
        return None
    here = edge.distance(scene)
    if isinstance(here, Unknown):
        return None

    def distance(there: Scene) -> tuple[Fraction, ...] | Unknown:
        found = edge.distance(there)
        return found if isinstance(found, Unknown) else (found,)

    found = sensitivities(distance, scene, sources, edge.uses, (here,))
    if isinstance(found, Unknown):
        return None
    variance = total(one.variance for one in found[0])
    if variance == 0:
        return None
    factor = rule.factor(effective_degrees(found[0], variance))
    if here * here > factor * factor * variance:
        return None
    return Near(edge, here, variance, factor, found[0])
