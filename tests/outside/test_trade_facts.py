"""Facts of the trade, run through the reader and the weights: common practice, no source."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest

from checker.car.weights.states import state_of
from checker.quantities.kind import Unknown
from tests.car.cars import COMPLETE, known, loaded, varied


def inside_of(left: str, right: str) -> Any:
    reading = {"left": left, "right": right}
    return loaded(varied({"weighing.readings": [reading]})).weights()


@pytest.mark.parametrize(
    ("share", "inside", "outside"), [("0.54", "378 kg", "322 kg"), ("0.555", "388.5 kg", "311.5 kg")]
)
def test_inside_percentage_at_a_minimum_of_700_kg(share: str, inside: str, outside: str) -> None:
    weights = inside_of(inside, outside)
    assert weights.weight("total") == 700
    assert weights.percentage("inside") == Fraction(share)


def test_from_54_to_55_5_percent_moves_ten_and_a_half_kilograms() -> None:
    before, after = inside_of("378 kg", "322 kg"), inside_of("388.5 kg", "311.5 kg")
    assert after.weight("inside") - before.weight("inside") == Fraction("10.5")


def test_45_percent_rear_of_700_kg() -> None:
    reading = {"front": "385 kg", "rear": "315 kg"}
    weights = loaded(varied({"weighing.readings": [reading]})).weights()
    assert weights.percentage("rear") == Fraction("0.45")


@pytest.mark.parametrize(("inches", "mm"), [("73 in", "1854.2"), ("72 in", "1828.8")])
def test_width_over_tyres_in_inches(inches: str, mm: str) -> None:
    car = loaded(varied({"dimensions.front_width_over_tyres": inches}))
    assert car.value("dimensions.front_width_over_tyres") == Fraction(mm)


def test_a_ten_inch_tyre() -> None:
    car = loaded(varied({"tyres.dry.front.section": "10 in"}))
    assert car.value("tyres.dry.front.section") == 254


def test_a_car_on_the_minimum_loses_two_kilograms_in_a_race() -> None:
    changes = {
        "weighing.readings": [{"total": "700.0 kg"}],
        "weighing.fuel": "0 L",
        "wear": dict.fromkeys(COMPLETE["wear"], "0.5 kg"),
    }
    after = loaded(varied(changes)).weights(state_of(wear=Fraction(1))).weight("total")
    assert 700 - known(after) == 2


def test_four_dampers_at_a_cap_of_500() -> None:
    damper = {"name": "dampers", "category": "suspension/damper", "count": 4, "price": "500 GBP"}
    dampers = loaded(varied({"components": [damper]})).entries("components", parts=False)
    assert not isinstance(dampers, Unknown)
    assert sum(one.value("price") * one.standing for one in dampers) == 2000
