"""The worst corner against ten thousand states inside, for cars with plain and with shaped tanks; not in the quick run."""

from __future__ import annotations

import random
from fractions import Fraction
from typing import Any

import pytest

from checker.car.weights.states import BUILT_IN, state_of
from tests.car.cars import COMPLETE, known, loaded, varied
from tests.car.weights.test_fuel import level

pytestmark = pytest.mark.deep

SAMPLES = 10_000
LITRE = 10**6
SHAPED = [level(4, 1900, -180), level(9, 2150, 40), level(15, 2080, 90), level(22, 2100, -20)]
NAMES = ("inside", "outside", "front", "rear")


@pytest.mark.parametrize(
    "changes", [{}, {"fuel.at": SHAPED}, {"fuel.at": SHAPED, "dimensions.rear_width_over_tyres": "1625 mm"}]
)
def test_no_state_inside_is_worse_than_the_worst_corner(changes: dict[str, Any]) -> None:
    car = loaded(varied(changes, COMPLETE))
    corners = [car.weights(state) for state in car.states(BUILT_IN["any"])]
    shares = {name: [known(c.percentage(name)) for c in corners] for name in NAMES}
    least = {name: min(found) for name, found in shares.items()}
    most = {name: max(found) for name, found in shares.items()}
    totals = [known(c.weight("total")) for c in corners]
    dice = random.Random(4)
    nearest = dict.fromkeys(NAMES, Fraction(1))
    for _ in range(SAMPLES):
        fuel = Fraction(dice.randint(500, 22_000), 1000) * LITRE
        state = state_of(
            fuel,
            dice.choice(["out", "aboard"]),
            dice.choice(["dry", "wet"]),
            Fraction(dice.randint(0, 50), 50),
        )
        weights = car.weights(state)
        assert min(totals) <= known(weights.weight("total")) <= max(totals)
        for name in NAMES:
            share = known(weights.percentage(name))
            assert least[name] <= share <= most[name]
            nearest[name] = min(nearest[name], share - least[name])
    assert all(gap < Fraction(1, 500) for gap in nearest.values()), "the samples come near the corners"
