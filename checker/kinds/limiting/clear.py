"""Whether a margin of a weight or percentage is clear of its guard band, told by floats that know their own error.

How well a margin is known is exact, and costs far more than the margin itself. Where a bound on it, rounded upwards
at every step, leaves the margin beyond the band, the outcome is that of the exact comparison, and the exact figures
wait until somebody asks for them.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from fractions import Fraction

from checker.car.errors.followed import STEEP, TOLD, Slopes, slopes
from checker.car.errors.sources import ErrorSource
from checker.car.scene import Scene
from checker.car.weights.weights import PAIRS, by_side
from checker.kinds.judging.assessment import DecisionRule

_ROOM = 1 + 1e-5
"""More than all that the floats of one margin are rounded by."""
_CANCELS = 1e-6
"""A difference that is a smaller share of its terms may as well be zero."""
_FAR = 1e-5
"""A total that a base unit of a lever changes by more than one over this, times itself, is for exact numbers."""


def guard_at_most(followed: Iterable[tuple[ErrorSource, float]], rule: DecisionRule) -> float:
    """More than the square of the guard band of a margin.

    Args:
        followed: Every source of error, with how the margin follows it: the magnitude of the slope.
        rule: Gives the coverage factor.
    """
    variance, degrees = 0.0, None
    for source, slope in followed:
        variance += slope * slope * float(source.variance)
        if source.degrees_of_freedom is not None:
            degrees = min(degrees or source.degrees_of_freedom, source.degrees_of_freedom)
    factor = float(rule.factor(degrees))  # those that are effective are never fewer than the fewest
    return factor * factor * variance * _ROOM


def slopes_in_floats(name: str, scene: Scene) -> Callable[[str], float | None] | None:
    """From the key of a lever to the magnitude with which a weight or percentage that is known follows it.

    Returns:
        None, or a function that gives None, where only exact numbers tell.
    """
    what, _, which = name.partition(".")
    by_lever = slopes(scene.car, scene.state, scene.weighing) if which in TOLD else None
    if by_lever is None:
        return None
    slope_by = _shares(scene, which) if what == "percentage" else _weights(scene, which)
    return lambda key: 0.0 if key not in by_lever else slope_by(by_lever[key])


SlopeBy = Callable[[Slopes], "float | None"]
"""From the slopes of the weights to the magnitude of one; None where only exact numbers tell."""


def _weights(scene: Scene, which: str) -> SlopeBy:
    at = PAIRS.index(by_side(scene.car.inside, which))

    def slope(of: Slopes) -> float | None:
        if of.size[at] == 0 == of.behind[at]:
            return 0.0
        found = abs(of.ahead[at])
        return found if found > _CANCELS * of.size[at] else None

    return slope


def _shares(scene: Scene, which: str) -> SlopeBy:
    at, all_of_it = PAIRS.index(by_side(scene.car.inside, which)), PAIRS.index("total")
    total, share = (float(Fraction(one)) for one in (scene.weight("total"), scene.percentage(which)))  # type: ignore[arg-type]

    def slope(of: Slopes) -> float | None:
        size = of.size[at] + abs(share) * of.size[all_of_it]
        if size == 0 == of.behind[at] + of.behind[all_of_it]:
            return 0.0
        found = abs(of.ahead[at] - share * of.ahead[all_of_it])
        if found <= _CANCELS * size or of.size[all_of_it] * _FAR > total:
            return None
        return found / total if found < total * STEEP / 10 else None

    return slope


def is_beyond(margin: Fraction, guard_squared: float) -> bool:
    """Whether a margin lies certainly beyond a guard band of which no more is known than `guard_at_most`."""
    size = abs(float(margin))
    return size * size > guard_squared * _ROOM
