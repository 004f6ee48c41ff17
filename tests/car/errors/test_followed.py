"""What weights gain part by part is what the car with the lever moved weighs, less what it weighed."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from checker.car.car import Car
from checker.car.described.asking import single
from checker.car.errors.followed import STEP, TOLD, gain, slopes
from checker.car.errors.sources import ErrorSource, moved
from checker.car.weights.weights import PAIRS
from checker.quantities.kind import Unknown
from tests.car.cars import loaded, varied
from tests.car.errors.one_by_one import every_source
from tests.car.test_what_rests_on_what import CARS, doubted, states_of
from tests.examples import quick_first

GEAR: dict[str, Any] = {
    "instruments": {"pads": {"resolution": "0.5 kg", "permissible_error": "2 kg", "common_error": "0.1 %"}},
    "weighing.instrument": "pads",
}
AT_A_LEVEL = varied({"weighing.fuel": "8 L"}, CARS["with a tank by levels"])


def uncertain(declaration: dict[str, Any]) -> Car:
    """The car with an error of everything that is stated of it."""
    car = loaded(varied(GEAR, declaration))
    return replace(
        car,
        facts={name: doubted(stated) for name, stated in car.facts.items()},
        structure={name: doubted(stated) for name, stated in car.structure.items()},
        all_entries={
            name: tuple(
                replace(entry, fields={key: doubted(stated) for key, stated in entry.fields.items()})
                for entry in entries
            )
            for name, entries in car.all_entries.items()
        },
    )


def of_the_mean(car: Car) -> list[ErrorSource]:
    """Sources of what only one reading shows are not asked of their mean."""
    single_readings = {single(which) for which in range(car.weighings)}
    return [source for source in every_source(car) if source.moves not in single_readings]


@pytest.mark.deep
@pytest.mark.parametrize("declaration", quick_first([AT_A_LEVEL, *CARS.values()], 1))
def test_gains_are_those_of_the_moved_car(declaration: dict[str, Any]) -> None:
    car = uncertain(declaration)
    gained = 0
    for source in of_the_mean(car):
        for step in (STEP, -STEP):
            other = moved(car, source.lever, step)
            for state in states_of(car):
                for name in TOLD:
                    here, there = car.weights(state).weight(name), other.weights(state).weight(name)
                    by = gain(car, state, None, name, source, step)
                    assert not isinstance(here, Unknown)
                    assert there == (by if isinstance(by, Unknown) else here + by)
                    gained += by != 0
    assert gained > 1000


@pytest.mark.parametrize("declaration", quick_first([AT_A_LEVEL, *CARS.values()], 1))
def test_slopes_in_floats_are_those_gains(declaration: dict[str, Any]) -> None:
    car = uncertain(declaration)
    for state in states_of(car):
        found = slopes(car, state, None)
        assert found is not None
        for source in of_the_mean(car):
            mine = found.get(source.lever.key)
            for at, name in enumerate(PAIRS):
                ahead, behind = (gain(car, state, None, name, source, one) for one in (STEP, -STEP))
                assert not isinstance(ahead, Unknown)
                if mine is None:
                    assert ahead == behind == 0
                else:
                    assert abs(mine.ahead[at] - float(ahead / STEP)) <= 1e-12 * mine.size[at]
                    assert mine.size[at] or not ahead
                    assert mine.size[at] or mine.behind[at] or not behind
