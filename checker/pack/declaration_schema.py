"""The JSON Schema of a pack's declarations, for editors that complete and check while one types.

A section for each first part of facts, a key for each fact, an array of closed objects for each list. Nothing is required
but the formula and the car's number: what is absent is an outcome, not a mistake of form. Ranges, dates of the calendar
and everything that one value demands of another are the loader's business.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from fractions import Fraction
from typing import Any

from checker.car.standard import AXLES, STRUCTURE, WHEELS
from checker.car.vocabulary import ENTRANT, FactType, ListType
from checker.car.weighing import SHAPES
from checker.pack.gear_schema import (
    checks_schema,
    further_sections,
    instruments_schema,
    pads_schema,
    tank_schema,
    weighing_extras,
)
from checker.pack.model import Pack
from checker.quantities.display import decimal_text, show
from checker.quantities.kind import Kind
from checker.quantities.units import parse_unit, units_of

Schema = dict[str, Any]

_NUMBER = r"-?(?:[0-9]+(?:\.[0-9]+)?|(?:[0-9]+ )?[0-9]+/[0-9]+)"
_JOINED = r"[A-Za-z0-9]+(?:/[A-Za-z0-9]+)+"
_DATES = {"day": "[0-9]{4}-[0-9]{2}-[0-9]{2}", "month": "[0-9]{4}-[0-9]{2}", "year": "[0-9]{4}"}
_TEXT: Schema = {"type": "string", "minLength": 1}


def declaration_schema(pack: Pack) -> Schema:
    """The schema of a declaration for that pack; readings files have the same form. Draft 2020-12."""
    vocabulary = pack.vocabulary
    sections: dict[str, dict[str, Schema]] = {}
    for name, fact in vocabulary.facts.items():
        section, _, key = name.partition(".")
        sections.setdefault(section, {})[key] = fact_schema(fact, pack)
    for section, more in _structure(pack).items():
        sections[section] = {**sections.get(section, {}), **more}
    properties: dict[str, Schema] = {
        "formula": {"const": pack.name, "description": "The formula to judge by."},
        **{section: _closed(keys) for section, keys in sections.items()},
        "tyres": _tyres(pack, sections.get("tyres", {})),
        "instruments": instruments_schema(_TEXT),
        "checks": checks_schema(_measured("kg", pack)),
        **further_sections(lambda unit: _measured(unit, pack), _place(pack)),
        "approvals": {
            "type": "array",
            "items": _TEXT,
            "description": "References of approvals that are cited.",
        },
    }
    properties["car"]["required"] = ["number"]
    for name in vocabulary.lists:
        properties[name] = {"type": "array", "items": {"$ref": f"#/$defs/{name}"}}
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": f"Declaration for {pack.title}, edition {pack.edition}",
        "type": "object",
        "required": ["formula", "car"],
        "additionalProperties": False,
        "properties": properties,
        "$defs": {name: _entry(its_list, pack) for name, its_list in vocabulary.lists.items()},
    }


# --- facts ---------------------------------------------------------------------------------------------------


def fact_schema(fact: FactType, pack: Pack) -> Schema:
    """The schema of one fact or field."""
    one = _one(fact, pack)
    whole: Schema = {"anyOf": [one, {"type": "array", "items": one}]} if fact.several else one
    if fact.kind.is_measure and not fact.whole:
        measured = _closed(
            {
                "value": whole,
                "with": {**_TEXT, "description": "The instrument it was measured with."},
                "uncertainty": {**_text(fact.kind, pack), "description": "Its standard uncertainty."},
            },
            "value",
        )
        whole = {"anyOf": [*whole.get("anyOf", [whole]), measured]}
    whole = {**whole, "description": _described(fact)}
    if fact.default is not None:
        whole["default"] = fact.default_text or fact.default
    return whole


def _one(fact: FactType, pack: Pack) -> Schema:
    """The schema of one value."""
    kind = fact.kind
    if kind.name == "truth":
        return {"type": "boolean"}
    if kind.name == "date":
        patterns = "|".join(_DATES[precision] for precision in fact.precision)
        text: Schema = {"type": "string", "pattern": f"^(?:{patterns})$"}
        return {"anyOf": [text, {"type": "integer"}]} if "year" in fact.precision else text
    if kind.is_word:
        return _words(kind, pack)
    if fact.whole:
        return {"type": "integer", "minimum": 0}
    if kind.name == "number":
        return {"anyOf": [{"type": "number"}, {"type": "string", "pattern": f"^{_NUMBER}$"}]}
    return _text(kind, pack)


def _words(kind: Kind, pack: Pack) -> Schema:
    if kind.tree == "category":
        return {"enum": list(pack.vocabulary.categories.words)}
    if kind.tree == "material":  # a maker's alloy may be new to the pack
        return {"anyOf": [{"enum": list(pack.vocabulary.materials.words)}, _TEXT]}
    if kind.words is None:
        return _TEXT
    numbers = [int(word) for word in kind.words if word.isdecimal() and str(int(word)) == word]
    return {"enum": [*kind.words, *numbers]}


def _text(kind: Kind, pack: Pack) -> Schema:
    """A quantity as text: numbers, each with a unit of its dimension."""
    units = units_of(kind, pack.vocabulary.currency)
    names = list(units)
    if kind.name == "quantity" and any("/" in name for name in units):
        names.append(_JOINED)
    unit = "|".join(names) or _JOINED
    part = rf"{_NUMBER}\s*(?:{unit})"
    example = f"As in 1 {units[0]}." if units else ""
    return {"type": "string", "pattern": rf"^\s*{part}(?:\s+{part})*\s*$", "description": example}


def _described(fact: FactType) -> str:
    """Help, state, range and who states it, in sentences."""
    parts = [fact.about]
    if fact.taken:
        parts.append(f"Taken: {fact.taken}")
    if fact.measured_with:
        parts.append(f"Measured with: {fact.measured_with}")
    if fact.low is not None or fact.high is not None:
        parts.append(_range(fact))
    if fact.stated_by != ENTRANT:
        parts.append(f"For {'officials' if fact.stated_by == 'official' else 'the organiser'} to state")
    if fact.formula is None and fact.unit is not None:
        parts.append(f"Unit: {fact.unit.name}")
    return ". ".join(part.rstrip(".") for part in parts if part) + "."


def _range(fact: FactType) -> str:
    def shown(value: Any) -> str:
        if not isinstance(value, Fraction):
            return str(value)
        return show(value, fact.unit) if fact.unit is not None else decimal_text(value)

    if fact.low is None:
        return f"At most {shown(fact.high)}, else taken for a slip"
    if fact.high is None:
        return f"At least {shown(fact.low)}, else taken for a slip"
    return f"{shown(fact.low)} to {shown(fact.high)}, else taken for a slip"


# --- lists ---------------------------------------------------------------------------------------------------


def _entry(its_list: ListType, pack: Pack) -> Schema:
    fields = {
        name: fact_schema(field, pack) for name, field in its_list.fields.items() if field.formula is None
    }
    fields["count"] = {"type": "integer", "minimum": 1, "description": "How often it stands; 1 without it."}
    fields["at"] = _place(pack)
    if its_list.name == "components":
        parts = "Components inside this one; their mass and price are contained in its own."
        fields["parts"] = {"type": "array", "items": {"$ref": "#/$defs/components"}, "description": parts}
    return _closed(fields)


# --- what is no fact -----------------------------------------------------------------------------------------


def _structure(pack: Pack) -> Mapping[str, dict[str, Schema]]:
    """What stands in sections beside facts."""
    load = {**_measured("kg", pack)}
    shapes = [_closed({**dict.fromkeys(shape, load), "pads": pads_schema(shape)}, *shape) for shape in SHAPES]
    level = {"anyOf": [_measured("mm", pack), _measured("deg", pack)]}
    made: dict[str, dict[str, Schema]] = {
        "weighing": {
            "instrument": {**_TEXT, "description": "What it was weighed with."},
            "readings": {
                "type": "array",
                "minItems": 1,
                "description": "Repeat weighings, each with the same loads.",
                "items": {"anyOf": shapes},
            },
            **weighing_extras(level),
        },
        "fuel": {"at": tank_schema(_place(pack), _measured("L", pack))},
        "driver": {"at": _place(pack)},
        "wear": {
            wheel: {**_measured("kg", pack), "description": "Lost at this wheel from new to worn."}
            for wheel in WHEELS
        },
    }
    assert made.keys() <= STRUCTURE.keys()
    return made


def _measured(unit: str, pack: Pack) -> Schema:
    return fact_schema(FactType("", parse_unit(unit, None).kind, parse_unit(unit, None)), pack)


def _place(pack: Pack) -> Schema:
    length = _measured("mm", pack)
    return _closed(dict.fromkeys(("behind_front_axle", "left_of_centre", "right_of_centre"), length))


def _tyres(pack: Pack, facts: Mapping[str, Schema]) -> Schema:
    mm = _measured("mm", pack)
    tyre = _closed({"mass": _measured("kg", pack), "section": mm, "radius": mm})
    return {
        "type": "object",
        "description": "Each set: what a wheel and its tyre weigh, how wide the section is.",
        "properties": dict(facts),
        "additionalProperties": _closed(dict.fromkeys(AXLES, tyre)),
    }


def _closed(properties: Mapping[str, Schema], *required: str) -> Schema:
    needed: dict[str, Iterable[str]] = {"required": list(required)} if required else {}
    return {"type": "object", **needed, "additionalProperties": False, "properties": dict(properties)}
