"""The JSON Schema of a pack's files, for editors that complete and check while one types.

It is built from the kinds' own schemas, so a new kind is in it by being there. It says what a file may look like;
whether formulas make sense and names exist, only reading the pack tells. Draft 2020-12.
"""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from typing import Any

from checker.car.described.vocabulary import ENTRANT, OFFICIAL, ORGANISER
from checker.kinds import all_kinds
from checker.kinds.frame.entries import IF_NONE
from checker.kinds.kind_file import summary
from checker.pack.editors.companion_schemas import bulletin, cases, interpretations, register
from checker.pack.editors.declaration_schema import declaration_schema
from checker.pack.editors.gear_schema import instruments_schema
from checker.pack.editors.schema_parts import (
    DAY,
    DIALECT,
    LITERAL,
    TEXT,
    WHOLE,
    Schema,
    by_its_key,
    closed,
    defined,
    either,
    if_it_has,
    if_text,
    mapping,
    or_empty,
    several,
    text,
    told,
    truth,
    words,
)
from checker.pack.model import ADVISORY, MANDATORY, OFFICIAL_RULES
from checker.pack.sections.fact_types import PRECISIONS, TYPES
from checker.pack.sections.header import COURSES
from checker.reading.strict_yaml import parse_document

__all__ = ["declaration_schema", "pack_schema"]

_WORDS = several(TEXT, least=1)
_NAME = "[A-Za-z][A-Za-z0-9_]*"


def pack_schema() -> Schema:
    """The schema of every file of a pack's folder: an edition, a bulletin, approvals, interpretations, cases."""
    one = defined("edition")
    for key, name in (("interpretations", "interpretations"), ("approvals", "register")):
        one = if_it_has(key, defined(name), one)
    return {
        "$schema": DIALECT,
        "description": "An edition of a rulebook, a bulletin, approvals, interpretations, or a file of cases.",
        "if": {"type": "array"},
        "then": defined("cases"),
        "else": if_it_has("bulletin", defined("bulletin"), one),
        "$defs": {
            "edition": _edition(),
            "fact": _fact(),
            "worked_out": _worked_out(),
            "clause": _clause(),
            "cases": cases(),
            "bulletin": bulletin(),
            "register": register(),
            "interpretations": interpretations(),
            **_checks(),
        },
    }


# --- checks --------------------------------------------------------------------------------------------------


def _checks() -> dict[str, Schema]:
    """`check` and one definition for each kind."""
    kinds = all_kinds()
    frame = _frame()
    about = "One kind of check, with what may stand beside it."
    check = by_its_key(
        {key: told(defined(f"check_{key}"), summary(kind)) for key, kind in kinds.items()}, about
    )
    check["defaultSnippets"] = [
        {
            "label": key,
            "description": summary(kind),
            "body": _plain(parse_document(kind.EXAMPLES[0].check.encode(), key, "PK").data),
        }
        for key, kind in kinds.items()
    ]
    made = {"check": check}
    for key, kind in kinds.items():
        properties = {name: _one_type_each(schema) for name, schema in kind.SCHEMA["properties"].items()}
        required = kind.SCHEMA["required"]
        made[f"check_{key}"] = closed({**properties, **frame}, *required, about=summary(kind))
    return made


def _plain(data: Any) -> Any:
    """What was read from YAML, with the numbers that JSON has."""
    if isinstance(data, dict):
        return {key: _plain(value) for key, value in data.items()}
    if isinstance(data, list):
        return [_plain(value) for value in data]
    return (int(data) if data.denominator == 1 else float(data)) if isinstance(data, Fraction) else data


def _one_type_each(schema: Mapping[str, Any]) -> Schema:
    """The same with a branch for each of several types, as strict validators want it."""
    made = {
        key: {name: _one_type_each(one) for name, one in value.items()} if key == "properties"
        else [_one_type_each(one) for one in value] if key in ("anyOf", "oneOf", "allOf")
        else _one_type_each(value) if isinstance(value, dict)
        else value
        for key, value in schema.items()
    }  # fmt: skip
    types = made.get("type")
    if not isinstance(types, list):
        return made
    rest = {key: value for key, value in made.items() if key not in ("type", "items")}
    items = {"items": made["items"]} if "items" in made else {}
    return {**rest, "anyOf": [{"type": one, **(items if one == "array" else {})} for one in types]}


def _frame() -> dict[str, Schema]:
    """What may stand beside any kind."""
    return {
        "within": text("Every component whose category is that or below it."),
        "each": text("Every entry of that list; its fields are used by their bare names."),
        "pairs": text("Every two entries of that list, called a and b."),
        "runs": text("Every run of neighbours of that list, called run."),
        "by": text("With runs: the field that the entries are put in order by; as declared without it."),
        "shortest": told(WHOLE, "With runs: the shortest; 2 without it."),
        "longest": told(WHOLE, "With runs: the longest; all of them without it."),
        "where": told(LITERAL, "Only the entries for which it is true."),
        "if_none": words(IF_NONE, "What it comes to when no entry is left."),
        "when": told(LITERAL, "The check applies only where this is true."),
        "unless": told(LITERAL, "The check does not apply where this is true."),
        "since": told(DAY, "The first day on which the check binds, inside the edition; as 2026-03-01."),
        "until": told(DAY, "The last day on which it binds."),
        "act": text("Your own words for what to do where this check, or branch, is not met."),
        "let": mapping(LITERAL, "Names for values, usable in the lines after them."),
        "condition": either(TEXT, _WORDS, about="The condition, or conditions, in which it must hold."),
        "of_several": words(("worst", "mean"), "What counts of several values."),
    }


# --- an edition ----------------------------------------------------------------------------------------------


def _edition() -> Schema:
    confidence = text("As 95 %.")
    tolerance = either(LITERAL, several(LITERAL), about="One for each dimension, as [0 mm, 0 kg].")
    fields = if_it_has("formula", defined("worked_out"), defined("fact"))
    of_a_list = {
        "known_by": text("The field that reports call an entry by."),
        "fields": mapping(fields, "The fields of an entry."),
        "unique": text("A field of which no two entries may state the same, as a number that is given once."),
    }
    from_a_file = closed({"words_from": text("A YAML list beside the pack.")}, "words_from")
    row = mapping(either(LITERAL, several(LITERAL)), "Key cells and result cells.")
    table = {
        "by": either(TEXT, _WORDS, about="The names of the keys."),
        "interpolate": words(("linear",), "Between two rows: what lies between, in a straight line."),
        "rows": several(row, least=1),
    }
    keys = {
        "pack": text("A short name, which declarations give as their formula."),
        "edition": text('In quotes: "2026.1".'),
        "title": text("What the rulebook is called."),
        "in_force": closed({"from": DAY, "until": DAY}, "from", about="First and last day."),
        "course": words(COURSES, "Anticlockwise: inside is left."),
        "tyre_sets": several(
            TEXT, "The sets that the formula runs; each counts, described or not.", least=1, uniqueItems=True
        ),
        "currency": {"type": "string", "pattern": "^[A-Z]{3}$", "description": "As GBP."},
        "decision": closed(
            {"official": words(OFFICIAL_RULES), "confidence": confidence},
            about="How values nearer a limit than the gear resolves are decided.",
        ),
        "defaults": closed(
            {"condition": either(TEXT, _WORDS), "tolerance": tolerance},
            about="Taken where a check says nothing else.",
        ),
        "facts": mapping(
            defined("fact"),
            "What entrants declare, each as section.name.",
            propertyNames={"pattern": f"^{_NAME}[.]{_NAME}$"},
        ),
        "lists": mapping(closed(of_a_list), "Lists of entries; a standard list is added to."),
        "instruments": instruments_schema(LITERAL),
        "gear": closed(
            {"floor_out_of_level": TEXT, "centre_of_gravity_height": TEXT, "weighed_with": TEXT},
            about="What is taken for granted of a weighing where nobody states it.",
        ),
        "derived": mapping(defined("worked_out"), "Values worked out from facts."),
        "categories": several(TEXT, "Of components, in full: brakes/disc."),
        "materials": mapping(
            either(several(TEXT), from_a_file, {"type": "null"}),
            "Families and what belongs to each; a lone material has an empty list.",
        ),
        "tables": mapping(closed(table, "by", "rows"), "Used in formulas like functions of their keys."),
        "conditions": mapping(
            closed({"fuel": TEXT, "driver": TEXT, "tyres": TEXT, "wear": TEXT}),
            "States of the car that clauses ask for.",
        ),
        "clauses": mapping(defined("clause"), "The rules by their numbers, in quotes."),
        "cases": either(TEXT, defined("cases"), about="Cases, or the name of a file beside the pack."),
    }
    may_be_empty = ("decision", "defaults", "facts", "lists", "instruments", "gear", "derived", "categories",
                    "materials", "tables", "conditions")  # fmt: skip
    keys |= {key: or_empty(keys[key]) for key in may_be_empty}
    keys["currency"] = or_empty(keys["currency"])
    return closed(keys, "pack", "edition", "title", "in_force", "clauses")


def _fact() -> Schema:
    precision = words(PRECISIONS)
    readings = "How many readings it takes at least; with fewer it is not shown."
    outside = "Outside it the input is taken for a slip and refused; not a rule."
    default = "Taken when absent, and said so in the report."
    return closed(
        {
            "unit": text("A quantity of that unit's dimension."),
            "one_of": told(_WORDS, "A word from this list."),
            "grades": told(_WORDS, "A word from this list, the lowest first."),
            "type": words(TYPES, "What it is, where no unit or list of words says so."),
            "to": either(precision, several(precision), about="For dates."),
            "several": truth("One value or a list of values."),
            "readings": {"type": "integer", "minimum": 2, "description": readings},
            "range": several(LITERAL, outside, least=2, maxItems=2),
            "optional": truth("Absent without complaint."),
            "happened": truth("A day that cannot lie after the one judged."),
            "default": either(LITERAL, several(LITERAL), about=default),
            "stated_by": words((ENTRANT, OFFICIAL, ORGANISER)),
            "measured_with": text("An instrument of the pack."),
            "uncertainty": told(LITERAL, "Its standard uncertainty."),
            "taken": text("The state in which it is measured."),
            "about": text("Help for who declares it."),
        }
    )


def _worked_out() -> Schema:
    formula = told(LITERAL, "How it is worked out; it is not declared.")
    return closed({"formula": formula, "unit": text("The unit it is shown in."), "about": TEXT}, "formula")


def _clause() -> Schema:
    excess = told(LITERAL, "`excess` is how far the car is over.")
    earlier = {
        "before": told(DAY, "Kept for cars from before this day."),
        "by": told(LITERAL, "The day that says how old a car is; car.chassis_built without it."),
        "until": told(DAY, "Last day of the exemption."),
        "check": if_text({"const": "none"}, defined("check")),
    }
    keys = {
        "title": text("A short name."),
        "text": text("The rulebook's own wording, shown in reports."),
        "check": defined("check"),
        "severity": words((MANDATORY, ADVISORY), "An advisory breach is advice."),
        "consequence": text("What follows from a breach."),
        "penalty": either(TEXT, closed({"amount": excess, "unit": TEXT}, "amount")),
        "act": text("What to do, in place of what the kind says."),
        "interpretation": text("How the club reads a wording that can be read two ways."),
        "instead_of": either(
            TEXT, several(TEXT), about="Clauses this one takes the place of when it applies."
        ),
        "since": told(DAY, "First day of this clause inside the edition."),
        "until": told(DAY, "Last day of this clause inside the edition."),
        "earlier": several(
            closed(earlier, "before", "check"),
            "Older checks kept for older cars; the first entry that fits counts.",
        ),
        "formerly": text("Its number in the edition before."),
    }
    return closed(keys, "check")
