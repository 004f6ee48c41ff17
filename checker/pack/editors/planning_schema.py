"""The JSON Schema of `planning:`, what may be added to a car, moved on it and taken off it."""

from __future__ import annotations

from typing import Protocol

from checker.car.described.vocabulary import ListType
from checker.pack.editors.schema_parts import FILLED, WHOLE, Schema, closed, either, several, told
from checker.pack.model import Pack

_LISTED = ("label", "mass", "count", "at", "parts")


class Parts(Protocol):
    """What the schema of a pack's declarations is put together from."""

    pack: Pack

    def entry(self, its_list: ListType) -> Schema: ...
    def measured(self, unit: str) -> Schema: ...
    def place(self) -> Schema: ...


def planning_schema(parts: Parts) -> Schema:
    ballast, place = parts.entry(parts.pack.vocabulary.lists["ballast"]), parts.place()
    kg, litres = parts.measured("kg"), parts.measured("L")
    known = ballast["properties"]
    fields = {key: schema for key, schema in known.items() if key not in _LISTED}
    bolted = {
        "name": FILLED,
        "at": known["at"],
        "most": told(kg, "What it may carry."),
        "pieces": told(WHOLE, "How many pieces it takes."),
        **fields,
    }
    where = closed(bolted, "name", "at", about="Where ballast may be bolted, with what a piece has there.")
    piece = {
        "label": FILLED,
        "mass": told(kg, "Of one piece."),
        "count": WHOLE,
        "step": told(kg, "Of stock that is cut: in steps of this."),
        "most": told(kg, "How much of it there is."),
        **fields,
    }
    movable = {
        "what": told(FILLED, "The label or name of what is on the car; driver; or fuel tank."),
        "to": several(either(FILLED, where), "Places by their names, or told in full.", least=1),
        "between": several(place, "The two ends that it slides between."),
    }
    race = {
        "fuel_per_lap": told(litres, "What a lap burns."),
        "laps": WHOLE,
        "start_at_least": told(litres, "Fuel at the start, at least; without it what the race burns."),
        "start_at_most": told(litres, "Fuel at the start, at most; without it what the tank holds."),
    }
    return closed(
        {
            "places": several(where, "Where ballast may be bolted."),
            "shelf": several(closed(piece, "label"), "Pieces that are not on the car, or stock that is cut."),
            "movable": several(closed(movable, "what"), "What may sit elsewhere."),
            "may_come_off": several(FILLED, "Labels or names of what may come off."),
            "race": closed(race, "fuel_per_lap", "laps", about="What a race burns, for checker plan --race."),
        },
        about="What may be added to the car, moved on it and taken off it, for a plan of its weights.",
    )
