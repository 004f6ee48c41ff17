"""The JSON Schema of a pack's declarations, for editors that complete and check while one types.

A section for each first part of facts, a key for each fact, an array of closed objects for each list. Nothing is
required but the formula and the car's number: what is absent is an outcome, not a mistake of form. Ranges, days of
the calendar and everything that one value demands of another are the loader's business.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from fractions import Fraction

from checker.car.declaration.structure import PLACES
from checker.car.described.standard import AXLES, SIDES, STRUCTURE, WHEELS
from checker.car.described.vocabulary import ENTRANT, FactType, ListType
from checker.car.gear.weighing import SHAPES
from checker.pack.editors.gear_schema import (
    checks_schema,
    further_sections,
    instruments_schema,
    pads_schema,
    tank_schema,
    weighing_extras,
)
from checker.pack.editors.planning_schema import planning_schema
from checker.pack.editors.schema_parts import (
    CALENDAR_DAY,
    DIALECT,
    FILLED,
    WHOLE,
    YEAR,
    Schema,
    closed,
    defined,
    either,
    folded,
    no_lone_number,
    or_empty,
    several,
    told,
    words,
)
from checker.pack.model import Pack
from checker.quantities.days import FIRST_YEAR, LAST_YEAR
from checker.quantities.display import decimal_text, show
from checker.quantities.kind import Kind, kind_in_words
from checker.quantities.units import MOMENT, parse_unit, units_of

_NUMBER = r"-?(?:[0-9]+(?:\.[0-9]+)?|(?:[0-9]+ )?[0-9]+/[0-9]+)"
_JOINED = r"[A-Za-z0-9]+(?:/[A-Za-z0-9]+)+"
_MOMENT = rf"^\s*{CALENDAR_DAY}\s+(?:[01]?[0-9]|2[0-3]):[0-5][0-9]\s*$"
_DATES = {"day": CALENDAR_DAY, "month": f"{YEAR}-(?:0[1-9]|1[0-2])", "year": YEAR}


def declaration_schema(pack: Pack) -> Schema:
    """The schema of a declaration for that pack; readings files have the same form. Draft 2020-12."""
    return DeclarationParts(pack).declaration()


class DeclarationParts:
    """Builds the schema; what several facts share stands once under `$defs`."""

    def __init__(self, pack: Pack) -> None:
        self.pack = pack
        self.defs: dict[str, Schema] = {}

    def declaration(self) -> Schema:
        vocabulary = self.pack.vocabulary
        sections: dict[str, dict[str, Schema]] = {}
        for name, fact in vocabulary.facts.items():
            section, _, key = name.partition(".")
            sections.setdefault(section, {})[key] = self.fact(fact)
        for section, more in self.structure().items():
            sections[section] = {**sections.get(section, {}), **more}
        properties: dict[str, Schema] = {
            **{section: closed(keys, about=_about(section, keys)) for section, keys in sections.items()},
            "tyres": self.tyres(sections.get("tyres", {})),
            "instruments": instruments_schema(FILLED),
            "checks": checks_schema(self.measured("kg")),
            **further_sections(self.measured, self.place()),
            "planning": planning_schema(self),
            "approvals": several(FILLED, "References of approvals that are cited."),
            "unfinished": several(
                folded(vocabulary.lists),
                "Lists that do not hold all yet: what is missed in them is not shown.",
            ),
        }
        entries: dict[str, Schema] = {}
        for name, its_list in vocabulary.lists.items():
            entries[name] = self.entry(its_list)
            properties[name] = several(defined(name), _about(name, entries[name]["properties"]))
        properties = {name: or_empty(section) for name, section in properties.items()}
        properties["formula"] = folded([self.pack.name], "The formula to judge by.")
        properties["car"] = {**properties["car"], "type": "object", "required": ["number"]}
        del properties["car"]["properties"]["number"]["minLength"]  # an untouched blank is judged too
        return {
            "$schema": DIALECT,
            "$comment": f"Declarations for {self.pack.title}, edition {self.pack.edition}",
            **closed(properties, "formula", "car"),
            "$defs": {**self.defs, **entries},
        }

    def fact(self, fact: FactType) -> Schema:
        """The schema of one fact or field."""
        schema = {**self.values(fact), "description": _described(fact)}
        if fact.default is not None:
            schema["default"] = _default(fact)
        return schema

    def values(self, fact: FactType) -> Schema:
        """One value or several, alone or with what it was measured with."""
        one = self.one(fact)
        whole: Schema = either(one, several(one)) if fact.several else one
        if not fact.kind.is_measure or fact.whole or fact.kind == MOMENT:
            return whole
        uncertainty = told(one, "Its standard uncertainty.")
        instrument = told(FILLED, "The instrument it was measured with.")
        wrapped = closed({"value": whole, "with": instrument, "uncertainty": uncertainty}, "value")
        name = f"measured {fact.kind}{' several' if fact.several else ''}"
        schema = either(*whole.get("anyOf", [whole]), wrapped)
        if fact.kind.name != "number":
            schema = no_lone_number(schema, self.wanted(fact.kind))
        return self.shared(name, schema)

    def shared(self, name: str, schema: Schema) -> Schema:
        """A reference to a schema that stands once, under a key that no list can have."""
        key = f"a {name}"
        self.defs[key] = schema
        return defined(key.replace(" ", "%20"))

    def one(self, fact: FactType) -> Schema:
        """One value."""
        kind = fact.kind
        if kind.name == "truth":
            return {"type": "boolean"}
        if kind.name == "date":
            patterns = "|".join(_DATES[precision] for precision in fact.precision)
            text: Schema = {"type": "string", "pattern": f"^(?:{patterns})$", "errorMessage": _DATE_WANTED}
            return (
                either(text, {"type": "integer", "minimum": FIRST_YEAR, "maximum": LAST_YEAR})
                if "year" in fact.precision
                else text
            )
        if kind == MOMENT:
            return {"type": "string", "pattern": _MOMENT, "errorMessage": _MOMENT_WANTED}
        if kind.is_word:
            return self.word(kind)
        if fact.whole:
            return {"type": "integer", "minimum": 0}
        if kind.name == "number":
            return either({"type": "number"}, {"type": "string", "pattern": f"^{_NUMBER}$"})
        return self.shared(str(kind), self.quantity(kind))

    def word(self, kind: Kind) -> Schema:
        """One word, of the listed ones where they are listed."""
        if kind.tree == "category":
            return self.shared("category", folded(self.pack.vocabulary.categories.words))
        if kind.tree == "material":  # a maker's alloy may be new to the pack
            return self.shared("material", either(words(self.pack.vocabulary.materials.words), FILLED))
        if kind.words is None:
            return FILLED
        schema = folded(kind.words)
        numbers = [int(word) for word in kind.words if word.isdecimal() and str(int(word)) == word]
        return {**schema, "anyOf": [*schema["anyOf"], {"enum": numbers}]} if numbers else schema

    def quantity(self, kind: Kind) -> Schema:
        """A quantity as text: numbers, each with a unit of its dimension."""
        names = list(units_of(kind, self.pack.vocabulary.currency))
        if kind.name == "quantity" and any("/" in name for name in names):
            names.append(_JOINED)
        part = rf"{_NUMBER}\s*(?:{'|'.join(names) or _JOINED})"
        return {
            "type": "string",
            "pattern": rf"^\s*{part}(?:\s+{part})*\s*$",
            "errorMessage": self.wanted(kind),
        }

    def wanted(self, kind: Kind) -> str:
        """What an editor says of a quantity without a unit, or with one of another kind."""
        names = units_of(kind, self.pack.vocabulary.currency)
        return (
            f"Write {kind_in_words(kind)} as a number and its unit: {', '.join(names) or 'as the rules do'}."
        )

    def entry(self, its_list: ListType) -> Schema:
        """One entry of a list, closed."""
        fields = {name: self.fact(field) for name, field in its_list.fields.items() if field.formula is None}
        fields["count"] = told(WHOLE, "How often it stands; 1 without it.")
        place = self.place()
        place["properties"] = {**place["properties"], "above_ground": self.measured("mm")}
        fields["at"] = self.shared("place of an entry", or_empty(place))
        if its_list.name == "components":
            parts = "Components inside this one; their mass and price are contained in its own."
            fields["parts"] = or_empty(several(defined("components"), parts))
        return closed(fields)

    # --- what is no fact -------------------------------------------------------------------------------------

    def structure(self) -> Mapping[str, dict[str, Schema]]:
        """What stands in sections beside facts."""
        load = self.measured("kg")
        shapes = [
            closed({**dict.fromkeys(shape, load), "pads": pads_schema(shape)}, *shape) for shape in SHAPES
        ]
        level = either(self.measured("mm"), self.measured("deg"))
        tank = tank_schema(self.place(), self.measured("L"))
        lists = self.pack.vocabulary.lists.items()
        with_mass = {one.known_by: name for name, one in lists if "mass" in one.fields}
        made: dict[str, dict[str, Schema]] = {
            "weighing": {
                "instrument": told(FILLED, "What it was weighed with."),
                "readings": or_empty(
                    several(either(*shapes), "Repeat weighings, each with the same loads.", least=1)
                ),
                **weighing_extras(level, self.place(), with_mass),
            },
            "fuel": {"at": either(*tank["anyOf"], {"type": "null"}, about=tank["description"])},
            "driver": {"at": self.shared("place", or_empty(self.place()))},
            "wear": dict.fromkeys(WHEELS, told(load, "Lost at this wheel from new to worn.")),
        }
        assert made.keys() <= STRUCTURE.keys()
        return made

    def measured(self, unit: str) -> Schema:
        """A measured quantity of that unit's dimension."""
        return self.values(FactType("", parse_unit(unit, None).kind, parse_unit(unit, None)))

    def place(self) -> Schema:
        """Where something sits."""
        length = self.measured("mm")
        return closed(dict.fromkeys(PLACES, length))

    def tyres(self, facts: Mapping[str, Schema]) -> Schema:
        mm = self.measured("mm")
        tyre = {"mass": self.measured("kg"), "section": mm, "radius": mm}
        of_an_axle = closed({**tyre, **dict.fromkeys(SIDES, closed(tyre))})
        of_a_set = closed(dict.fromkeys(AXLES, or_empty(of_an_axle)))
        run = self.pack.vocabulary.tyre_sets
        about = "Each set: what a wheel and its tyre weigh, how wide the section is."
        made = closed({**facts, **dict.fromkeys(run, of_a_set)}, about=about)
        return made if run else {**made, "additionalProperties": of_a_set}


_MOMENT_WANTED = "Write a day and a time, such as 2026-03-01 14:30."
_DATE_WANTED = "Write a day of the calendar, such as 2026-03-01."
_SECTIONS = {
    "car": "Which car it is, and its papers.",
    "event": "The meeting that it is entered for.",
    "weighing": "The state in which the car was weighed, and what each wheel showed.",
    "fuel": "The tank, and the fuel in it.",
    "driver": "The driver, ready to race.",
    "dimensions": "Lengths and angles of the car.",
    "wear": "What each wheel loses from new to worn.",
    "components": "Parts of the car, each with its category; rules ask for them.",
    "ballast": "Pieces of ballast, each with its mass and place.",
}
"""What an editor says of the sections that every declaration has; a pack's own sections are told by their facts."""


def _about(section: str, keys: Iterable[str]) -> str:
    return _SECTIONS.get(section) or f"What the rules ask of {section}: {', '.join(keys)}."


def _default(fact: FactType) -> str | int | bool:
    """What stands where nothing is stated, as a file would say it."""
    if fact.kind.name == "truth":
        return bool(fact.default)
    return int(fact.default) if fact.whole else fact.default_text or str(fact.default)


def _described(fact: FactType) -> str:
    """Help, state, range and who states it, in sentences."""
    parts = [fact.about]
    if fact.taken:
        parts.append(f"Taken: {fact.taken}")
    if fact.readings > 1:
        parts.append(f"{fact.readings} readings or more")
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
    def shown(value: object) -> str:
        if not isinstance(value, Fraction):
            return str(value)
        return show(value, fact.unit) if fact.unit is not None else decimal_text(value)

    if fact.low is None:
        return f"At most {shown(fact.high)}, else taken for a slip"
    if fact.high is None:
        return f"At least {shown(fact.low)}, else taken for a slip"
    return f"{shown(fact.low)} to {shown(fact.high)}, else taken for a slip"
