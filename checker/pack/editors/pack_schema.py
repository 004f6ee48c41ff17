"""The JSON Schema of a pack's files, for editors that complete and check while one types.

It is built from the kinds' own schemas, so a new kind is in it by being there. It says what a file may look like;
whether formulas make sense and names exist, only reading the pack tells. Draft 2020-12.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from checker.kinds import all_kinds
from checker.kinds.frame.entries import IF_NONE
from checker.pack.editors.declaration_schema import declaration_schema
from checker.pack.editors.gear_schema import instruments_schema
from checker.pack.model import ADVISORY, MANDATORY, OFFICIAL_RULES
from checker.pack.sections.header import COURSES

__all__ = ["declaration_schema", "pack_schema"]

DIALECT = "https://json-schema.org/draft/2020-12/schema"
Schema = dict[str, Any]

_DAY: Schema = {"type": "string", "pattern": "^[0-9]{4}-[0-9]{2}-[0-9]{2}$", "description": "As 2026-03-01."}
_TEXT: Schema = {"type": "string"}
_FORMULA: Schema = {"type": ["string", "number", "boolean"]}
_LITERAL: Schema = {"type": ["string", "number", "boolean"]}
_WORDS: Schema = {"type": "array", "minItems": 1, "items": _TEXT}
_CLAUSE_NUMBERS: Schema = {"type": "array", "items": _TEXT}


def pack_schema() -> Schema:
    """The schema of every file of a pack's folder: an edition, a bulletin, the register of approvals, cases."""
    return {
        "$schema": DIALECT,
        "title": "Rule pack",
        "description": "An edition of a rulebook, a bulletin, a register of approvals, or a file of cases.",
        "if": {"type": "array"},
        "then": {"$ref": "#/$defs/cases"},
        "else": {
            "if": {"required": ["bulletin"]},
            "then": {"$ref": "#/$defs/bulletin"},
            "else": {
                "if": {"required": ["approvals"]},
                "then": {"$ref": "#/$defs/register"},
                "else": {"$ref": "#/$defs/edition"},
            },
        },
        "$defs": {
            "edition": _edition(),
            "fact": _fact(),
            "worked_out": _worked_out(),
            "clause": _clause(),
            "cases": _cases(),
            "bulletin": _bulletin(),
            "register": _register(),
            **_checks(),
        },
    }


def closed(properties: Mapping[str, Schema], *required: str, **more: Any) -> Schema:
    """The schema of a mapping with these keys and no others."""
    needed = {"required": list(required)} if required else {}
    return {"type": "object", **more, **needed, "additionalProperties": False, "properties": dict(properties)}


def _mapping(of: Schema, description: str) -> Schema:
    return {"type": "object", "description": description, "additionalProperties": of}


def _told(schema: Schema, description: str) -> Schema:
    return {**schema, "description": description}


# --- checks --------------------------------------------------------------------------------------------------


def _checks() -> dict[str, Schema]:
    """`check` and one definition for each kind. The kind's key chooses the branch, so a mistake is told once."""
    kinds = all_kinds()
    frame = _frame()
    made: dict[str, Schema] = {
        "check": {
            "type": "object",
            "description": "One kind of check, with what may stand beside it.",
            "oneOf": [{"required": [key]} for key in kinds],
            "allOf": [{"if": {"required": [key]}, "then": {"$ref": f"#/$defs/check_{key}"}} for key in kinds],
        }
    }
    for key, kind in kinds.items():
        schema = dict(kind.SCHEMA)
        what = (kind.__doc__ or "").strip().split("\n\n")[0]
        made[f"check_{key}"] = {
            **closed({**schema["properties"], **frame}, *schema.get("required", [key])),
            "description": what.partition(": ")[2] or what,
        }
    return made


def _frame() -> dict[str, Schema]:
    """What may stand beside any kind."""
    whole: Schema = {"type": "integer", "minimum": 1}
    return {
        "within": _told(_TEXT, "Every component whose category is that or below it."),
        "each": _told(_TEXT, "Every entry of that list; its fields are used by their bare names."),
        "pairs": _told(_TEXT, "Every two entries of that list, called a and b."),
        "runs": _told(_TEXT, "Every run of neighbours of that list, called run."),
        "shortest": _told(whole, "With runs: the shortest; 2 without it."),
        "longest": _told(whole, "With runs: the longest; all of them without it."),
        "where": _told(_FORMULA, "Only the entries for which it is true."),
        "if_none": {"enum": list(IF_NONE), "description": "What it comes to when no entry is left."},
        "when": _told(_FORMULA, "The check applies only where this is true."),
        "unless": _told(_FORMULA, "The check does not apply where this is true."),
        "since": _told(_DAY, "The first day on which the check binds, inside the edition; as 2026-03-01."),
        "until": _told(_DAY, "The last day on which it binds."),
        "act": _told(_TEXT, "Your own words for what to do where this check, or branch, is not met."),
        "let": _mapping(_FORMULA, "Names for values, usable in the lines after them."),
        "condition": {
            "anyOf": [_TEXT, _WORDS],
            "description": "The condition, or conditions, in which it must hold.",
        },
        "of_several": {"enum": ["worst", "mean"], "description": "What counts of several values."},
    }


# --- an edition ----------------------------------------------------------------------------------------------


def _edition() -> Schema:
    named = {"type": "object"}
    tolerance: Schema = {"anyOf": [_FORMULA, {"type": "array", "items": _FORMULA}]}
    return closed(
        {
            "pack": _told(_TEXT, "A short name, which declarations give as their formula."),
            "edition": _told(_TEXT, 'In quotes: "2026.1".'),
            "title": _told(_TEXT, "What the rulebook is called."),
            "in_force": closed({"from": _DAY, "until": _DAY}, "from", description="First and last day."),
            "course": {"enum": list(COURSES), "description": "Anticlockwise: inside is left."},
            "tyre_sets": _told(
                {"type": "array", "minItems": 1, "uniqueItems": True, "items": _TEXT},
                "The sets that the formula runs; each counts, described or not.",
            ),
            "currency": {"type": "string", "pattern": "^[A-Z]{3}$", "description": "As GBP."},
            "decision": closed(
                {
                    "official": {"enum": list(OFFICIAL_RULES)},
                    "confidence": _told(_TEXT, "As 95 %."),
                },
                description="How values nearer a limit than the gear resolves are decided.",
            ),
            "defaults": closed(
                {
                    "condition": {"anyOf": [_TEXT, _WORDS]},
                    "tolerance": _told(tolerance, "One for each dimension, as [0 mm, 0 kg]."),
                },
                description="Taken where a check says nothing else.",
            ),
            "facts": {
                **named,
                "description": "What entrants declare, each as section.name.",
                "propertyNames": {"pattern": "^[A-Za-z][A-Za-z0-9_]*[.][A-Za-z][A-Za-z0-9_]*$"},
                "additionalProperties": {"$ref": "#/$defs/fact"},
            },
            "lists": _mapping(
                closed(
                    {
                        "known_by": _told(_TEXT, "The field that reports call an entry by."),
                        "fields": _mapping(
                            {
                                "if": {"required": ["formula"]},
                                "then": {"$ref": "#/$defs/worked_out"},
                                "else": {"$ref": "#/$defs/fact"},
                            },
                            "The fields of an entry.",
                        ),
                    }
                ),
                "Lists of entries; a standard list is added to.",
            ),
            "instruments": instruments_schema(_LITERAL),
            "gear": _told(
                closed(
                    {"floor_out_of_level": _TEXT, "centre_of_gravity_height": _TEXT, "weighed_with": _TEXT}
                ),
                "What is taken for granted of a weighing where nobody states it.",
            ),
            "derived": _mapping({"$ref": "#/$defs/worked_out"}, "Values worked out from facts."),
            "categories": {
                "type": "array",
                "items": _TEXT,
                "description": "Of components, in full: brakes/disc.",
            },
            "materials": _mapping(
                {
                    "anyOf": [
                        {"type": "array", "items": _TEXT},
                        closed({"words_from": _told(_TEXT, "A YAML list beside the pack.")}, "words_from"),
                        {"type": "null"},
                    ]
                },
                "Families and what belongs to each; a lone material has an empty list.",
            ),
            "tables": _mapping(
                closed(
                    {
                        "by": {"anyOf": [_TEXT, _WORDS], "description": "The names of the keys."},
                        "rows": {
                            "type": "array",
                            "minItems": 1,
                            "items": _mapping(
                                {"anyOf": [_LITERAL, {"type": "array", "items": _LITERAL}]},
                                "Key cells and result cells.",
                            ),
                        },
                    },
                    "by",
                    "rows",
                ),
                "Used in formulas like functions of their keys.",
            ),
            "conditions": _mapping(
                closed({"fuel": _TEXT, "driver": _TEXT, "tyres": _TEXT, "wear": _TEXT}),
                "States of the car that clauses ask for.",
            ),
            "clauses": _mapping({"$ref": "#/$defs/clause"}, "The rules by their numbers, in quotes."),
            "cases": {
                "anyOf": [_TEXT, {"$ref": "#/$defs/cases"}],
                "description": "Cases, or the name of a file beside the pack.",
            },
        },
        *("pack", "edition", "title", "in_force", "clauses"),
    )


def _fact() -> Schema:
    several: Schema = {"anyOf": [_LITERAL, {"type": "array", "items": _LITERAL}]}
    precision: Schema = {"enum": ["day", "month", "year"]}
    return closed(
        {
            "unit": _told(_TEXT, "A quantity of that unit's dimension."),
            "one_of": _told(_WORDS, "A word from this list."),
            "grades": _told(_WORDS, "A word from this list, the lowest first."),
            "type": {
                "enum": ["number", "count", "text", "truth", "date", "material", "category"],
                "description": "What it is, where no unit or list of words says so.",
            },
            "to": {"anyOf": [precision, {"type": "array", "items": precision}], "description": "For dates."},
            "several": {"type": "boolean", "description": "One value or a list of values."},
            "readings": {
                "type": "integer",
                "minimum": 2,
                "description": "How many readings it takes at least; with fewer it is not shown.",
            },
            "range": {
                "type": "array",
                "minItems": 2,
                "maxItems": 2,
                "items": _LITERAL,
                "description": "Outside it the input is taken for a slip and refused; not a rule.",
            },
            "optional": {"type": "boolean", "description": "Absent without complaint."},
            "happened": {"type": "boolean", "description": "A day that cannot lie after the one judged."},
            "default": _told(several, "Taken when absent, and said so in the report."),
            "stated_by": {"enum": ["entrant", "official", "organiser"]},
            "measured_with": _told(_TEXT, "An instrument of the pack."),
            "uncertainty": _told(_LITERAL, "Its standard uncertainty."),
            "taken": _told(_TEXT, "The state in which it is measured."),
            "about": _told(_TEXT, "Help for who declares it."),
        }
    )


def _worked_out() -> Schema:
    return closed(
        {
            "formula": _told(_FORMULA, "How it is worked out; it is not declared."),
            "unit": _told(_TEXT, "The unit it is shown in."),
            "about": _TEXT,
        },
        "formula",
    )


def _clause() -> Schema:
    return closed(
        {
            "title": _told(_TEXT, "A short name."),
            "text": _told(_TEXT, "The rulebook's own wording, shown in reports."),
            "check": {"$ref": "#/$defs/check"},
            "severity": {"enum": [MANDATORY, ADVISORY], "description": "An advisory breach is advice."},
            "consequence": _told(_TEXT, "What follows from a breach."),
            "penalty": {
                "anyOf": [
                    _TEXT,
                    closed(
                        {"amount": _told(_FORMULA, "`excess` is how far the car is over."), "unit": _TEXT},
                        "amount",
                    ),
                ]
            },
            "act": _told(_TEXT, "What to do, in place of what the kind says."),
            "interpretation": _told(_TEXT, "How the club reads a wording that can be read two ways."),
            "instead_of": {
                "anyOf": [_TEXT, _CLAUSE_NUMBERS],
                "description": "Clauses this one takes the place of when it applies.",
            },
            "since": _told(_DAY, "First day of this clause inside the edition."),
            "until": _told(_DAY, "Last day of this clause inside the edition."),
            "earlier": {
                "type": "array",
                "description": "Older checks kept for older cars; the first entry that fits counts.",
                "items": closed(
                    {
                        "before": _told(_DAY, "Kept for cars from before this day."),
                        "by": _told(
                            _FORMULA, "The day that says how old a car is; car.chassis_built without it."
                        ),
                        "until": _told(_DAY, "Last day of the exemption."),
                        "check": {
                            "if": {"type": "string"},
                            "then": {"const": "none"},
                            "else": {"$ref": "#/$defs/check"},
                        },
                    },
                    *("before", "check"),
                ),
            },
            "formerly": _told(_TEXT, "Its number in the edition before."),
        },
        "check",
    )


# --- what stands beside an edition ---------------------------------------------------------------------------


def _cases() -> Schema:
    outcome: Schema = {"enum": ["pass", "fail", "too_close", "not_shown", "not_applicable", "dispensation"]}
    expected: Schema = {
        "if": {"type": "string"},
        "then": outcome,
        "else": closed({"outcome": outcome, "margin": {"type": ["string", "number"]}}, "outcome"),
    }
    return {
        "type": "array",
        "items": closed(
            {
                "name": _TEXT,
                "from": _told(_TEXT, "A declaration to start from; an empty one without it."),
                "on": _told(_DAY, "The day it is judged for; the edition's first without it."),
                "set": {"type": "object", "description": "Values by path, counted from 0."},
                "remove": {"type": "array", "items": _TEXT, "description": "Paths that are taken away."},
                "expect": _mapping(expected, "What becomes of the clauses."),
            },
            *("name", "expect"),
        ),
    }


def _change(verb: str, *required: str) -> Schema:
    place: Schema = {verb: _told(_TEXT, "A clause by its number, anything else as section.name.")}
    return closed({**place, "at": _TEXT, "for": {}, "read": {}}, verb, *required)


def _bulletin() -> Schema:
    verbs = {"change": ("at",), "add": ("read",), "withdraw": ()}
    return closed(
        {
            "bulletin": _told(_TEXT, "Its name."),
            "amends": closed({"pack": _TEXT, "edition": _TEXT}, "pack", "edition"),
            "in_force": closed({"from": _DAY, "until": _DAY}, "from"),
            "reason": _told(_TEXT, "Why."),
            "changes": {
                "type": "array",
                "minItems": 1,
                "items": {
                    "type": "object",
                    "oneOf": [{"required": [verb]} for verb in verbs],
                    "allOf": [
                        {"if": {"required": [verb]}, "then": _change(verb, *required)}
                        for verb, required in verbs.items()
                    ],
                },
            },
        },
        *("bulletin", "amends", "in_force", "changes"),
    )


def _register() -> Schema:
    return closed(
        {
            "approvals": {
                "type": "array",
                "items": closed(
                    {
                        "reference": _TEXT,
                        "clauses": _CLAUSE_NUMBERS,
                        "cars": {
                            "type": "array",
                            "items": _TEXT,
                            "description": "Racing numbers; any car without it.",
                        },
                        "when": _told(_FORMULA, "It applies only where this is true."),
                        "from": _DAY,
                        "until": _DAY,
                        "reason": _TEXT,
                        "changes": {"type": "array", "items": {"type": "object"}},
                    },
                    *("reference", "clauses"),
                ),
            }
        },
        "approvals",
    )
