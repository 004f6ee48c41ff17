"""How the weights follow one thing that errors move; where it is the loads that were read, by adding them up."""

from __future__ import annotations

import operator
from collections.abc import Callable
from fractions import Fraction
from typing import Any, NamedTuple

from checker.car.car import Car
from checker.car.described.standard import WHEELS
from checker.car.errors.sources import Steps
from checker.car.weights.weights import PAIRS

FOLLOWED = (*PAIRS, "cross")
"""What slopes are told of; of the last, two wheels on a diagonal, where loads that were read are all that moves."""
_NONE = (0.0,) * len(FOLLOWED)

Number = Callable[["Fraction | int"], Any]
"""What is worked out in: floats, or exact numbers."""


class Slopes(NamedTuple):
    """How the weights of `FOLLOWED` follow one lever, in kg per base unit of it, in floats."""

    ahead: tuple[float, ...]
    size: tuple[float, ...]
    """The sum of the magnitudes that `ahead` is the sum of: 0 where no part moves at all."""
    behind: tuple[float, ...] = _NONE
    """Likewise to the other side, where nothing moves ahead."""
    straight: bool = True
    """To the other side the same is lost."""
    variance: float = 0.0
    """Of the errors that move the lever, in its squared base units."""
    degrees: Fraction | None = None
    """The fewest degrees of freedom that any of them is estimated with; None: all are known."""

    def and_with(self, other: Slopes) -> Slopes:
        """Of the sum of two parts; the errors that move what both rest on are the same."""
        ahead, size, behind = (
            tuple(map(operator.add, one, more)) for one, more in zip(self[:3], other[:3], strict=True)
        )
        return self._replace(ahead=ahead, size=size, behind=behind, straight=self.straight and other.straight)


def of_loads(car: Car, steps: Steps, which: int | None, number: Number = float) -> Slopes | None:
    """How the weights as weighed follow what moves the loads that were read.

    Args:
        steps: kg that are added to each load of each reading.
        which: Which repeat reading counts, from 0; None: the mean of all.
        number: What is worked out in.
    """
    if car.weighing.shape != WHEELS:
        return None
    across = {
        wheel: () if wheel.endswith(car.inside) == wheel.startswith("front") else ("cross",)
        for wheel in WHEELS
    }
    counted = steps if which is None else steps[which : which + 1]
    added = dict.fromkeys(FOLLOWED, Fraction(0))
    for wheel in WHEELS:
        kg = sum((step[wheel] for step in counted if wheel in step), Fraction(0)) / len(counted)
        for at in ("total", *wheel.split("_"), *across[wheel]) if kg else ():
            added[at] += kg
    by = tuple(map(number, added.values()))
    return Slopes(by, tuple(map(abs, by)))
