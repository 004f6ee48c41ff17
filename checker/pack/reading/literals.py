"""Literals of a fact's own kind, as they stand in its attributes: `default`, `range`, `uncertainty`.

They are read as a declaration would read them, so that a default is nothing an entrant could not have stated.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from checker.car.described.vocabulary import FactType
from checker.car.described.word_trees import Tree
from checker.quantities.days import parse_day, parse_month, parse_year
from checker.quantities.folding import fold
from checker.quantities.kind import Kind
from checker.quantities.literal import parse_literal, parse_quantity
from checker.quantities.misread import LiteralError
from checker.reading.nearest import did_you_mean

_DAYS = {"day": (10, parse_day), "month": (7, parse_month), "year": (4, parse_year)}


def literal_value(
    given: object, fact: FactType, written: str, currency: str | None, tree: Tree | None
) -> Any:
    """The value that a YAML scalar states.

    Args:
        given: What stands there.
        fact: The type it must have.
        written: How it is written.
        currency: The pack's.
        tree: The tree that words of this fact stand in, if any.

    Raises:
        LiteralError: It is nothing of that type; the number says what is wrong.
    """
    kind = fact.kind
    if kind.name == "truth":
        if not isinstance(given, bool):
            raise _wrong(302, f"'{written}' is neither true nor false")
        return given
    if kind.name == "date":
        return _day(written, fact.precision)
    if kind.is_word:
        if not isinstance(given, str):
            raise _wrong(302, f"'{written}' is not a word", "put it in quotes")
        return _word(given, kind, tree)
    if isinstance(given, bool) or not isinstance(given, (int, Fraction, str)):
        raise _wrong(302, f"'{written}' is no number")
    if kind.name != "number":
        return quantity_value(given if isinstance(given, str) else written, kind, currency)
    value = Fraction(given) if not isinstance(given, str) else _number(given, currency)
    if fact.whole and (value.denominator != 1 or value < 0):
        raise _wrong(302, f"'{written}' is no count", "a count is a whole number of 0 or more")
    return value


def quantity_value(text: str, kind: Kind, currency: str | None) -> Fraction:
    """The amount of that kind, in base units.

    Raises:
        LiteralError: It is none; 301 and 302 where it is one of another kind.
    """
    try:
        value = parse_quantity(text, kind, currency).value
    except LiteralError as error:
        try:
            other = parse_literal(text, currency).kind
        except LiteralError:
            raise error from None
        number = 301 if {other.name, kind.name} <= {"quantity", "number"} else 302
        raise _wrong(number, error.message, error.hint) from None
    assert isinstance(value, Fraction)
    return value


def _number(text: str, currency: str | None) -> Fraction:
    literal = parse_literal(text, currency)
    if literal.kind.name != "number" or not isinstance(literal.value, Fraction):
        raise _wrong(302, f"'{text}' is no plain number")
    return literal.value


def _day(text: str, precision: tuple[str, ...]) -> object:
    for name in precision:
        length, parse = _DAYS[name]
        if len(text) == length:
            try:
                return parse(text)
            except ValueError as error:
                raise _wrong(106, str(error)) from None
    wanted = " or ".join(precision)
    raise _wrong(106, f"'{text}' is not a {wanted}", "a day is written 2026-03-01, a month 2026-03")


def _word(text: str, kind: Kind, tree: Tree | None) -> str:
    if tree is None and kind.words is None:
        return text
    words = tree.words if tree is not None else kind.words or ()
    known = next((word for word in words if fold(word) == fold(text)), None)
    if known is None:
        hint = did_you_mean(text, words) or f"possible: {', '.join(words[:12])}"
        raise _wrong(204, f"'{text}' is not one of the possible words", hint)
    return known


def _wrong(number: int, message: str, hint: str = "") -> LiteralError:
    return LiteralError(number, message, hint, 0, 0)
