"""The stated intervals against a simulation: propagation of distributions (JCGM 101), left out of the quick run.

For random cars with random gear every source of error is drawn anew, thousands of times, and put through the car itself
with no linearisation. What comes out has the standard uncertainty that the law of propagation gives, and the interval of
two standard uncertainties covers as it should.
"""

from __future__ import annotations

import json
import math
import random
from fractions import Fraction
from statistics import fmean, pstdev
from typing import Any

import pytest

from checker.car.declaration.loading import load_car
from checker.car.errors.sources import ErrorSource
from checker.car.scene import Scene
from checker.car.weights.states import state_of
from checker.kinds.judging.spread import relevant, sensitivities, total
from checker.quantities.kind import Unknown
from checker.reading.strict_yaml import parse_document
from tests.car.cars import WHEELS, vocabulary

pytestmark = pytest.mark.deep

DRAWS = 2000
CARS = 12
QUANTITIES = ("weight.total", "percentage.inside", "percentage.rear")


def made_up(dice: random.Random) -> dict[str, Any]:
    """A declaration with stated gear: two weighings, the pads swapped, and dimensions of random quality."""

    def about(middle: float, spread: float, unit: str, places: int = 1) -> str:
        return f"{middle + dice.uniform(-spread, spread):.{places}f} {unit}"

    def known(middle: float, spread: float, unit: str, uncertainty: float) -> dict[str, str]:
        return {"value": about(middle, spread, unit), "uncertainty": f"{uncertainty:.2f} {unit}"}

    loads = {wheel: about(148, 20, "kg") for wheel in WHEELS}
    return {
        "formula": "dunlin",
        "car": {"number": "1"},
        "instruments": {
            "pads": {
                "resolution": "0.5 kg",
                "permissible_error": f"{dice.uniform(0.1, 1):.2f} kg",
                "common_error": f"{dice.uniform(0.05, 0.4):.2f} %",
            }
        },
        "weighing": {
            "instrument": "pads",
            "fuel": known(8, 2, "L", 0.3),
            "driver": "out",
            "tyres": "dry",
            "wear": "new",
            "floor": {"across": about(3, 2, "mm"), "along": about(4, 2, "mm")},
            "readings": [loads, {**loads, "pads": "swapped side to side"}],
        },
        "dimensions": {
            "wheelbase_left": known(2200, 50, "mm", 3),
            "wheelbase_right": known(2200, 50, "mm", 3),
            "front_width_over_tyres": known(1750, 40, "mm", 4),
            "rear_width_over_tyres": known(1750, 40, "mm", 4),
        },
        "tyres": {
            name: {
                axle: {"mass": known(14.5, 1, "kg", 0.05), "section": known(220, 8, "mm", 2)}
                for axle in ("front", "rear")
            }
            for name in ("dry", "wet")
        },
        "fuel": {
            "capacity": "22 L",
            "density": {"value": "0.745 kg/L", "uncertainty": "0.008 kg/L"},
            "at": {
                "behind_front_axle": known(1800, 200, "mm", 15),
                "left_of_centre": known(0, 200, "mm", 10),
            },
        },
        "driver": {
            "mass": known(82, 15, "kg", 0.4),
            "at": {
                "behind_front_axle": known(1200, 100, "mm", 25),
                "left_of_centre": known(0, 100, "mm", 15),
            },
        },
        "wear": {wheel: known(0.5, 0.2, "kg", 0.1) for wheel in WHEELS},
        "centre_of_gravity": {"height": "400 mm"},
    }


def value(scene: Scene, name: str) -> Fraction:
    what, _, which = name.partition(".")
    found = scene.weight(which) if what == "weight" else scene.percentage(which)
    assert isinstance(found, Fraction)
    return found


def drawn(source: ErrorSource, dice: random.Random) -> Fraction:
    """One error of a source: a stated uncertainty is normal, everything else rectangular."""
    u = math.sqrt(source.variance)
    error = dice.gauss(0, u) if "uncertainty" in source.name else dice.uniform(-1, 1) * u * math.sqrt(3)
    return Fraction(round(error * 10**12), 10**12)


@pytest.mark.parametrize("seed", range(CARS))
def test_intervals_cover_as_they_state(seed: int) -> None:
    dice = random.Random(seed)
    document = parse_document(json.dumps(made_up(dice)).encode(), "car.yaml", "CD")
    car = load_car(document, vocabulary())
    assert car.pad_doubts == ()
    scene = Scene(car, state_of(Fraction(20_000_000), "aboard", "wet", Fraction(1)))
    sources = relevant(scene, QUANTITIES)
    here = tuple(value(scene, name) for name in QUANTITIES)

    def compute(there: Scene) -> tuple[Fraction, ...]:
        return tuple(value(there, name) for name in QUANTITIES)

    found = sensitivities(compute, scene, sources, frozenset(QUANTITIES), here)
    assert not isinstance(found, Unknown)
    stated = [math.sqrt(total(one.variance for one in part)) for part in found]
    results: list[list[float]] = [[] for _ in QUANTITIES]
    for _ in range(DRAWS):
        there = car
        for source in sources:
            there = source.lever.shift(there, drawn(source, dice))
        for out, name, at in zip(results, QUANTITIES, here, strict=True):
            out.append(float(value(Scene(there, scene.state), name) - at))
    for errors, u in zip(results, stated, strict=True):
        assert abs(fmean(errors)) < 4 * u / math.sqrt(DRAWS) + u / 50
        assert pstdev(errors) == pytest.approx(u, rel=0.06)
        within = sum(abs(error) <= 1.959964 * u for error in errors) / DRAWS
        assert 0.935 <= within <= 0.975
