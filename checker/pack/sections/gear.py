"""`instruments`, `gear` and `conditions`: what officials measure with, what is taken for granted of a weighing, and the
states of a car that clauses ask for."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

from checker.car.declaration.instruments import instruments_in
from checker.car.described.instrument import Assumptions, Instrument
from checker.car.described.vocabulary import AS_WEIGHED, Condition
from checker.car.weights.states import BUILT_IN, EVERY_SET, parse_condition
from checker.pack.reading.source import PackSource
from checker.quantities.dimension import ANGLE, LENGTH, MASS
from checker.quantities.folding import fold
from checker.quantities.kind import quantity
from checker.quantities.literal import parse_quantity
from checker.quantities.misread import LiteralError
from checker.reading.file_reader import Codes, FileReader, Mistake
from checker.reading.nearest import did_you_mean
from checker.reading.quick_dataclasses import replace

_NUMBERS = {
    Mistake.UNKNOWN_KEY: 101,
    Mistake.UNREADABLE: 103,
    Mistake.UNIT: 104,
    Mistake.OTHER_KIND: 301,
    Mistake.WORD: 204,
    Mistake.DAY: 106,
    Mistake.BELOW_ZERO: 503,
    Mistake.TRUTH: 303,
}
_ASSUMED = {
    "floor_out_of_level": (quantity(ANGLE), "floor_out_of_level_deg"),
    "centre_of_gravity_height": (quantity(LENGTH), "centre_of_gravity_height_mm"),
}
_WEIGHED_WITH = "weighed_with"


def read_instruments(source: PackSource) -> dict[str, Instrument]:
    """The pack's instruments by name; what cannot be read is noted and left out."""
    reader = FileReader(source.document, Codes("PK", 108, _NUMBERS), source.problems)
    return instruments_in(reader, source.currency, bare_numbers=True)


def read_assumptions(source: PackSource, instruments: Mapping[str, Instrument]) -> Assumptions:
    """`gear:`, what is taken for granted of a weighing where nobody states it; never nothing."""
    given = source.mapping("gear")
    source.known_keys((*_ASSUMED, _WEIGHED_WITH), "gear", what="gear")
    found: dict[str, Fraction] = {}
    for key, (kind, name) in _ASSUMED.items():
        if key not in given:
            continue
        try:
            literal = parse_quantity(str(given[key]), kind, None)
        except LiteralError as error:
            source.problem(error.code_number, error.message, "gear", key, hint=error.hint)
            continue
        if isinstance(literal.value, Fraction) and literal.value > 0:
            found[name] = literal.value
        else:
            source.problem(503, f"`{key}` is {given[key]}; it is never nothing", "gear", key)
    return Assumptions(**found, weighed_with=_weighed_with(source, instruments))


def _weighed_with(source: PackSource, instruments: Mapping[str, Instrument]) -> str:
    name = source.mapping("gear").get(_WEIGHED_WITH, "")
    gear = instruments.get(str(name))
    if name and gear is None:
        hint = did_you_mean(str(name), instruments) or "describe it under instruments"
        source.problem(201, f"there is no instrument {name!r}", "gear", _WEIGHED_WITH, hint=hint)
    elif gear and gear.kind is not None and not gear.kind.same_measure(quantity(MASS)):
        message = f"{name} measures {gear.kind}, and a weighing is {quantity(MASS)}"
        source.problem(301, message, "gear", _WEIGHED_WITH, hint="name the pads")
    return str(name)


def read_conditions(source: PackSource, tyre_sets: tuple[str, ...]) -> dict[str, Condition]:
    """The built-in conditions, and those of the pack over them, on the sets that the formula runs."""
    found = dict(BUILT_IN)
    for name in source.mapping("conditions"):
        condition = parse_condition(name, source.document, ("conditions", name), source.problems, "PK504")
        if condition is not None:
            found[name] = condition
            strange = [
                one
                for one in condition.tyres or ()
                if tyre_sets and one != EVERY_SET and fold(one) not in map(fold, tyre_sets)
            ]
            if strange:
                message = f"the formula runs no tyre set {strange[0]!r}"
                hint = did_you_mean(strange[0], tyre_sets) or f"tyre_sets are {', '.join(tyre_sets)}"
                source.problem(504, message, "conditions", name, "tyres", hint=hint)
        elif name not in found:
            found[name] = replace(AS_WEIGHED, name=name)  # so that what asks for it is not told again
    return found
