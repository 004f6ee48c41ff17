"""What is written out of the weights' slopes is what copies of the car with something moved show."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given

from checker.car.car import Car
from checker.car.errors.followed import STEP, Part, gain_of, levers_of, parts
from checker.car.errors.slopes import Slopes, of_loads
from checker.car.errors.written_out import written_out
from checker.car.weights.weights import PAIRS, as_weighed
from tests.car.cars import loaded, made_up_cars, varied
from tests.car.errors.test_followed import AT_A_LEVEL, GEAR, uncertain
from tests.car.test_what_rests_on_what import CARS, states_of
from tests.examples import examples, quick_first

BENT = ("dimensions.wheelbase_", "_width_over_tyres", ".section", ".radius", "_camber")
"""Of what divides a moment, and the tangent of an angle: over a step these bend."""


def told(car: Car, part: Part, number: Any) -> dict[str, Slopes]:
    """What is written out of one part, by the keys of its levers."""
    levers = levers_of(car, part)
    if part[0] is as_weighed:
        found = {key: of_loads(car, one[0].lever.loads or (), None, number) for key, one in levers.items()}
        return {key: one for key, one in found.items() if one is not None}
    return written_out(car, part, levers, number)


def held(car: Car) -> int:
    """How many slopes were written out of those that the weights of a car follow; none is off."""
    number = 0
    for part in {part for state in states_of(car) for part in parts(car, state, None)}:
        levers, in_floats = levers_of(car, part), told(car, part, float)
        for key, slopes in told(car, part, Fraction).items():
            for step in (STEP, -STEP):
                gains = list(gain_of(car, part, levers[key][0].lever, step).values())
                for at, exact, size in zip(range(len(PAIRS)), slopes.ahead, slopes.size, strict=False):
                    gained = gains[at]
                    assert isinstance(gained, Fraction), "what is not known is not written out"
                    bends = any(name in key for name in BENT)
                    assert abs(gained / step - Fraction(exact)) <= 2 * STEP * Fraction(size) * bends, key
                    apart = abs(Fraction(in_floats[key].ahead[at]) - Fraction(exact))
                    assert apart <= Fraction(size) / 10**14, key
            number += 1
    return number


def test_all_is_written_out_that_has_no_edge() -> None:
    car = uncertain(CARS["with everything"])
    every = {part for state in states_of(car) for part in parts(car, state, None)}
    assert len(every) > 10
    for part in every:
        assert told(car, part, float).keys() == levers_of(car, part).keys()


@pytest.mark.parametrize("declaration", quick_first([*CARS.values(), AT_A_LEVEL], 1))
def test_what_is_written_out_is_what_copies_show(declaration: dict[str, Any]) -> None:
    assert held(uncertain(declaration)) > 30


@examples(20)
@given(declaration=made_up_cars())
def test_of_any_car(declaration: dict[str, Any]) -> None:
    held(loaded(varied(GEAR, declaration)))
    held(uncertain(declaration))


@pytest.mark.parametrize(
    ("declaration", "name"),
    [
        (
            varied({"dimensions.front_camber": "0 deg"}, CARS["with everything"]),
            "dimensions.front_camber[None]",
        ),
        (AT_A_LEVEL, "weighing.fuel[None]"),
        (varied({"fuel.at": None}, CARS["with everything"]), "fuel.density[None]"),
    ],
    ids=["a camber of 0", "a tank by levels", "a place that is not known"],
)
def test_an_edge_is_not_written_out(declaration: dict[str, Any], name: str) -> None:
    car = uncertain(declaration)
    for part in {part for state in states_of(car) for part in parts(car, state, None)}:
        assert name not in told(car, part, float)
