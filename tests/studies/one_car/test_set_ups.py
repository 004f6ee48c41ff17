"""What is stated otherwise of one set-up than of another."""

from __future__ import annotations

from typing import Any

from checker.studies.one_car.set_ups import SetUpDifference, differences
from tests.car.cars import ABSENT, loaded, varied
from tests.examples import each_row

PIECES = [
    {"label": "B1", "mass": "5 kg", "at": {"behind_front_axle": "600 mm"}},
    {"label": "B1", "mass": "6 kg", "count": 2},
]


@each_row(
    ("changes", "expected"),
    [
        ({}, []),
        ({"fuel.capacity": "22000 cc"}, []),
        ({"fuel.capacity": "21 L"}, [("fuel.capacity", "22 L", "21 L")]),
        ({"fuel.unusable": ABSENT}, [("fuel.unusable", "0.5 L", "0 L")]),
        (
            {"tyres.wet": ABSENT},
            [
                (f"tyres.wet.{part}", was, None)
                for part, was in (
                    ("front.mass", "14.9 kg"),
                    ("front.section", "215 mm"),
                    ("rear.mass", "15.6 kg"),
                    ("rear.section", "225 mm"),
                )
            ],
        ),
        (
            {"weighing.readings[1].rear_left": "153 kg"},
            [("weighing.readings[1].rear_left", "152.5 kg", "153 kg")],
        ),
        (
            {"ballast[0].at.behind_front_axle": "640 mm"},
            [("ballast B1: behind_front_axle", "600 mm", "640 mm")],
        ),
        ({"ballast[1].count": 3}, [("ballast B1 (2): count", "2", "3")]),
        (
            {"ballast[1].label": "B2"},
            [
                ("ballast B2", None, "there"),
                ("ballast B2: count", None, "2"),
                ("ballast B2: label", None, "B2"),
                ("ballast B2: mass", None, "6 kg"),
                ("ballast B1 (2)", "there", None),
                ("ballast B1 (2): count", "2", None),
                ("ballast B1 (2): label", "B1", None),
                ("ballast B1 (2): mass", "6 kg", None),
            ],
        ),
        (
            {"driver.mass": {"value": "82 kg", "uncertainty": "1 kg"}},
            [("driver.mass", "82 kg", "82 kg, uncertainty stated")],
        ),
    ],
)
def test_all_that_is_stated_otherwise_is_told_once(
    changes: dict[str, Any], expected: list[tuple[str, str | None, str | None]]
) -> None:
    base = varied({"ballast": PIECES})
    found = differences(loaded(base), loaded(varied(changes, base)))
    assert sorted(found, key=lambda one: one.name) == sorted(
        (SetUpDifference(*one) for one in expected), key=lambda one: one.name
    )
    back = differences(loaded(varied(changes, base)), loaded(base))
    assert {(one.name, one.now, one.before) for one in back} == {
        (one.name, one.before, one.now) for one in found
    }
