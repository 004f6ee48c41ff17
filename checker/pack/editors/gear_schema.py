"""JSON Schemas of what a declaration, a readings file and a club's gear file say of gear, pads, floor and tank."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from checker.car.described.accuracy_classes import CLASSES, STANDARDS
from checker.car.described.standard import AXLES
from checker.car.gear.pads import PADS
from checker.pack.editors.schema_parts import (
    CALENDAR_DAY,
    DIALECT,
    FILLED,
    Schema,
    by_its_key,
    closed,
    defined,
    either,
    mapping,
    several,
    told,
    truth,
    words,
)

_DAY: Schema = {"type": "string", "pattern": rf"^\s*{CALENDAR_DAY}\s*$"}
_MOMENT: Schema = {
    "type": "string",
    "pattern": rf"^\s*{CALENDAR_DAY}(?:\s+[0-9]{{2}}:[0-9]{{2}})?\s*$",
    "description": "A day, and the time where it is known: 2026-05-03 08:40.",
}


def instruments_schema(amount: Schema) -> Schema:
    """`instruments:`; `amount` is the schema of a quantity of any kind."""
    by_class = {
        "class": words(CLASSES, "The accuracy class on its plate."),
        "interval": told(amount, "The verification scale interval on its plate."),
        "in_service": truth("Twice the error is allowed in use; true without it."),
        "standard": words(STANDARDS),
    }
    how_far = "How far it may be out: an amount, a percentage of what it shows, or by its class."
    instrument = {
        "resolution": told(amount, "One step of its display."),
        "permissible_error": either(amount, closed(by_class, "class", "interval"), about=how_far),
        "uncertainty": told(amount, "Standard uncertainty that its certificate states."),
        "common_error": told(FILLED, "A percentage that all pads of the set may be out by together."),
        "offset": either(
            amount, mapping(amount), about="What is to be added to what it shows, or each pad by its name."
        ),
        "calibrated": told(_DAY, "Day of the last calibration."),
        "calibrated_until": told(_DAY, "Last day that the calibration is good for."),
    }
    return mapping(closed(instrument), "What was measured with, by name.")


def gear_file_schema() -> Schema:
    """The schema of a club's gear file. Draft 2020-12."""
    keys = {"instruments": instruments_schema(FILLED), "checks": checks_schema(FILLED)}
    return {"$schema": DIALECT, "title": "A club's gear", **closed(keys)}


def checks_schema(kg: Schema) -> Schema:
    """`checks:` of the pads."""
    check = {
        "instrument": FILLED,
        "when": _MOMENT,
        "zero": mapping(kg, "With nothing on it, by pad."),
        "test_weight": told(kg, "The weight that was put on each."),
        "shown": mapping(kg, "Under that weight, by pad."),
    }
    about = "What each pad showed with nothing on it and under a known weight."
    return several(closed(check, "instrument", "when"), about)


def pads_schema(shape: tuple[str, ...]) -> Schema:
    """Where the pads stood in one reading."""
    named = closed(dict.fromkeys(shape, FILLED), *shape)
    return either(words(PADS), named, about="Which pad stood where; as marked without it.")


def weighing_extras(mm_or_deg: Schema, place: Schema, lists: Mapping[str, str]) -> dict[str, Schema]:
    """What stands under `weighing:` beside its facts and readings.

    Args:
        lists: Those of what weighs something, by what their entries are known by.
    """
    done = {
        "added": closed({"added": told(FILLED, "The name of what is on the car now.")}, "added"),
        "moved": closed(
            {"moved": FILLED, "from": told(place, "Where it was when weighed.")}, "moved", "from"
        ),
        "taken_off": closed({"taken_off": by_its_key(_entries(lists), "What was on the car.")}, "taken_off"),
    }
    return {
        "floor": closed(
            {"across": mm_or_deg, "along": mm_or_deg, "pad_height": FILLED, "stiffness": FILLED},
            about="How level the pads are: to within 2 mm, or 0.1 deg; how far one may stand out of the plane "
            "of the others, as 0.5 mm, and the stiffness of one wheel against the ground, as 25 N/mm, for single "
            "wheels and the cross weight.",
        ),
        "without": several(FILLED, "Labels of ballast that was not on the car."),
        "since": several(by_its_key(done), "What was done to the car after it was weighed."),
        "when": _MOMENT,
    }


def _entries(lists: Mapping[str, str]) -> dict[str, Schema]:
    return {known_by: defined(name) for known_by, name in lists.items()}


def tank_schema(place: Schema, litres: Schema) -> Schema:
    """`fuel.at`: one place, or the centre of the fuel at rising levels."""
    level = closed({"level": litres, **place["properties"]}, "level")
    about = "Where the fuel is; where that moves with its level, the centre of all fuel up to each level."
    return either(place, several(level, least=1), about=about)


def further_sections(measured: Callable[[str], Schema], place: Schema) -> dict[str, Schema]:
    """`fluids:` and `centre_of_gravity:`; `measured` gives the schema of a quantity in a unit."""
    raised = {
        "axle": words(AXLES, "The one that was raised."),
        "by": measured("mm"),
        "other_axle": told(measured("kg"), "What the other then carried."),
        "wheel_radius": told(measured("mm"), "From the ground to the hub that stayed down."),
    }
    fluid = closed({"lost": measured("kg"), "at": place}, "lost")
    return {
        "fluids": mapping(fluid, "Fluids used up as tyres and brakes wear, by name."),
        "centre_of_gravity": closed(
            {"height": measured("mm"), "raised": several(closed(raised, *raised))},
            about="Its height above the ground, or weighings with an axle raised to find it.",
        ),
    }
