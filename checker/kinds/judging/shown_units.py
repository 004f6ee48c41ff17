"""The unit that a margin is shown in: the rulebook's own, as far as anything written names one."""

from __future__ import annotations

from collections.abc import Sequence

from checker.car.scene import Scene
from checker.kinds.judging.bounds import BoundExpression
from checker.quantities.formula.expression import Expression
from checker.quantities.kind import Kind
from checker.quantities.units import Unit, base_unit, parse_unit


def margin_unit(
    kind: Kind, limit: Expression, bounds: Sequence[BoundExpression], sense: str, scene: Scene
) -> Unit | None:
    """The unit of a margin: of its bound as written, else of the limit as written, the fact, the derived value.

    Args:
        kind: Of the value.
        limit: What is held to the bounds.
        sense: The bound that the margin is to; its unit goes before that of the others.
        scene: Where it was judged: a table's unit is that of the row found.

    Returns:
        None for numbers and grades, which have no unit.
    """
    if kind.name == "date":
        return parse_unit("days", None)
    if kind.name in ("grade", "number"):
        return None
    written = [b.expression for b in bounds if b.sense == sense]
    written += [b.expression for b in bounds if b.sense != sense]
    for ranks, expressions in (
        ((0, 1), written),
        ((0,), [limit]),
        ((2,), [limit, *written]),
        ((1, 3), [limit, *written]),
    ):
        for expression in expressions:
            unit = expression.written_unit(scene, ranks, kind)
            if unit is not None:
                return unit
    return base_unit(kind, scene.car.vocabulary.currency)
