"""JSON Schemas of what a declaration, a readings file and a club's gear file say of gear, pads, floor and tank."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from checker.car.described.accuracy_classes import CLASSES, STANDARDS
from checker.car.described.standard import AXLES
from checker.car.gear.pads import PADS

Schema = dict[str, Any]

_TEXT: Schema = {"type": "string", "minLength": 1}
_DAY: Schema = {"type": "string", "pattern": r"^\s*[0-9]{4}-[0-9]{2}-[0-9]{2}\s*$"}
_MOMENT: Schema = {
    "type": "string",
    "pattern": r"^\s*[0-9]{4}-[0-9]{2}-[0-9]{2}(?:\s+[0-9]{2}:[0-9]{2})?\s*$",
    "description": "A day, and the time where it is known: 2026-05-03 08:40.",
}


def closed(properties: Mapping[str, Schema], *required: str) -> Schema:
    """An object with these keys and no others."""
    needed: Schema = {"required": list(required)} if required else {}
    return {"type": "object", **needed, "additionalProperties": False, "properties": dict(properties)}


def instruments_schema(amount: Schema) -> Schema:
    """`instruments:`; `amount` is the schema of a quantity of any kind."""
    by_class = closed(
        {
            "class": {"enum": list(CLASSES), "description": "The accuracy class on its plate."},
            "interval": {**amount, "description": "The verification scale interval on its plate."},
            "in_service": {
                "type": "boolean",
                "description": "Twice the error is allowed in use; true without it.",
            },
            "standard": {"enum": list(STANDARDS)},
        },
        "class",
        "interval",
    )
    return {
        "type": "object",
        "description": "What was measured with, by name.",
        "additionalProperties": closed(
            {
                "resolution": {**amount, "description": "One step of its display."},
                "permissible_error": {
                    "anyOf": [amount, by_class],
                    "description": "How far it may be out: an amount, a percentage of what it shows, or by its class.",
                },
                "uncertainty": {**amount, "description": "Standard uncertainty that its certificate states."},
                "common_error": {
                    **_TEXT,
                    "description": "A percentage that all pads of the set may be out by together.",
                },
                "offset": {
                    "anyOf": [amount, {"type": "object", "additionalProperties": amount}],
                    "description": "What is to be added to what it shows, or each pad by its name.",
                },
                "calibrated": {**_DAY, "description": "Day of the last calibration."},
                "calibrated_until": {**_DAY, "description": "Last day that the calibration is good for."},
            }
        ),
    }


def checks_schema(kg: Schema) -> Schema:
    """`checks:` of the pads."""
    by_pad: Schema = {"type": "object", "additionalProperties": kg}
    return {
        "type": "array",
        "description": "What each pad showed with nothing on it and under a known weight.",
        "items": closed(
            {
                "instrument": _TEXT,
                "when": _MOMENT,
                "zero": {**by_pad, "description": "With nothing on it, by pad."},
                "test_weight": {**kg, "description": "The weight that was put on each."},
                "shown": {**by_pad, "description": "Under that weight, by pad."},
            },
            "instrument",
            "when",
        ),
    }


def pads_schema(shape: tuple[str, ...]) -> Schema:
    """Where the pads stood in one reading."""
    named = closed(dict.fromkeys(shape, _TEXT), *shape)
    return {
        "anyOf": [{"enum": list(PADS)}, named],
        "description": "Which pad stood where; as marked without it.",
    }


def weighing_extras(mm_or_deg: Schema) -> dict[str, Schema]:
    """What stands under `weighing:` beside its facts and readings."""
    return {
        "floor": {
            **closed({"across": mm_or_deg, "along": mm_or_deg, "pad_height": _TEXT, "stiffness": _TEXT}),
            "description": "How level the pads are: to within 2 mm, or 0.1 deg; how far one may stand out of the plane "
            "of the others, as 0.5 mm, and the stiffness of one wheel against the ground, as 25 N/mm, for single "
            "wheels and the cross weight.",
        },
        "without": {
            "type": "array",
            "items": _TEXT,
            "description": "Labels of ballast that was not on the car.",
        },
        "when": _MOMENT,
    }


def tank_schema(place: Schema, litres: Schema) -> Schema:
    """`fuel.at`: one place, or the centre of the fuel at rising levels."""
    level = closed({"level": litres, **place["properties"]}, "level")
    return {
        "anyOf": [place, {"type": "array", "minItems": 1, "items": level}],
        "description": "Where the fuel is; where that moves with its level, the centre of all fuel up to each level.",
    }


def further_sections(measured: Callable[[str], Schema], place: Schema) -> dict[str, Schema]:
    """`fluids:` and `centre_of_gravity:`; `measured` gives the schema of a quantity in a unit."""
    raised = closed(
        {
            "axle": {"enum": list(AXLES), "description": "The one that was raised."},
            "by": measured("mm"),
            "other_axle": {**measured("kg"), "description": "What the other then carried."},
            "wheel_radius": {**measured("mm"), "description": "From the ground to the hub that stayed down."},
        },
        "axle",
        "by",
        "other_axle",
        "wheel_radius",
    )
    return {
        "fluids": {
            "type": "object",
            "description": "Fluids used up as tyres and brakes wear, by name.",
            "additionalProperties": closed({"lost": measured("kg"), "at": place}, "lost"),
        },
        "centre_of_gravity": {
            **closed({"height": measured("mm"), "raised": {"type": "array", "items": raised}}),
            "description": "Its height above the ground, or weighings with an axle raised to find it.",
        },
    }
