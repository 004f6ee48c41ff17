"""How well the margins of a limit are known, by the sources of error that bear on its value and bounds."""

from __future__ import annotations

from fractions import Fraction

from checker.car.errors.sources import ErrorSource
from checker.car.scene import Scene
from checker.kinds.judging.assessment import DecisionRule, Spread
from checker.kinds.judging.bounds import Side, sides
from checker.kinds.judging.spread import Sensitivity, is_weight, relevant, sensitivities, spread_of
from checker.kinds.limiting.limited import Limited
from checker.quantities.kind import Unknown, unite


def spreads_of(
    limited: Limited, measured: list[Side], scene: Scene, rule: DecisionRule, given: int | None
) -> dict[str, Spread] | Unknown:
    """How well the margin to each bound is known, by its direction; the value is taken before rounding."""
    known = [place for place, side in enumerate(measured) if side.margin is not None]

    def margins(where: Scene) -> tuple[Fraction, ...] | Unknown:
        value = limited.value(where, given)
        tolerance = Fraction(0) if limited.tolerance is None else limited.tolerance.evaluate(where)
        if isinstance(value, Unknown) or isinstance(tolerance, Unknown):
            return unite(v for v in (value, tolerance) if isinstance(v, Unknown))
        there = sides(limited.bounds, value, limited.value_kind, tolerance, where)
        found = [there[place] for place in known]
        unknown = [side.unknown or Unknown() for side in found if side.margin is None]
        return unite(unknown) if unknown else tuple(side.margin for side in found if side.margin is not None)

    here = margins(scene) if limited.rounding else tuple(s.margin for s in measured if s.margin is not None)
    if isinstance(here, Unknown):
        return here
    uses = uses_of(limited)
    if limited.stands_still:
        found = _of_the_value(limited, scene, uses, given)
    else:
        found = sensitivities(margins, scene, _sources(limited, scene, uses, given), uses, here)
    if isinstance(found, Unknown):
        return found
    each = found * len(known) if limited.stands_still else found
    spreads = (spread_of(one, here, rule) for one in each)
    return {measured[place].direction: s for place, s in zip(known, spreads, strict=True) if s is not None}


def _of_the_value(
    limited: Limited, scene: Scene, uses: frozenset[str], given: int | None
) -> tuple[tuple[Sensitivity, ...], ...] | Unknown:
    """Where no bound moves, every margin is as uncertain as the value; that of a weight is worked out once a car."""

    def value(where: Scene) -> tuple[Fraction] | Unknown:
        found = limited.value(where, given)
        return found if isinstance(found, Unknown) else (found,)

    def work_out() -> tuple[tuple[Sensitivity, ...], ...] | Unknown:
        now = value(scene)
        if isinstance(now, Unknown):
            return now
        return sensitivities(value, scene, _sources(limited, scene, uses, given), uses, now)

    name = limited.limit.text
    if uses != {name} or not is_weight(name) or scene.names:
        return work_out()
    return scene.car.once((name, scene.state, scene.weighing), work_out)


def _sources(
    limited: Limited, scene: Scene, uses: frozenset[str], given: int | None
) -> tuple[ErrorSource, ...]:
    sources = relevant(scene, uses)
    if given is None:
        return sources
    others = frozenset().union(*(e.uses for _, e in limited.expressions() if e is not limited.limit))
    return tuple(s for s in sources if s.lever.place in (None, given) or s.moves in others)


def uses_of(limited: Limited) -> frozenset[str]:
    """What the value and its bounds are made from."""
    return frozenset().union(*(e.uses for _, e in limited.expressions()))
