"""The crossing: with how much fuel on board a check stops holding.

Along fuel alone a margin is linear, or linear over linear, in the amount. Three values determine such a
function, so the crossing is computed exactly; where the margin is made of pieces (the worst of several
entries), it is closed in on by halving instead.
"""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING

from checker.car.scene import Scene
from checker.kinds.judging.assessment import Assessment, Crossing, DecisionRule

if TYPE_CHECKING:
    from checker.car.weights.weights import State
    from checker.kinds.frame.framed import Framed

_HALVINGS = 40


def find_crossing(framed: Framed, worst: Assessment, scene: Scene, rule: DecisionRule) -> Crossing | None:
    """Where along the fuel, all else as in the state that decides, the check turns.

    Returns:
        The crossing, or None where it fails with any amount of fuel or nothing turns with fuel.
    """
    from checker.car.weights.states import fuel_legs

    condition = next((c for c in framed.conditions if c.name == worst.condition), None)
    if condition is None or worst.state is None:
        return None
    for low, high in fuel_legs(scene.car, condition):
        if _belongs(worst.state, low, high):
            found = crossing_between(framed, low, high, scene, rule)
            if found is not None:
                return found
    return None


def crossing_between(
    framed: Framed, low: State, high: State, scene: Scene, rule: DecisionRule
) -> Crossing | None:
    """Where the check turns between two states that differ only in fuel; None where it does not.

    Args:
        framed: The check.
        low: The state with less fuel.
        high: The state with more.
        scene: The car.
        rule: How values near a limit are taken; the crossing itself is that of the exact margin.
    """
    from checker.car.weights.states import between

    def margin(state: State) -> Fraction | None:
        return framed.in_one_state(scene.in_state(state), rule).margin_value

    at_low, at_high = margin(low), margin(high)
    if at_low is None or at_high is None or (at_low < 0) == (at_high < 0):
        return None
    if not isinstance(low.fuel, Fraction) or not isinstance(high.fuel, Fraction):
        return None
    middle = margin(between(low, high, Fraction(1, 2)))
    if middle is None:
        return None
    part = _root(at_low, middle, at_high)
    if part is None or margin(between(low, high, part)) != 0:
        part = _halved(lambda x: margin(between(low, high, x)), at_low)
    if part is None:
        return None
    return Crossing(low.fuel + part * (high.fuel - low.fuel), "below" if at_low < 0 else "above")


def _belongs(state: State, low: State, high: State) -> bool:
    """The leg along fuel that the deciding state stands on: all else equal."""
    return all(
        getattr(state, name) == getattr(low, name) == getattr(high, name)
        for name in ("driver", "tyres", "wear")
    )


def _root(at_low: Fraction, middle: Fraction, at_high: Fraction) -> Fraction | None:
    """Where a function (a + b t) / (1 + d t) with these values at t = 0, 1/2 and 1 is zero, 0 to 1."""
    if at_high == middle:
        return None
    d = (2 * middle - at_low - at_high) / (at_high - middle)
    b = at_high * (1 + d) - at_low
    if b == 0:
        return None
    root = -at_low / b
    return root if 0 <= root <= 1 else None


def _halved(margin: object, at_low: Fraction) -> Fraction | None:
    """The crossing closed in on by halving, to 2^-40 of the leg."""
    low, high = Fraction(0), Fraction(1)
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        value = margin(middle)  # type: ignore[operator]
        if value is None:
            return None
        if (value < 0) == (at_low < 0):
            low = middle
        else:
            high = middle
    return high if at_low < 0 else low
