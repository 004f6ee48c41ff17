"""Legal levels of fuel that are worked out when they are first asked for; only then is loaded what does it."""

from __future__ import annotations

from collections.abc import Callable

from checker.car.scene import Scene
from checker.kinds.frame.frame import Frame
from checker.kinds.judging.assessment import Later, LegalFuel


def fuel_when_asked(check: Frame, scene: Scene, is_met: Callable[[], bool]) -> Later[tuple[LegalFuel, ...]]:
    """With how much fuel a check holds, for every driver, tyre set and wear that its conditions ask for.

    Args:
        is_met: Whether it is clearly met in every corner, so it holds throughout.
    """

    def found() -> tuple[LegalFuel, ...]:
        from checker.kinds.frame.legal_fuel import legal_fuel

        return legal_fuel(check, scene, met=is_met())

    return Later(found)
