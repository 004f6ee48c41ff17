"""A car with one thing moved is as one that was never anything else, and nothing that moves weights goes unnoticed.

The names are not listed: every number that the car holds is moved in turn.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import FrozenInstanceError, replace
from fractions import Fraction
from typing import Any

import pytest

from checker.car.car import Car
from checker.car.described.asking import ROLL_SPLIT, WEIGHTS, Noting
from checker.car.described.stated import Stated
from checker.car.scene import Scene
from checker.car.weights.states import BUILT_IN
from checker.car.weights.weights import PAIRS, State
from checker.kinds.judging.spread import relevant
from tests.car.cars import COMPLETE, WHEELS, loaded, varied
from tests.examples import quick_first

STEP = Fraction(1, 10**6)
EVERYTHING = {
    "dimensions.rear_width_over_tyres": "1700 mm",
    **{f"dimensions.{axle}_camber": "-2 deg" for axle in ("front", "rear")},
    **{f"dimensions.{axle}_centre_line_offset": "4 mm" for axle in ("front", "rear")},
    **{f"tyres.{name}.{axle}.radius": "280 mm" for name in ("dry", "wet") for axle in ("front", "rear")},
    "fuel.temperature": "25 degC",
    "fuel.density_temperature": "15 degC",
    "fuel.expansion": "0.1 %",
    "fluids": {
        "water": {"lost": "0.8 kg", "at": {"behind_front_axle": "-100 mm", "left_of_centre": "30 mm"}}
    },
    "ballast": [
        {"label": "S1", "mass": "6 kg", "at": {"behind_front_axle": "1900 mm", "left_of_centre": "500 mm"}},
        {"label": "B1", "mass": "3 kg", "at": {"behind_front_axle": "900 mm", "left_of_centre": "-500 mm"}},
    ],
    "components": [{"name": "pedals", "mass": "2 kg"}],
    "weighing.without": ["S1"],
    "engine": {"capacity": "1598 cc"},
}
LEVELS = [
    {"level": "8 L", "behind_front_axle": "2000 mm", "left_of_centre": "50 mm"},
    {"level": "22 L", "behind_front_axle": "2060 mm", "left_of_centre": "66 mm"},
]
CARS = {
    "with everything": varied(EVERYTHING),
    "with a tank by levels": varied({"fuel.at": LEVELS}, varied(EVERYTHING)),
}
SECTIONS = (
    "dimensions.",
    "fuel.",
    "driver.",
    "tyres.",
    "wear.",
    "fluids.",
    "weighing.",
    "ballast",
    ROLL_SPLIT,
    WEIGHTS,
)
"""Beginnings of the names that weights rest on: the test of the test goes through them."""


def others(car: Car) -> Iterator[tuple[str, Car]]:
    """The car with each of its numbers moved in turn, with the name of that number."""
    for name, stated in (*car.facts.items(), *car.structure.items()):
        if isinstance(stated.value, Fraction):
            yield name, car.with_value(name, None, STEP)
    for list_name, entries in car.all_entries.items():
        for entry in entries:
            for name, stated in entry.fields.items():
                if isinstance(stated.value, Fraction):
                    yield f"{list_name}.{name}", car.with_field(list_name, entry.path, name, None, STEP)
    yield ROLL_SPLIT, car.with_roll_split(STEP)
    for wheel in WHEELS:
        yield WEIGHTS, car.with_weighing(car.weighing.shifted([{wheel: STEP}] * car.weighings))


def states_of(car: Car) -> tuple[State | None, ...]:
    return (None, *car.states(BUILT_IN["any"]))


def weights_of(car: Car, origin: Car | None = None) -> dict[State | None, list[Any]]:
    """Weights in the states of the car, or in those of the one that it was made from."""
    return {state: [car.weights(state).weight(name) for name in PAIRS] for state in states_of(origin or car)}


def stale(car: Car) -> set[str]:
    """Names of what was moved without all that rests on it being worked out anew."""
    weights_of(car)
    return {name for name, other in others(car) if weights_of(other) != weights_of(replace(other))}


def moving(car: Car) -> dict[str, set[State | None]]:
    """Names of what moves weights, with the states in which it does."""
    here = weights_of(car)
    found: dict[str, set[State | None]] = {}
    for name, other in others(car):
        there = {
            state for state, weights in weights_of(replace(other), car).items() if here[state] != weights
        }
        if there:
            found.setdefault(name, set()).update(there)
    return found


def unnoticed(car: Car) -> set[str]:
    """Names of what moves weights in a state without their saying that they rest on it."""
    return {
        name
        for name, its in moving(car).items()
        if any(name not in car.weights_rest_on(state) for state in its)
    }


@pytest.mark.parametrize("declaration", quick_first(CARS.values(), 1))
def test_moving_anything_moves_all_that_rests_on_it(declaration: dict[str, Any]) -> None:
    car = loaded(declaration)
    assert stale(car) == set()
    assert unnoticed(car) == set()


@pytest.mark.parametrize("declaration", quick_first(CARS.values(), 1))
def test_what_weights_say_that_they_rest_on_moves_them(declaration: dict[str, Any]) -> None:
    car = loaded(declaration)
    said = frozenset[str]().union(*(car.weights_rest_on(state) for state in states_of(car)))
    assert said & {name for name, _ in others(car)} == set(moving(car))


@pytest.mark.parametrize("declaration", quick_first(CARS.values(), 1))
def test_what_moves_weights_is_a_source_of_their_error(declaration: dict[str, Any]) -> None:
    """Once any number that they rest on has an uncertainty, it is among what a margin of them asks."""
    car = loaded(declaration)
    uncertain = replace(
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
    moved = moving(uncertain)
    for state in states_of(uncertain):
        asked = {source.moves for source in relevant(Scene(uncertain, state), {"percentage.inside"})}
        assert {name for name, its in moved.items() if state in its} - {WEIGHTS} <= asked


def doubted(stated: Stated) -> Stated:
    measured = isinstance(stated.value, Fraction) and stated.origin != "default"
    return stated._replace(uncertainty=Fraction(1, 100)) if measured else stated


@pytest.mark.deep
@pytest.mark.parametrize("section", SECTIONS)
def test_the_law_notices_a_section_that_is_forgotten(section: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """Were nobody to note that weights rest on the fluids, say, a car with them moved would keep its weights."""
    note = Noting.note

    def forgetful(self: Noting, *names: str) -> None:
        note(self, *(name for name in names if not name.startswith(section)))

    monkeypatch.setattr(Noting, "note", forgetful)
    car = loaded(CARS["with everything"])
    assert any(name.startswith(section) for name in stale(car))
    assert any(name.startswith(section) for name in unnoticed(car))


def test_a_car_cannot_be_changed() -> None:
    car = loaded(COMPLETE)
    with pytest.raises(FrozenInstanceError):
        car.facts = {}  # type: ignore[misc]
    before = weights_of(car)
    for _, other in others(car):
        weights_of(other)
    assert weights_of(car) == before
