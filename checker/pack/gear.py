"""`instruments` and `conditions`: what officials measure with, and the states of a car that clauses ask for."""

from __future__ import annotations

from fractions import Fraction

from checker.car.conditions import BUILT_IN, parse_condition
from checker.car.vocabulary import Condition, Instrument
from checker.pack.source import PackSource
from checker.quantities.kind import NUMBER, Kind
from checker.quantities.literal import LiteralError, parse_literal

_KEYS = ("resolution", "permissible_error")


def read_instruments(source: PackSource) -> dict[str, Instrument]:
    """The pack's instruments by name; what cannot be read is noted and left out."""
    found: dict[str, Instrument] = {}
    for name in source.mapping("instruments"):
        given = source.mapping("instruments", name, what=name)
        if not source.known_keys(given, _KEYS, "instruments", name, what="an instrument"):
            continue
        kind: Kind | None = None
        read: dict[str, Fraction] = {}
        for key in given:
            amount = _amount(source, name, key)
            if amount is None:
                continue
            value, its_kind = amount
            if kind is not None and not kind.same_measure(its_kind):
                source.problem(
                    301,
                    f"{key} is {its_kind}; the rest of the instrument is {kind}",
                    "instruments",
                    name,
                    key,
                )
                continue
            read[key], kind = value, its_kind
        found[name] = Instrument(name, kind=kind, **read)
    return found


def _amount(source: PackSource, name: str, key: str) -> tuple[Fraction, Kind] | None:
    given = source.get("instruments", name, key)
    if isinstance(given, (int, Fraction)) and not isinstance(given, bool):
        value, kind = Fraction(given), NUMBER
    else:
        try:
            literal = parse_literal(str(given), source.currency)
        except LiteralError as error:
            source.problem(error.code_number, error.message, "instruments", name, key, hint=error.hint)
            return None
        if not isinstance(literal.value, Fraction):
            source.problem(302, f"`{key}` is an amount, not a day", "instruments", name, key)
            return None
        value, kind = literal.value, literal.kind
    if value < 0:
        source.problem(503, f"`{key}` is below zero", "instruments", name, key)
        return None
    return value, kind


def read_conditions(source: PackSource) -> dict[str, Condition]:
    """The built-in conditions, and those of the pack over them."""
    found = dict(BUILT_IN)
    for name in source.mapping("conditions"):
        condition = parse_condition(name, source.document, ("conditions", name), source.problems, "PK504")
        if condition is not None:
            found[name] = condition
    return found
