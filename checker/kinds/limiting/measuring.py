"""How a limit is met with every value exact: its margin and what goes with it, without findings, acts and workings."""

from __future__ import annotations

from fractions import Fraction

from checker.car.scene import Scene
from checker.kinds.judging.assessment import Amount, Assessment, Bound
from checker.kinds.judging.exact_rule import EXACTLY
from checker.kinds.judging.shown_units import margin_unit
from checker.kinds.limiting.judging import assess, margin_kind, plain_sides
from checker.kinds.limiting.limited import Limited


def measured(limited: Limited, scene: Scene) -> Assessment:
    """Its outcome, value, bounds, margin and size, as `assess` tells them."""
    value, held = plain_sides(limited, scene) or (Fraction(0), [])
    side, margin = (held[0], held[0].margin) if len(held) == 1 else (None, None)
    if side is None or margin is None:
        return assess(limited, scene, EXACTLY)
    kind = limited.value_kind
    unit = margin_unit(kind, limited.limit, limited.bounds, side.sense, scene)
    return Assessment(
        EXACTLY.decide(margin, Fraction(0), side.inclusive),
        Amount(value, kind, unit),
        (Bound(side.sense, Amount(side.bound, kind, unit)),),
        Amount(margin, margin_kind(kind), unit.step if unit is not None else None),
        size=side.size if side.size else (unit.factor if unit else Fraction(1)),
        met_by_nature=not side.tells,
    )
