"""Cars for tests: a complete one to vary, and strategies that make up others.

A declaration is built as plain data and read back from JSON text, so that every test goes through the reader.
"""

from __future__ import annotations

import copy
import json
from collections.abc import Mapping
from decimal import Decimal
from fractions import Fraction
from typing import Any

from hypothesis import strategies as st

from checker.car.declaration.loading import Car, load_car
from checker.car.described.instrument import Instrument, Permissible
from checker.car.described.standard import measured, standard_facts, standard_lists
from checker.car.described.vocabulary import FactType, ListType, Vocabulary
from checker.car.described.word_trees import Tree
from checker.car.weights.states import BUILT_IN
from checker.quantities.kind import DATE, NUMBER, PERCENT, TEXT, TRUTH, Kind
from checker.quantities.units import parse_unit
from checker.reading.paths import parse_path
from checker.reading.problems import InputError, Problem
from checker.reading.strict_yaml import parse_document
from checker.report.words.premises import premise_words
from checker.report.words.remarks import car_warnings

CATEGORIES = ("controls/pedals", "suspension/damper", "safety/kill switch", "brakes/disc")
MATERIALS = {"steel": (), "light metal": ("aluminium", "magnesium"), "titanium": ()}

OWN_FACTS = (
    measured("engine.capacity", "cc", measured_with="burette"),
    FactType("engine.position", Kind("text", words=("front", "mid", "rear"))),
    FactType("engine.compression", NUMBER, low=Fraction(5), high=Fraction(20)),
    FactType("engine.cylinders", NUMBER, whole=True),
    FactType("engine.seals", TEXT, several=True),
    FactType("tyres.new_this_meeting", NUMBER, whole=True),
    FactType("body.share", PERCENT, parse_unit("%", None)),
    FactType("body.slope", PERCENT, parse_unit("%", None), high=Fraction(2)),
    measured("body.panel", "mm", several=True, uncertainty=Fraction(1, 10)),
    FactType("belts.made", DATE, precision=("month",)),
    FactType("seat.made", DATE, precision=("day", "month", "year")),
    FactType("inspection.sound", TRUTH, stated_by="official"),
    measured("event.longest_wheelbase", "mm", stated_by="organiser", default=Fraction(2400)),
    FactType("event.session", TEXT, stated_by="organiser"),
)

JOINTS = ListType(
    "joints",
    {
        "name": FactType("name", TEXT),
        "locked": FactType("locked", TRUTH),
        "ruled_sound": FactType("ruled_sound", TRUTH, stated_by="official"),
        "original": FactType("original", TRUTH, default=False),
    },
    known_by="name",
)
HOLES = ListType("holes", {"width": measured("width", "mm")})


def vocabulary(course: str = "anticlockwise") -> Vocabulary:
    """The standard facts and lists, and a few of each type that a pack may add."""
    return Vocabulary(
        pack="dunlin",
        currency="GBP",
        course=course,
        facts={**standard_facts(), **{fact.name: fact for fact in OWN_FACTS}},
        lists={**standard_lists("GBP"), "joints": JOINTS, "holes": HOLES},
        categories=Tree.of_paths("category", CATEGORIES),
        materials=Tree("material", MATERIALS),
        conditions=BUILT_IN,
        instruments={
            "burette": Instrument("burette"),
            "tape": Instrument("tape", Fraction(1), Permissible(Fraction(1))),
        },
    )


COMPLETE: dict[str, Any] = {
    "formula": "dunlin",
    "car": {"number": "27", "name": "Redshank", "chassis_built": "2024-11-02"},
    "weighing": {
        "fuel": "6 L",
        "driver": "out",
        "tyres": "dry",
        "wear": "new",
        "readings": [
            {
                "front_left": "158.5 kg",
                "front_right": "139.0 kg",
                "rear_left": "152.0 kg",
                "rear_right": "137.5 kg",
            },
            {
                "front_left": "158.0 kg",
                "front_right": "139.5 kg",
                "rear_left": "152.5 kg",
                "rear_right": "137.0 kg",
                "pads": "swapped side to side",
            },
        ],
    },
    "dimensions": {
        "wheelbase_left": "2210 mm",
        "wheelbase_right": "2208 mm",
        "front_width_over_tyres": "1768 mm",
        "rear_width_over_tyres": "69 5/8 in",
    },
    "tyres": {
        "dry": {
            "front": {"mass": "14.2 kg", "section": "215 mm"},
            "rear": {"mass": "14.8 kg", "section": "225 mm"},
        },
        "wet": {
            "front": {"mass": "14.9 kg", "section": "215 mm"},
            "rear": {"mass": "15.6 kg", "section": "225 mm"},
        },
    },
    "fuel": {
        "capacity": "22 L",
        "unusable": "0.5 L",
        "density": "0.745 kg/L",
        "at": {"behind_front_axle": "2050 mm", "left_of_centre": "60 mm"},
    },
    "driver": {"mass": "82 kg", "at": {"behind_front_axle": "1150 mm", "right_of_centre": "40 mm"}},
    "wear": {
        "front_left": "0.4 kg",
        "front_right": "0.7 kg",
        "rear_left": "0.4 kg",
        "rear_right": "0.5 kg",
    },
}
"""A car of which everything about weight is stated."""

ABSENT = object()
"""Stands for "take this away" in `varied`."""


def varied(changes: Mapping[str, Any], base: Mapping[str, Any] = COMPLETE) -> dict[str, Any]:
    """A copy of a declaration with the values at these paths changed, added or (`ABSENT`) taken away."""
    data: Any = copy.deepcopy(dict(base))
    for text, value in changes.items():
        *way, last = parse_path(text)
        at = data
        for part in way:
            at = at.setdefault(part, {}) if isinstance(at, dict) and isinstance(part, str) else at[part]
        if value is ABSENT:
            del at[last]
        else:
            at[last] = value
    return dict(data)


def loaded(
    declaration: Mapping[str, Any] | str,
    readings: Mapping[str, Any] | str | None = None,
    *,
    audience: str = "entrant",
    course: str = "anticlockwise",
) -> Car:
    """The car of a declaration (plain data, or YAML text), with readings over it."""
    document = parse_document(_text(declaration), "car.yaml", "CD")
    official = None if readings is None else parse_document(_text(readings), "readings.yaml", "RD")
    return load_car(document, vocabulary(course), official, audience=audience)


def problems(
    declaration: Mapping[str, Any] | str, readings: Mapping[str, Any] | str | None = None
) -> tuple[Problem, ...]:
    """What is found wrong with a declaration; () if it can be used without a warning."""
    try:
        return car_warnings(loaded(declaration, readings))
    except InputError as error:
        return error.problems


def assumed(car: Car) -> tuple[str, ...]:
    """What the car is judged by beside what is stated of it, in words."""
    return tuple(map(premise_words, car.notes().premises))


def known(value: Any) -> Fraction:
    """The value, which must be a known number."""
    assert isinstance(value, Fraction), value
    return value


def _text(data: Mapping[str, Any] | str) -> bytes:
    return (data if isinstance(data, str) else json.dumps(data)).encode()


# -- made-up cars ------------------------------------------------------------------------------------


def decimals(low: str, high: str, places: int = 1) -> st.SearchStrategy[Decimal]:
    return st.decimals(Decimal(low), Decimal(high), places=places)


def _in(unit: str, low: str, high: str, places: int = 1) -> st.SearchStrategy[str]:
    return decimals(low, high, places).map(lambda number: f"{number} {unit}")


def _place() -> st.SearchStrategy[dict[str, str]]:
    return st.fixed_dictionaries(
        {"behind_front_axle": _in("mm", "-200", "2600", 0), "left_of_centre": _in("mm", "-600", "600", 0)}
    )


def _tyre() -> st.SearchStrategy[dict[str, str]]:
    return st.fixed_dictionaries({"mass": _in("kg", "8", "20"), "section": _in("mm", "150", "300", 0)})


WHEELS = ("front_left", "front_right", "rear_left", "rear_right")


def made_up_cars() -> st.SearchStrategy[dict[str, Any]]:
    """Declarations of which everything about weight is stated."""
    set_of_tyres = st.fixed_dictionaries({"front": _tyre(), "rear": _tyre()})
    four_wheels = st.fixed_dictionaries({wheel: _in("kg", "60", "250") for wheel in WHEELS})
    return st.fixed_dictionaries(
        {
            "formula": st.just("dunlin"),
            "car": st.just({"number": "27"}),
            "weighing": st.fixed_dictionaries(
                {
                    "fuel": _in("L", "0", "20"),
                    "driver": st.sampled_from(["out", "aboard"]),
                    "tyres": st.just("dry"),
                    "wear": st.sampled_from(["new", "worn"]),
                    "readings": st.lists(four_wheels, min_size=1, max_size=2),
                }
            ),
            "dimensions": st.fixed_dictionaries(
                {
                    "wheelbase_left": _in("mm", "1900", "2600", 0),
                    "wheelbase_right": _in("mm", "1900", "2600", 0),
                    "front_width_over_tyres": _in("mm", "1400", "1900", 0),
                    "rear_width_over_tyres": _in("mm", "1400", "1900", 0),
                }
            ),
            "tyres": st.fixed_dictionaries({"dry": set_of_tyres, "wet": set_of_tyres}),
            "fuel": st.fixed_dictionaries(
                {
                    "capacity": _in("L", "20", "40"),
                    "unusable": _in("L", "0", "2"),
                    "density": _in("kg/L", "0.700", "0.800", 3),
                    "at": _place(),
                }
            ),
            "driver": st.fixed_dictionaries({"mass": _in("kg", "50", "120"), "at": _place()}),
            "wear": st.fixed_dictionaries({wheel: _in("kg", "0", "1.5") for wheel in WHEELS}),
        }
    )
