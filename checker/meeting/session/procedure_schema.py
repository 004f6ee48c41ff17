"""The JSON Schema of procedures, for editors."""

from __future__ import annotations

from checker.car.gear.weighing import PADS
from checker.meeting.session.procedure import AFTER_A_FAIL, ALWAYS, KEYS, LAST, MEAN, NEVER, PRESENTED
from checker.pack.editors.schema_parts import (
    DIALECT,
    FILLED,
    WHOLE,
    Schema,
    closed,
    mapping,
    several,
    told,
    truth,
    words,
)


def procedure_schema() -> Schema:
    """The schema of a procedure for any pack. Draft 2020-12."""
    clauses = several(FILLED, "Clause numbers, in quotes.")
    step = {
        **closed(
            {"name": FILLED, "weighing": truth("The scales."), "clauses": {**clauses, "minItems": 1}}, "name"
        ),
        "if": {"required": ["clauses"]},
        "then": {"properties": {"weighing": {"const": False}}},
        "else": {"properties": {"weighing": {"const": True}}, "required": ["weighing"]},
    }
    reweigh = {
        "when": words((ALWAYS, AFTER_A_FAIL, NEVER)),
        "at_most": {"type": "integer", "minimum": 0},
        "incidents": several(FILLED, "After one of these a car may be weighed again whatever came out."),
    }
    success = {
        "place": told(FILLED, "The fact that takes the place at the meeting before."),
        "places": mapping(WHOLE, "The word for each place that counts."),
        "others": told(FILLED, "The word for every other place."),
        "carried_over": told(FILLED, "The fact that takes what was due before."),
        "due": told(FILLED, "The derived value that says what is due."),
    }
    keys: dict[str, Schema] = {
        "procedure": told(FILLED, "The formula."),
        "editions": several(FILLED, "What it is for, in quotes; every edition without it.", least=1),
        "weighings": told(WHOLE, "How often a car is weighed at scrutineering."),
        "pads": words(PADS, "How the pads stand for the second weighing and later ones."),
        "counts": words((MEAN, LAST), "Which of one set of weighings counts."),
        "presented": closed(dict.fromkeys(PRESENTED, FILLED), about="What a car is like on the scales."),
        "reweigh": closed(reweigh, about="When a car may be weighed again, and how often."),
        "prepare": several(FILLED, "Shown before the scales."),
        "steps": several(step, "In this order; the first that is not done is shown as the next."),
        "after_race": closed({"weighings": WHOLE, "prepare": several(FILLED), "clauses": clauses}),
        "success": {
            **closed(success, "place", "places", "others", about="What a place means for success ballast."),
            "dependentRequired": {"due": ["carried_over"], "carried_over": ["due"]},
        },
    }
    assert keys.keys() == set(KEYS)
    return {"$schema": DIALECT, "title": "How the day runs", **closed(keys, "procedure")}
