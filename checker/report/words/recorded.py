"""Amounts that a record or a car's file holds as text, in the system of units that is asked for."""

from __future__ import annotations

from fractions import Fraction

from checker.quantities.amount import Amount
from checker.quantities.kind import NUMBER
from checker.quantities.literal import parse_literal
from checker.quantities.misread import LiteralError
from checker.quantities.units import is_currency, parse_unit
from checker.report.words.amounts import margin_words, value_words
from checker.report.words.units import shown_in


def recorded_margin(text: str) -> str:
    """A recorded exact margin, "93/20 kg", as people write it, rounded against the car: "+4.65 kg"; "" for none."""
    number, _, name = text.partition(" ")
    if not number:
        return ""
    unit = parse_unit(name, name if is_currency(name) else None).step if name else None
    value = Fraction(number) * (unit.factor if unit else 1)
    return margin_words(Amount(value, unit.kind if unit else NUMBER, unit))


def written(text: str) -> str:
    """What somebody wrote, or several of it with commas between: as it stands, where no other system is asked for."""
    return ", ".join(map(_one, text.split(", ")))


def _one(text: str) -> str:
    try:
        literal = parse_literal(text, None)
    except LiteralError:
        return text
    if shown_in(literal.unit) == literal.unit:
        return text
    return value_words(Amount(literal.value, literal.kind, literal.unit))
