"""Numbers, quantities and days as people write them, read exactly.

`69 5/8 in`, `1 lb 4 oz`, `52.5 %`, `310.00 GBP`, `18 months` and `2026-03-01` are literals, in formulas and
in declarations alike. Whatever could be read in two ways is refused with the cure, never guessed: thousands
marks, exponents, zeros in front, decimal commas, units that are not in the list.
"""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from checker.quantities.calendar import parse_day
from checker.quantities.dimension import MONEY
from checker.quantities.kind import DATE, NUMBER, Kind
from checker.quantities.units import Unit, UnknownUnit, is_currency, parse_unit, units_of

CANNOT_BE_READ, UNKNOWN_UNIT, NO_SUCH_DAY, SIDE_BY_SIDE = 103, 104, 106, 107
"""Numbers of the problem codes (PK103 and so on)."""

MOST_DIGITS = 40
"""The most digits that one number may have."""


@dataclass(frozen=True, slots=True)
class Literal:
    """One value as written."""

    kind: Kind
    value: Fraction | date
    """In base units; a percentage as a ratio; a day as such."""
    unit: Unit | None
    """The first unit written; None for a number alone and a day."""
    text: str


class LiteralError(ValueError):
    """Text that is not a literal, or not the wanted one.

    `code_number` is one of the constants above; `message` says what was read and what was wanted, `hint`
    the cure (it may be empty), both without a full stop; `start` and `end` are offsets in the text given.
    """

    def __init__(self, code_number: int, message: str, hint: str, start: int, end: int) -> None:
        super().__init__(f"{message}; {hint}" if hint else message)
        self.code_number = code_number
        self.message = message
        self.hint = hint
        self.start = start
        self.end = end


_DAY = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}(?![A-Za-z0-9_])")
_MIXED = re.compile(r"([0-9]+) +([0-9]+)/([0-9]+)(?![0-9.])")
_RATIO = re.compile(r"([0-9]+)/([0-9]+)(?![0-9.])")
_DECIMAL = re.compile(r"[0-9]+(?:\.[0-9]+)?")
_BLANKS = re.compile(r"[ \t\r\n]*")
_NAME = re.compile(r"[A-Za-z_][A-Za-z0-9_]*")
_NEXT_NAME = re.compile(r"/([A-Za-z_][A-Za-z0-9_]*)(?![A-Za-z0-9_.]|[ ]*\()")
_EXPONENT = re.compile(r"[eE][+-]?[0-9]+")
_DIGIT = re.compile(r"[0-9]")
_ENDS_A_NUMBER = ("if", "else", "and", "or", "not", "for")


def match_literal(text: str, start: int, currency: str | None) -> tuple[Literal, int] | None:
    """The longest literal at `start`, and the offset after it; None if no digit stands there.

    `5/8` without a unit gives 5: it is a division, which is the formula's to do. `in` directly after a number is
    inches; `if else and or not for` end a number; any other word after it must be a unit.

    Raises:
        LiteralError: There is a digit, but what follows cannot be read.
    """
    if not _DIGIT.match(text, start):
        return None
    found = _DAY.match(text, start)
    if found:
        literal, end = _day(found[0], start), found.end()
    else:
        literal, end = _measure(text, start, currency)
    _refuse_glued(text, start, end)
    _refuse_neighbour(text, start, end)
    return literal, end


def parse_literal(text: str, currency: str | None) -> Literal:
    """The literal that is the whole of the text but for blanks at the ends; a measure may have a minus.

    Raises:
        LiteralError: The text is something else, or has something more.
    """
    first = _after_blanks(text, 0)
    last = len(text.rstrip(" \t\r\n"))
    if first >= last:
        raise LiteralError(
            CANNOT_BE_READ, "nothing is written here", "write a number with its unit", 0, len(text)
        )
    _refuse_strange(text, first, last)
    minus = text[first] == "-"
    begin = _after_blanks(text, first + 1) if minus else first
    matched = match_literal(text, begin, currency)
    if matched is None:
        raise _not_a_number(text, first, last)
    literal, end = matched
    if end < last:
        raise _left_over(text, first, end, last, currency)
    if minus:
        if isinstance(literal.value, date):
            raise LiteralError(CANNOT_BE_READ, "a day has no minus", f"write {text[begin:last]}", first, last)
        return Literal(literal.kind, -literal.value, literal.unit, text[first:last])
    return literal


def parse_quantity(text: str, kind: Kind, currency: str | None) -> Literal:
    """`parse_literal`, where the value must be of that kind (a measure or a day).

    Raises:
        LiteralError: It is not a literal, or of another kind; the message names what was read, the hint the
            units that would do.
    """
    literal = parse_literal(text, currency)
    if literal.kind.same_measure(kind):
        return literal
    read = literal.text if len(literal.text) <= MOST_DIGITS else f"{literal.text[:MOST_DIGITS]}..."
    wanted = kind_in_words(kind)
    if literal.kind == NUMBER:
        message = f"{read} is a plain number; {wanted} was wanted" if kind == DATE else f"{read} has no unit"
    else:
        message = f"{read} is {kind_in_words(literal.kind)}; {wanted} was wanted"
    number = read
    if literal.unit is not None:
        number = read[: -len(literal.unit.name)].rstrip() if read.endswith(literal.unit.name) else ""
    if kind == DATE:
        hint = "write year, month and day as in 2026-03-01"
    elif kind == NUMBER:
        hint = f"write {number or 'the number'} without a unit"
    else:
        hint = _units_hint(units_of(kind, currency), number if literal.kind == NUMBER else "")
    start = text.index(literal.text)
    raise LiteralError(CANNOT_BE_READ, message, hint, start, start + len(literal.text))


def kind_in_words(kind: Kind) -> str:
    """A kind with its article, for sentences: "a mass", "an area", "a sum of money", "a percentage"."""
    special = {
        "number": "a plain number",
        "percent": "a percentage",
        "days": "a number of days",
        "months": "a number of months",
        "date": "a day",
    }
    if kind.name in special:
        return special[kind.name]
    if kind.name == "quantity" and kind.dimension == MONEY:
        return "a sum of money"
    words = str(kind)
    return f"an {words}" if words[0] in "aeio" else f"a {words}"


def _units_hint(names: tuple[str, ...], number: str) -> str:
    if not names:
        return "give it in units of that kind"
    first, *others = names[:5]
    written = f"write {number} {first}" if number else f"write it in {first}"
    return written + (f", or {', '.join(others)}" if others else "")


def _day(written: str, start: int) -> Literal:
    try:
        return Literal(DATE, parse_day(written), None, written)
    except ValueError as error:
        hint = "days are written year-month-day; put blanks round a minus between numbers"
        raise LiteralError(NO_SUCH_DAY, str(error), hint, start, start + len(written)) from None


def _measure(text: str, start: int, currency: str | None) -> tuple[Literal, int]:
    """A number with or without a unit, or a compound of parts in ever smaller units."""
    value, end, unit = _part(text, start, currency)
    if unit is None:
        return Literal(NUMBER, value, None, text[start:end]), end
    total, smallest = value * unit.factor, unit
    while _DIGIT.match(text, _after_blanks(text, end)) and end < _after_blanks(text, end):
        begin = _after_blanks(text, end)
        if _DAY.match(text, begin):
            break
        value, after, next_unit = _part(text, begin, currency)
        if next_unit is None:
            break
        if not next_unit.kind.same_measure(unit.kind):
            message = f"{text[start:end]} and {text[begin:after]} stand side by side"
            hint = f"one is {kind_in_words(unit.kind)}, the other {kind_in_words(next_unit.kind)}"
            raise LiteralError(SIDE_BY_SIDE, message, hint, start, after)
        if next_unit.factor >= smallest.factor:
            message = (
                f"{text[begin:after]} follows {text[start:end]}, but {next_unit.name} is no smaller unit"
            )
            raise LiteralError(
                SIDE_BY_SIDE, message, "write the larger unit first, as in 1 lb 4 oz", start, after
            )
        total, smallest, end = total + value * next_unit.factor, next_unit, after
    if unit.kind.name == "months" and total.denominator != 1:
        message = f"{text[start:end]} is not a whole number of months"
        raise LiteralError(CANNOT_BE_READ, message, "write it in whole months, or in days", start, end)
    return Literal(unit.kind, total, unit, text[start:end]), end


def _part(text: str, start: int, currency: str | None) -> tuple[Fraction, int, Unit | None]:
    """One number, the offset after it and its unit (inclusive), and the unit if there is one."""
    mixed = _MIXED.match(text, start)
    ratio = _RATIO.match(text, start)
    found = mixed or ratio or _DECIMAL.match(text, start)
    assert found is not None, "begins with a digit"
    unit, end = _unit(text, found.start(), found.end(), currency)
    if ratio and unit is None:  # a division
        found = _DECIMAL.match(text, start)
        assert found is not None, "begins with a digit"
        end = found.end()
    if text[found.end() : found.end() + 1] == ".":
        written = text[start : found.end() + 1]
        raise LiteralError(
            CANNOT_BE_READ,
            f"{written} cannot be read as a number",
            "digits follow a point",
            start,
            found.end() + 1,
        )
    if mixed or (ratio and unit is not None):
        whole = _whole(found[1], found.start(1)) if mixed else 0
        above, below = (found.lastindex or 2) - 1, found.lastindex or 2
        top = _whole(found[above], found.start(above))
        bottom = _whole(found[below], found.start(below))
        if bottom == 0:
            raise LiteralError(CANNOT_BE_READ, f"{found[0]} divides by zero", "", found.start(), found.end())
        if mixed and top >= bottom:
            message = f"{found[0]} cannot be read: the fraction after a whole number is less than one"
            raise LiteralError(CANNOT_BE_READ, message, "as in 1 1/2", found.start(), found.end())
        return whole + Fraction(top, bottom), end, unit
    whole_digits, _, decimals = found[0].partition(".")
    value = Fraction(_whole(whole_digits, start))
    if decimals:
        if len(whole_digits) + len(decimals) > MOST_DIGITS:
            raise _too_many_digits(found[0], start)
        value += Fraction(int(decimals), 10 ** len(decimals))
    return value, end, unit


def _whole(digits: str, start: int) -> int:
    if len(digits) > MOST_DIGITS:
        raise _too_many_digits(digits, start)
    if len(digits) > 1 and digits[0] == "0":
        hint = f"write {digits.lstrip('0') or '0'}"
        raise LiteralError(
            CANNOT_BE_READ, f"{digits} begins with a zero too many", hint, start, start + len(digits)
        )
    return int(digits)


def _too_many_digits(digits: str, start: int) -> LiteralError:
    message = f"{digits[:12]}... has more than {MOST_DIGITS} digits"
    return LiteralError(CANNOT_BE_READ, message, "", start, start + len(digits))


def _unit(text: str, start: int, end: int, currency: str | None) -> tuple[Unit | None, int]:
    """The unit after the number that stands from `start` to `end`, and the offset after it."""
    begin = _after_blanks(text, end)
    if text[begin : begin + 1] == "%":
        return parse_unit("%", currency), begin + 1
    found = _NAME.match(text, begin)
    if not found:
        return None, end
    if found[0] in _ENDS_A_NUMBER:
        if begin == end:
            hint = f"write a blank before {found[0]}"
            raise LiteralError(
                CANNOT_BE_READ, f"{text[start : found.end()]} is glued together", hint, start, found.end()
            )
        return None, end
    exponent = _EXPONENT.match(text, end)
    if exponent:
        message = f"{text[start : exponent.end()]} has an exponent"
        raise LiteralError(CANNOT_BE_READ, message, "write the number out", start, exponent.end())
    if begin == end and found[0].startswith("_"):
        message = f"{text[start : found.end()]} cannot be read as a number"
        raise LiteralError(
            CANNOT_BE_READ, message, "write digits without marks between them", start, found.end()
        )
    try:
        unit = parse_unit(found[0], currency)
    except UnknownUnit as unknown:
        name = found[0]
        message = f"{name if len(name) <= MOST_DIGITS else name[:MOST_DIGITS] + '...'} is not a unit"
        raise LiteralError(UNKNOWN_UNIT, message, unknown.hint, found.start(), found.end()) from None
    if unit.kind.name not in ("quantity", "number"):
        return unit, found.end()
    stop = found.end()
    while joined := _NEXT_NAME.match(text, stop):
        try:
            unit = parse_unit(text[begin : joined.end()], currency)
        except UnknownUnit:  # the division of a quantity by a name of the formula
            break
        stop = joined.end()
    return unit, stop


def _after_blanks(text: str, start: int) -> int:
    found = _BLANKS.match(text, start)
    return found.end() if found else start


def _digits_at(text: str, start: int) -> int:
    found = re.compile("[0-9]*").match(text, start)
    return len(found[0]) if found else 0


def _refuse_glued(text: str, start: int, end: int) -> None:
    found = re.compile("[A-Za-z0-9_]+").match(text, end)
    if found:
        hint = f"write a blank before {found[0][:MOST_DIGITS]}"
        message = f"{text[start : found.end()][:MOST_DIGITS]} is glued together"
        raise LiteralError(CANNOT_BE_READ, message, hint, start, found.end())


def _refuse_neighbour(text: str, start: int, end: int) -> None:
    begin = _after_blanks(text, end)
    if not _DIGIT.match(text, begin):
        return
    found = _DECIMAL.match(text, begin)
    assert found is not None, "begins with a digit"
    message = f"{text[start:end][:MOST_DIGITS]} and {found[0][:MOST_DIGITS]} stand side by side"
    hint = "write the sign that belongs between them"
    if len(found[0]) == 3 and _digits_at(text, start) == end - start:
        hint = f"if it is one number, write {text[start:end]}{found[0]} without a blank"
    raise LiteralError(SIDE_BY_SIDE, message, hint, start, found.end())


_CURES = {
    "\N{MINUS SIGN}": "write a plain minus, -",
    "\N{EN DASH}": "write a plain minus, -",
    "\N{NO-BREAK SPACE}": "write a plain blank",
    "\N{NARROW NO-BREAK SPACE}": "write a plain blank",
    "\N{VULGAR FRACTION ONE HALF}": "write 1/2",
    "\N{VULGAR FRACTION ONE QUARTER}": "write 1/4",
    "\N{VULGAR FRACTION THREE QUARTERS}": "write 3/4",
    "\N{DEGREE SIGN}": "write deg for an angle, degC for a temperature",
    "\N{SUPERSCRIPT TWO}": "write mm2, m2 and so on",
    "\N{SUPERSCRIPT THREE}": "write mm3, m3 and so on",
    "\N{POUND SIGN}": "write the currency's three letters after the number, as in 310.00 GBP",
    "\N{EURO SIGN}": "write the currency's three letters after the number, as in 310.00 EUR",
    "\N{OHM SIGN}": "write ohm",
    "\N{GREEK CAPITAL LETTER OMEGA}": "write ohm",
    "\N{DOUBLE PRIME}": "write in",
    "\N{PRIME}": "write ft",
}


def _refuse_strange(text: str, first: int, last: int) -> None:
    for at in range(first, last):
        sign = text[at]
        if not " " <= sign <= "~" and sign not in "\t\r\n":
            name = unicodedata.name(sign, f"U+{ord(sign):04X}").lower()
            hint = _CURES.get(sign, "write it with plain letters, the digits 0 to 9 and plain blanks")
            raise LiteralError(
                CANNOT_BE_READ, f"the sign '{name}' cannot be read in a number or unit", hint, at, at + 1
            )


def _not_a_number(text: str, first: int, last: int) -> LiteralError:
    written = text[first:last]
    hint = "write a number with its unit, as in 12.5 kg"
    if re.match(r"-?\.[0-9]", written):
        hint = f"write a digit before the point: {written.replace('.', '0.', 1)[:MOST_DIGITS]}"
    elif written[0] == "+":
        hint = f"write {written[1:].lstrip()[:MOST_DIGITS]} without the plus"
    elif is_currency(written[:3]) and _DIGIT.match(written, _after_blanks(written, 3)):
        hint = f"write the number first: {written[3:].strip()[:MOST_DIGITS]} {written[:3]}"
    elif written[0] in "$~<>=":
        hint = "write the number first, without a sign before it"
    shown = written if len(written) <= MOST_DIGITS else f"{written[:MOST_DIGITS]}..."
    return LiteralError(CANNOT_BE_READ, f"'{shown}' is not a number, quantity or day", hint, first, last)


def _left_over(text: str, first: int, end: int, last: int, currency: str | None) -> LiteralError:
    """The error for something after the literal, which ends at `end`."""
    rest, begun = text[end:last].strip(), text[first:end]
    code, hint = CANNOT_BE_READ, "only one number with its unit may stand here"
    if re.match(r",[0-9]", rest):
        hint = "leave out the marks between thousands; the decimal mark is a point"
    elif re.match(r"/[0-9]", rest):
        hint = "a fraction needs a unit, as in 5/8 in; write a plain number with a decimal point"
    elif re.match(r"['\"]", rest):
        hint = "write ft or in; leave out marks between thousands"
    elif re.fullmatch(r"[0-9]{4}", begun) and re.match(r"[-/.][0-9]", rest):
        hint = "a day is written with four, two and two digits, as in 2026-03-01"
    elif found := re.match(r"/[A-Za-z_][A-Za-z0-9_/]*", text[end:last]):
        whole = re.search(r"[A-Za-z0-9]*$", begun)
        name = (whole[0] if whole else "") + found[0]
        code = UNKNOWN_UNIT
        try:
            parse_unit(name, currency)
        except UnknownUnit as unknown:
            hint = unknown.hint
    shown = rest if len(rest) <= MOST_DIGITS else f"{rest[:MOST_DIGITS]}..."
    return LiteralError(code, f"'{shown}' after {begun[:MOST_DIGITS]} cannot be read", hint, end, last)
