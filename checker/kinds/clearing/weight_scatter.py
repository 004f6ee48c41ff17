"""How far errors may move a weight or a percentage at the most, told in floats by how its parts follow them."""

from __future__ import annotations

import math
from collections.abc import Callable
from fractions import Fraction

from checker.car.errors.followed import STEEP, TOLD, slopes
from checker.car.errors.slopes import FOLLOWED, Slopes
from checker.car.scene import Scene
from checker.car.weights.weights import by_side
from checker.kinds.clearing.clear import Scatter, fewest
from checker.kinds.clearing.weights_in_floats import weight_in_floats

_CANCELS = 1e-6
"""A difference that is a smaller share of its terms may as well be zero."""
_FAR = 1e-5
"""A total that a base unit of a lever changes by more than one over this, times itself, is for exact numbers."""

SlopeBy = Callable[[Slopes], "float | None"]
"""From the slopes of the weights to no less than the magnitude of one; None where only exact numbers tell."""


def weight_scatter(name: str, scene: Scene) -> Scatter | None:
    """How errors may move a weight or a percentage that is known, at the most.

    Args:
        name: Its full name, as "percentage.rear".
        scene: The car, its state and which weighing counts.

    Returns:
        None where only exact numbers tell.
    """
    key = (weight_scatter, name, scene.state, scene.weighing)
    return scene.car.once(key, lambda: _scatter(name, scene), any_day=True)


def _scatter(name: str, scene: Scene) -> Scatter | None:
    followed = levers_followed(name, scene)
    if followed is None:
        return None
    by_lever, slope_by = followed
    variance, steepest, degrees = 0.0, 0.0, None
    for of in by_lever.values():
        slope = slope_by(of)
        if slope is None:
            return None
        if slope:
            variance += slope * slope * of.variance
            steepest = max(steepest, slope)
            degrees = fewest(degrees, of.degrees)
    return Scatter(math.sqrt(variance), steepest, degrees=degrees)


def levers_followed(name: str, scene: Scene) -> tuple[dict[str, Slopes], SlopeBy] | None:
    """The levers behind a weight or percentage that is known, and what tells no less than the magnitude of its slope.

    Returns:
        None where only exact numbers tell.
    """
    what, _, which = name.partition(".")
    followed = which in TOLD or which in FOLLOWED
    by_lever = slopes(scene.car, scene.state, scene.weighing) if followed else None
    if by_lever is None:
        return None
    if which not in TOLD and any(len(one.ahead) < len(FOLLOWED) for one in by_lever.values()):
        return None
    return by_lever, _shares(scene, which) if what == "percentage" else _weights(scene, which)


def _weights(scene: Scene, which: str) -> SlopeBy:
    at = FOLLOWED.index(by_side(scene.car.inside, which))

    def slope(of: Slopes) -> float | None:
        if of.size[at] == 0 == of.behind[at]:
            return 0.0
        return _unless_cancelled(abs(of.ahead[at]), of.size[at], of)

    return slope


def _shares(scene: Scene, which: str) -> SlopeBy:
    at, all_of_it = FOLLOWED.index(by_side(scene.car.inside, which)), FOLLOWED.index("total")
    told = (weight_in_floats(name, scene) for name in ("weight.total", f"percentage.{which}"))
    known = [one[0] for one in told if one is not None]
    if len(known) < 2:
        known = [float(Fraction(one)) for one in (scene.weight("total"), scene.percentage(which))]  # type: ignore[arg-type]
    total, share = known

    def slope(of: Slopes) -> float | None:
        size = of.size[at] + abs(share) * of.size[all_of_it]
        if size == 0 == of.behind[at] + of.behind[all_of_it]:
            return 0.0
        found = _unless_cancelled(abs(of.ahead[at] - share * of.ahead[all_of_it]), size, of)
        if found is None or of.size[all_of_it] * _FAR > total:
            return None
        return found / total if found < total * STEEP / 10 else None

    return slope


def _unless_cancelled(found: float, size: float, of: Slopes) -> float | None:
    """A difference of floats; where it may be zero, the other side counts: on a straight line the same."""
    if found > _CANCELS * size:
        return found
    return 2 * _CANCELS * size if of.straight else None
