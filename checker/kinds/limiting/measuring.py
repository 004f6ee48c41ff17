"""How a limit is met with every value exact: its margin and what goes with it, without findings, acts and workings."""

from __future__ import annotations

from fractions import Fraction

from checker.car.scene import Scene
from checker.kinds.judging.assessment import FAIL, PASS, Amount, Assessment, Bound
from checker.kinds.judging.bounds import Side, sides
from checker.kinds.judging.exact_rule import EXACTLY
from checker.kinds.judging.shown_units import margin_unit
from checker.kinds.limiting.judging import assess, margin_kind
from checker.kinds.limiting.limited import Limited
from checker.quantities.kind import Unknown


def measured(limited: Limited, scene: Scene) -> Assessment:
    """Its outcome, value, bounds, margin and size, as `assess` tells them."""
    single = limited.limit.kind.name != "list" and not (limited.of_several and scene.car.weighings > 1)
    if not single or limited.rounding is not None or limited.irrational or not limited.value_kind.is_measure:
        return assess(limited, scene, EXACTLY)
    value = limited.limit.evaluate(scene)
    tolerance = Fraction(0) if limited.tolerance is None else limited.tolerance.evaluate(scene)
    if isinstance(value, Unknown) or isinstance(tolerance, Unknown):
        return assess(limited, scene, EXACTLY)
    held = sides(limited.bounds, value, limited.value_kind, tolerance, scene)
    if len(held) != 1 or held[0].margin is None:
        return assess(limited, scene, EXACTLY)
    return _by_one_bound(limited, value, held[0], held[0].margin, scene)


def _by_one_bound(
    limited: Limited, value: Fraction, side: Side, margin: Fraction, scene: Scene
) -> Assessment:
    kind = limited.value_kind
    unit = margin_unit(kind, limited.limit, limited.bounds, side.sense, scene)
    return Assessment(
        PASS if (margin >= 0 if side.inclusive else margin > 0) else FAIL,
        Amount(value, kind, unit),
        (Bound(side.sense, Amount(side.bound, kind, unit)),),
        Amount(margin, margin_kind(kind), unit.step if unit is not None else None),
        size=side.size if side.size else (unit.factor if unit else Fraction(1)),
        met_by_nature=not side.tells,
    )
