"""Small cars to plan for: the car of the cross-check M11, as plain data, with rules and things to do."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any

from checker.car.declaration.loading import load_car
from checker.pack.model import Pack
from checker.reading.document import Document
from checker.reading.strict_yaml import parse_document
from checker.studies.planning.aims import Aim
from checker.studies.planning.looking import Asked
from checker.studies.planning.planner import WeightPlan, plan
from tests.building import DAY, pack_of

M11: dict[str, Any] = {
    "formula": "test",
    "car": {"number": "7"},
    "event": {"date": DAY.isoformat()},
    "weighing": {
        "fuel": "10 L",
        "driver": "out",
        "tyres": "dry",
        "wear": "new",
        "readings": [
            {"front_left": "150 kg", "front_right": "148 kg", "rear_left": "172 kg", "rear_right": "170 kg"}
        ],
    },
    "dimensions": {
        "wheelbase_left": "2400 mm",
        "wheelbase_right": "2400 mm",
        "front_width_over_tyres": "1700 mm",
        "rear_width_over_tyres": "1700 mm",
    },
    "tyres": {
        "dry": {
            "front": {"mass": "14 kg", "section": "200 mm"},
            "rear": {"mass": "15 kg", "section": "200 mm"},
        }
    },
    "fuel": {
        "capacity": "20 L",
        "density": "0.75 kg/L",
        "at": {"behind_front_axle": "2000 mm", "left_of_centre": "0 mm"},
    },
    "driver": {"mass": "80 kg", "at": {"behind_front_axle": "1200 mm", "left_of_centre": "0 mm"}},
    "wear": {"front_left": "0 kg", "front_right": "0 kg", "rear_left": "0 kg", "rear_right": "0 kg"},
}
"""640 kg, 46.5625 % on the front, 50.3125 % on the left; calculated by three published forms."""


def at(along_mm: float, left_mm: float = 0, **more: Any) -> dict[str, Any]:
    return {"behind_front_axle": f"{along_mm} mm", "left_of_centre": f"{left_mm} mm", **more}


def car(planning: Mapping[str, Any], **more: Any) -> Document:
    """The declaration of the car of M11 with things to do and other sections."""
    return parse_document(json.dumps({**M11, **more, "planning": planning}).encode(), "car.yaml", "CD")


def rules(*checks: str) -> Pack:
    """A pack with these checks as clauses 1, 2, 3."""
    return pack_of(
        "\n".join(f'"{n}": {{title: T{n}, text: Words, check: {one}}}' for n, one in enumerate(checks, 1))
    )


def planned(pack: Pack, document: Document, aim: Aim = Aim.LEAST, **asked: Any) -> WeightPlan:
    """The plan, with what may be done as the declaration says."""
    loaded = load_car(document, pack.vocabulary)
    return plan(pack, document, loaded, loaded.planning, DAY, Asked(aim, **asked))


def done(found: WeightPlan) -> list[tuple[str, str, str, float]]:
    """What is done, in words."""
    assert found.found is not None, found.status
    return [
        (option.doing.value, option.what, option.place.name if option.place else "", float(times))
        for option, times in found.found.chosen.items()
    ]
