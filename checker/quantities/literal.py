"""Numbers, quantities and days as people write them, read exactly.

`69 5/8 in`, `1 lb 4 oz`, `52.5 %`, `310.00 GBP`, `18 months` and `2026-03-01` are literals, in formulas and
in declarations alike. Whatever could be read in two ways is refused with the cure, never guessed: thousands
marks, exponents, zeros in front, decimal commas, units that are not in the list.
"""

from __future__ import annotations

import re
from datetime import date
from fractions import Fraction
from functools import lru_cache

from checker.quantities.days import parse_day
from checker.quantities.kind import DATE, NUMBER, Kind, kind_in_words
from checker.quantities.misread import (
    CANNOT_BE_READ,
    NO_SUCH_DAY,
    SIDE_BY_SIDE,
    UNKNOWN_UNIT,
    LiteralError,
    cure_for_kind,
    cure_for_no_digit,
    cure_for_rest,
    marked_digits,
    shorten,
    strange_sign,
    unknown_join,
)
from checker.quantities.moments import parse_moment
from checker.quantities.unit_table import ZERO_AT
from checker.quantities.units import (
    MOMENT,
    MOMENTS,
    TEMPERATURE_POINT,
    TEMPERATURE_STEP,
    Unit,
    UnknownUnit,
    parse_unit,
)
from checker.quantities.written_numbers import DECIMAL, FRACTION, MOST_DIGITS, decimal_of, fraction_of
from checker.reading.patterns import pattern
from checker.reading.quick_dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Literal:
    kind: Kind
    value: Fraction | date
    """In base units; a percentage as a ratio; a day as such."""
    unit: Unit | None
    """The first unit written; None for a number alone and a day."""
    text: str


_DIGIT = pattern(r"[0-9]")
_DAY = pattern(r"[0-9]{4}-[0-9]{2}-[0-9]{2}(?![A-Za-z0-9_])")
_TIME = pattern(r"[0-9]{1,2}:[0-9]{2}")
_MOMENT = pattern(r"[0-9]{4}-[0-9]{2}-[0-9]{2}[ \t\r\n]+[0-9]{1,2}:[0-9]{2}(?![A-Za-z0-9_:.])")
_BLANKS = pattern(r"[ \t\r\n]*")
_NAME = pattern(r"[A-Za-z_][A-Za-z0-9_]*")
_NEXT_NAME = pattern(r"/[A-Za-z_][A-Za-z0-9_]*(?![A-Za-z0-9_.]|[ ]*\()")
_EXPONENT = pattern(r"[eE][+-]?[0-9]+")
_ENDS_A_NUMBER = ("if", "else", "and", "or", "not", "for")


def match_literal(text: str, start: int, currency: str | None) -> tuple[Literal, int] | None:
    """The longest literal at `start`, and the offset after it; None if no digit stands there.

    `5/8` without a unit gives 5: it is a division, which is the formula's to do. `in` directly after a number
    is inches; `if else and or not for` end a number; any other word after it must be a unit.

    Raises:
        LiteralError: There is a digit, but what follows cannot be read.
    """
    if not _DIGIT.match(text, start):
        return None
    if moment := _MOMENT.match(text, start):
        return _moment(moment), moment.end()
    found = _DAY.match(text, start)
    literal, end = (_day(found[0], start), found.end()) if found else _measure(text, start, currency)
    _refuse_neighbour(text, start, end)
    return literal, end


@lru_cache(maxsize=4096)
def parse_literal(text: str, currency: str | None) -> Literal:
    """The literal that is the whole of the text but for blanks at the ends; a measure may have a minus.

    Raises:
        LiteralError: The text is something else, or has something more.
    """
    try:
        return _whole_literal(text, currency)
    except LiteralError as error:
        from checker.quantities.other_amounts import alone  # only needed when something is wrong

        other = alone(text, currency)
        if other is None:
            raise
        raise LiteralError(error.code_number, error.message, other.hint, other.start, other.end) from None


def _whole_literal(text: str, currency: str | None) -> Literal:
    first, last = _after_blanks(text, 0), len(text.rstrip(" \t\r\n"))
    if first >= last:
        raise LiteralError(CANNOT_BE_READ, "nothing is written here", "write a value", 0, len(text))
    if strange := strange_sign(text[first:last]):
        at, name, cure = strange
        message = f"the sign '{name}' cannot be read in a number or unit"
        raise LiteralError(CANNOT_BE_READ, message, cure, first + at, first + at + 1)
    written = text[first:last]
    begin = _after_blanks(text, first + 1) if written[0] == "-" else first
    matched = match_literal(text, begin, currency)
    if matched is None:
        message = f"'{shorten(written)}' is not a number, quantity or day"
        raise LiteralError(CANNOT_BE_READ, message, cure_for_no_digit(written), first, last)
    literal, end = matched
    if end < last:
        begun, rest = text[first:end], text[end:last].lstrip()
        message = f"'{shorten(rest)}' after {shorten(begun)} cannot be read"
        if unknown := unknown_join(begun, text[end:last], currency):
            raise LiteralError(UNKNOWN_UNIT, f"{unknown.name} is not a unit", unknown.hint, end, last)
        raise LiteralError(CANNOT_BE_READ, message, cure_for_rest(begun, rest), end, last)
    if begin == first:
        return literal
    if isinstance(literal.value, date) or literal.kind == MOMENT:
        raise LiteralError(CANNOT_BE_READ, "a day has no minus", f"write {literal.text}", first, last)
    zero = literal.unit.zero if literal.unit is not None else Fraction(0)
    return Literal(literal.kind, 2 * zero - literal.value, literal.unit, written)


def parse_quantity(text: str, kind: Kind, currency: str | None, unit: Unit | None = None) -> Literal:
    """`parse_literal`, where the value must be of that kind (a measure or a day).

    Args:
        unit: The one that it is usually written in; the cure names it first.

    Raises:
        LiteralError: It is not a literal, or of another kind; the message names what was read, the hint the
            units that would do.
    """
    literal = parse_literal(text, currency)
    if (meant := as_meant(literal, kind)) is not None:
        return meant
    read = shorten(literal.text)
    bare = literal.kind == NUMBER
    other = f"is {kind_in_words(literal.kind)}; {kind_in_words(kind)} was wanted"
    message = f"{read} has no unit" if bare and kind != DATE else f"{read} {other}"
    if kind == MOMENT:
        message = f"{read} {other}"
    hint = cure_for_kind(kind, read if bare else "it in", currency, unit)
    start = text.index(literal.text)
    raise LiteralError(CANNOT_BE_READ, message, hint, start, start + len(literal.text))


def as_meant(literal: Literal, kind: Kind) -> Literal | None:
    """The literal as a value of a kind, None if it is of another.

    Where a temperature is wanted, K and degR count from absolute zero; where a difference is, degC and degF are steps.
    """
    if literal.kind.same_measure(kind):
        return literal
    unit = literal.unit
    if unit is None or not isinstance(literal.value, Fraction):
        return None
    if kind == TEMPERATURE_STEP and unit.is_scale:
        return Literal(kind, literal.value - unit.zero, unit.step, literal.text)
    if kind == TEMPERATURE_POINT and literal.kind == TEMPERATURE_STEP and unit.name in ZERO_AT:
        scale = unit.absolute
        return Literal(kind, literal.value + scale.zero, scale, literal.text)
    return None


def _day(written: str, start: int) -> Literal:
    try:
        return Literal(DATE, parse_day(written), None, written)
    except ValueError as error:
        hint = "put blanks round a minus between numbers" if written[5] > "1" else ""
        raise LiteralError(NO_SUCH_DAY, str(error), hint, start, start + len(written)) from None


def _moment(found: re.Match[str]) -> Literal:
    try:
        return Literal(MOMENT, parse_moment(found[0]), MOMENTS, " ".join(found[0].split()))
    except ValueError as error:
        raise LiteralError(NO_SUCH_DAY, str(error), "", *found.span()) from None


def _measure(text: str, start: int, currency: str | None) -> tuple[Literal, int]:
    """A number with or without a unit, or a compound of parts in ever smaller units."""
    value, end, unit = _part(text, start, currency)
    if unit is None:
        return Literal(NUMBER, value, None, text[start:end]), end
    total, smallest = value * unit.factor + unit.zero, unit
    while (begin := _after_blanks(text, end)) > end and _DIGIT.match(text, begin):
        if _DAY.match(text, begin):
            break
        value, after, next_unit = _part(text, begin, currency)
        if next_unit is None:
            break
        if not next_unit.kind.same_measure(unit.kind):
            message = f"{text[start:end]} and {text[begin:after]} stand side by side"
            hint = f"write the sign that belongs between {kind_in_words(unit.kind)} and {kind_in_words(next_unit.kind)}"
            raise LiteralError(SIDE_BY_SIDE, message, hint, start, after)
        if next_unit.factor >= smallest.factor or unit.is_scale:
            read = f"{text[begin:after]} follows {text[start:end]}"
            message = f"{read}, but {next_unit.name} is no smaller unit"
            hint = "write the larger unit first, as in 1 lb 4 oz"
            raise LiteralError(SIDE_BY_SIDE, message, hint, start, after)
        total, smallest, end = total + value * next_unit.factor, next_unit, after
    if unit.kind.name == "months" and total.denominator != 1:
        message = f"{text[start:end]} is not a whole number of months"
        raise LiteralError(CANNOT_BE_READ, message, "write whole months, or days", start, end)
    return Literal(unit.kind, total, unit, text[start:end]), end


def _part(text: str, start: int, currency: str | None) -> tuple[Fraction, int, Unit | None]:
    """One number, the offset after it and its unit, and the unit if there is one."""
    if found := FRACTION.match(text, start):
        unit, end = _unit(text, start, found.end(), currency)
        if unit is not None or found[1]:
            return fraction_of(found), end, unit
    number = DECIMAL.match(text, start)
    assert number is not None, "begins with a digit"
    if found:  # a division, whose second number has no unit
        return decimal_of(number), number.end(), None
    if text.startswith(".", number.end()):
        message = f"{text[start : number.end() + 1]} cannot be read as a number"
        end = number.end() + 1
        raise LiteralError(CANNOT_BE_READ, message, "one point, with digits after it", start, end)
    unit, end = _unit(text, start, number.end(), currency)
    return decimal_of(number), end, unit


def _unit(text: str, start: int, end: int, currency: str | None) -> tuple[Unit | None, int]:
    """The unit of the number that stands from `start` to `end`, if it has one, and the offset after it."""
    begin = _after_blanks(text, end)
    if text.startswith("%", begin):
        if found := _NAME.match(text, begin + 1):
            raise _glued(text, start, found)
        return parse_unit("%", currency), begin + 1
    found = _NAME.match(text, begin)
    if not found:
        return None, end
    name = found[0]
    if name in _ENDS_A_NUMBER:
        if begin == end:
            raise _glued(text, start, found)
        return None, end
    if exponent := _EXPONENT.match(text, end):
        message = f"{text[start : exponent.end()]} has an exponent"
        raise LiteralError(CANNOT_BE_READ, message, "write the number out", start, exponent.end())
    if begin == end and name[0] == "_":
        raise marked_digits(text, start)
    try:
        unit = parse_unit(name, currency)
    except UnknownUnit as unknown:
        message = f"{name[:MOST_DIGITS]} is not a unit"
        raise LiteralError(UNKNOWN_UNIT, message, unknown.hint, *found.span()) from None
    while found := _NEXT_NAME.match(text, begin + len(unit.name)):
        try:
            unit = parse_unit(text[begin : found.end()], currency)
        except UnknownUnit as unknown:
            if found[0][1:] in ZERO_AT:
                message = f"{text[begin : found.end()]} is not a unit"
                raise LiteralError(UNKNOWN_UNIT, message, unknown.hint, begin, found.end()) from None
            break  # a division by something that has a name
    return unit, begin + len(unit.name)


def _glued(text: str, start: int, found: re.Match[str]) -> LiteralError:
    message, hint = f"{text[start : found.end()]} is glued together", f"write a blank before {found[0]}"
    return LiteralError(CANNOT_BE_READ, message, hint, start, found.end())


def _refuse_neighbour(text: str, start: int, end: int) -> None:
    """Two literals cannot stand side by side, in no formula and no declaration."""
    found = DECIMAL.match(text, _after_blanks(text, end))
    if not found:
        return
    message = f"{text[start:end]} and {found[0]} stand side by side"
    hint = "write the sign, or the comma, that belongs between them"
    if text[start:end].isdecimal() and len(found[0]) == 3:
        hint = f"if it is one number, write {text[start:end]}{found[0]} without a blank"
    time = _TIME.match(text, found.start()) if _DAY.match(text, start) else None
    if time is not None:
        found = time
        hint = f"a moment is told in hours and minutes: write {text[start:end]} 14:30"
    raise LiteralError(SIDE_BY_SIDE, message, hint, start, found.end())


def _after_blanks(text: str, start: int) -> int:
    found = _BLANKS.match(text, start)  # matches nothing, too
    return found.end() if found else start
