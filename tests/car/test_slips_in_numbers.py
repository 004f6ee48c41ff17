"""Every number of a car's file: nothing, less than nothing and beyond all reason are refused, or mean what they say."""

from __future__ import annotations

import json
from collections.abc import Iterator
from typing import Any

from checker.car.declaration.loading import load_car
from checker.reading.problems import InputError
from checker.reading.strict_yaml import parse_document
from tests.examples import each_row
from tests.kinds.workbench import pack_of

PACK = pack_of(
    "{limit: weight.total, at_least: 500 kg, condition: any}",
    more="{categories: [brakes/disc], materials: {steel: []}}",
)
PLACE = {"behind_front_axle": "1500 mm", "left_of_centre": "100 mm"}
TYRE = {"mass": "14 kg", "section": "215 mm", "radius": "285 mm"}
CAR: dict[str, Any] = {
    "weighing.fuel": "6 L", "weighing.floor.pad_height": "0.5 mm", "weighing.floor.stiffness": "25 N/mm",
    "weighing.floor.across": "0.1 deg", "weighing.readings.0.front_left": "150 kg",
    "instruments.pads.resolution": "0.5 kg", "instruments.pads.permissible_error": "0.5 kg",
    "dimensions.wheelbase_left": "2200 mm", "dimensions.front_width_over_tyres": "1700 mm",
    "tyres.dry.front.mass": "14 kg", "tyres.dry.front.section": "215 mm", "tyres.dry.front.radius": "285 mm",
    "wear.front_left": "0.3 kg", "fuel.capacity": "20 L", "fuel.unusable": "0.1 L", "fuel.density": "0.745 kg/L",
    "driver.mass": "80 kg", "fluids.water.lost": "0.8 kg", "ballast.0.mass": "4 kg", "ballast.0.count": 1,
    "ballast.0.fixings": 2, "components.0.mass": "3 kg", "components.0.count": 2, "components.0.price": "30 GBP",
    "planning.places.0.most": "8 kg", "planning.shelf.0.mass": "2.5 kg",
}  # fmt: skip
MAY_BE_NOTHING = {
    "weighing.fuel", "weighing.floor.pad_height", "instruments.pads.permissible_error", "wear.front_left",
    "fuel.unusable", "fluids.water.lost", "ballast.0.fixings",
}  # fmt: skip
"""Drained, flat, perfect by its owner's word, not worn, used to the last drop, not used up, glued."""
WITHOUT_END = {"instruments.pads.resolution", "instruments.pads.permissible_error", "components.0.price"}
"""Bad gear resolves nothing, which excuses no car; what a part may cost is the rules' affair."""


def declared(path: str, value: object) -> dict[str, Any]:
    wheels = dict(zip(("front_left", "front_right", "rear_left", "rear_right"), ["150 kg"] * 4, strict=True))
    car: dict[str, Any] = {
        "formula": "example",
        "car": {"number": "1"},
        "weighing": {"instrument": "pads", "driver": "out", "tyres": "dry", "readings": [wheels], "floor": {}},
        "instruments": {"pads": {}},
        "dimensions": {"rear_width_over_tyres": "1700 mm", "wheelbase_right": "2200 mm"},
        "tyres": {"dry": {"front": {}, "rear": dict(TYRE)}},
        "wear": {}, "fuel": {"at": dict(PLACE)}, "driver": {"at": dict(PLACE)}, "fluids": {"water": {"at": dict(PLACE)}},
        "ballast": [{"label": "S1", "at": dict(PLACE)}],
        "components": [{"name": "disc", "category": "brakes/disc", "materials": ["steel"]}],
        "planning": {"places": [{"name": "rail", "at": dict(PLACE)}], "shelf": [{"label": "L25"}]},
    }  # fmt: skip
    for name, usual in CAR.items():
        *parts, last = name.split(".")
        at: Any = car
        for part in parts:
            at = at[int(part)] if part.isdigit() else at[part]
        at[last] = value if name == path else usual
    return car


def is_read(car: dict[str, Any]) -> bool:
    try:
        load_car(parse_document(json.dumps(car).encode(), "car.yaml", "CD"), PACK.vocabulary)
    except InputError as error:
        return any(problem.span is None for problem in error.problems)
    return True


def as_number(path: str, number: int) -> object:
    usual = CAR[path]
    return number if isinstance(usual, int) else f"{number} {usual.split(' ', 1)[1]}"


def tried() -> Iterator[tuple[str, int, bool]]:
    for path in CAR:
        yield path, 0, path in MAY_BE_NOTHING
        yield path, -1, False
        yield path, 10**6, path in WITHOUT_END


def test_the_car_itself_is_read() -> None:
    assert is_read(declared("", None))


@each_row(("path", "number", "read"), list(tried()))
def test_a_number_that_cannot_be_is_refused_with_its_place(path: str, number: int, read: bool) -> None:
    assert is_read(declared(path, as_number(path, number))) is read
