"""What people write where a number, quantity or day is wanted, and the cure for it. For messages only."""

from __future__ import annotations

import re
import unicodedata

from checker.quantities.kind import DATE, NUMBER, Kind
from checker.quantities.units import MOMENT, Unit, UnknownUnit, is_currency, parse_unit, units_of
from checker.reading.patterns import pattern

CANNOT_BE_READ, UNKNOWN_UNIT, NO_SUCH_DAY, SIDE_BY_SIDE = 103, 104, 106, 107
"""Numbers of the problem codes (PK103 and so on)."""

_CURES = {
    "\N{MINUS SIGN}": "write -, a plain minus",
    "\N{EN DASH}": "write -, a plain minus",
    "\N{NO-BREAK SPACE}": "write a plain blank",
    "\N{NARROW NO-BREAK SPACE}": "write a plain blank",
    "\N{DEGREE SIGN}": "write deg for an angle, degC or degF for a temperature",
    "\N{SUPERSCRIPT TWO}": "write mm2, m2 and so on",
    "\N{SUPERSCRIPT THREE}": "write mm3, m3 and so on",
    "\N{POUND SIGN}": "write the three letters of the currency after the number, as in 310.00 GBP",
    "\N{EURO SIGN}": "write the three letters of the currency after the number, as in 310.00 EUR",
    "\N{OHM SIGN}": "write ohm",
    "\N{GREEK CAPITAL LETTER OMEGA}": "write ohm",
    "\N{DOUBLE PRIME}": "write in",
    "\N{PRIME}": "write ft",
}


class LiteralError(ValueError):
    """Text that is not a literal, or not the wanted one.

    `code_number` is one of the constants above. `message` says what was read and what was wanted, `hint` the
    cure (it may be empty), both without a full stop. `start` and `end` are offsets in the text given.
    """

    def __init__(self, code_number: int, message: str, hint: str, start: int, end: int) -> None:
        super().__init__(f"{message}; {hint}" if hint else message)
        self.code_number = code_number
        self.message = message
        self.hint = hint
        self.start = start
        self.end = end


def shorten(text: str) -> str:
    """The text, or its beginning if it is too long for a message."""
    return text if len(text) <= 40 else f"{text[:40]}..."


def strange_sign(text: str) -> tuple[int, str, str] | None:
    """The first sign that no literal has, if any: its offset, its name, and the cure."""
    for at, sign in enumerate(text):
        if not " " <= sign <= "~" and sign not in "\t\r\n":
            name = unicodedata.name(sign, f"U+{ord(sign):04X}").lower()
            cure = _CURES.get(sign, "write it with plain letters, the digits 0 to 9 and plain blanks")
            return at, name, cure
    return None


def cure_for_no_digit(written: str) -> str:
    """The cure for text without blanks at its ends that does not begin like a literal."""
    if re.match(r"\+[ \t]*[0-9]", written):
        return f"write {shorten(written[1:].strip())} without the plus"
    if is_currency(written[:3]) and re.match(r"[ \t]*[0-9]", written[3:]):
        return "write the number first, and behind it the currency of the pack"
    if written[0] in "$~<>=":
        return "write the number first, without a sign before it"
    return "write a number with its unit, as in 12.5 kg"


def cure_for_rest(begun: str, rest: str) -> str:
    """The cure for `rest` after the literal `begun`, where only one literal may stand."""
    if comma := with_comma(begun + rest):
        return comma[2]
    if re.match(r"/[0-9]", rest):
        return "a fraction needs a unit, as in 5/8 in; write a plain number with a decimal point"
    if begun.endswith("dB") and (weighting := re.match(r"\(([AC])\)", rest)):
        return f"write {begun}{weighting[1]}"
    return "only one number with its unit may stand here"


def with_comma(text: str) -> tuple[int, int, str] | None:
    """The first number with a comma in it, and how to write it: start, end and cure."""
    found = _WITH_COMMA.search(text)
    if found is None:
        return None
    number, decimals = found[0].replace(",", ""), found[0].replace(".", "").replace(",", ".")
    if _THOUSANDS.fullmatch(found[0]):
        other = f", or {decimals}" if found[0].count(",") == 1 and "." not in found[0] else ""
        cure = f"write {number}{other}: the decimal mark is a point, and thousands have no mark"
    else:
        cure = f"write {decimals}: the decimal mark is a point"
    return found.start(), found.end(), cure


_WITH_COMMA = pattern(r"(?<![\w.,])[0-9]+(?:[.,][0-9]+)*,[0-9]+(?:\.[0-9]+)?(?![\w,]|\.[0-9])")
_THOUSANDS = pattern(r"[1-9][0-9]{0,2}(?:,[0-9]{3})+(?:\.[0-9]+)?")


def unknown_join(begun: str, rest: str, currency: str | None) -> UnknownUnit | None:
    """The error of a unit that runs on from `begun` into `rest`, as `0.745 kg` and `/l`; None if not so."""
    before = re.search(r"[A-Za-z0-9]+(/[A-Za-z0-9]+)*$|%$", begun)
    after = re.match(r"(/[A-Za-z][A-Za-z0-9]*)+", rest)
    if not before or not after:
        return None
    try:
        parse_unit(before[0] + after[0], currency)
    except UnknownUnit as unknown:
        return unknown
    return None


def cure_for_kind(kind: Kind, number: str, currency: str | None, unit: Unit | None) -> str:
    """How to write a value of a kind; `unit` is the one that it is usually written in."""
    if kind == DATE:
        return "write year, month and day as in 2026-03-01"
    if kind == MOMENT:
        return "write the day and the time as in 2026-03-01 14:30"
    if kind == NUMBER:
        return "write it without a unit"
    names = units_of(kind, currency)
    return cure_by_unit((unit.name, *names) if unit else names, number)


def marked_digits(text: str, start: int) -> LiteralError:
    """The error of a number such as 1_000, which stands at `start`."""
    found = re.compile(r"[0-9]+(?:_[0-9]*)*").match(text, start)
    assert found is not None, "begins with a digit"
    message = f"{found[0]} cannot be read as a number"
    cure = f"write {found[0].replace('_', '')}: digits have no marks between them"
    return LiteralError(CANNOT_BE_READ, message, cure, start, found.end())


def cure_by_unit(names: tuple[str, ...], number: str) -> str:
    """How to write a number in one of these units."""
    several = [one for one in dict.fromkeys(names) if f"{one}s" not in names]  # "days" says it, without "day"
    if not several:
        return "no unit of the list says that"
    first, *others = several[:5]
    return f"write {number} {first}" + (f", or {', '.join(others)}" if others else "")
