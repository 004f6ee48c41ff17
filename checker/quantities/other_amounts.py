"""Amounts as other notations write them, and how they are written here. For messages only.

`5' 10"`, `1½ in`, `3 m²`, `3 kg.`, `£5`, `2026-2-3`: each is refused, and the cure is the text to put in its place.
"""

from __future__ import annotations

import re
import unicodedata
from fractions import Fraction

from checker.quantities.other_days import DAYS
from checker.quantities.other_ways import FREE, Cure, OtherWay, Rule, first_of
from checker.quantities.unit_hints import SYNONYMS
from checker.quantities.units import UnknownUnit, parse_unit
from checker.reading.patterns import pattern

_NUMBER = r"(?:(?:[0-9]+[ ]+)?[0-9]+/[0-9]+|[0-9]+(?:\.[0-9]+)?)"
_WORD = r"[A-Za-z][A-Za-z0-9]*"
_UNIT = rf"{_WORD}(?:/{_WORD})*"
_FOOT = "['\N{PRIME}\N{RIGHT SINGLE QUOTATION MARK}]"
_INCH = "(?:[\"\N{DOUBLE PRIME}\N{RIGHT DOUBLE QUOTATION MARK}]|'')"
_TAIL = rf"(?P<tail>[ ]*(?:(?!(?:and|or|not|if|else|in|for)\b){_UNIT}|%))?"
"""The unit that stands behind a number, which the cure keeps."""
_SQUARES = {"\N{SUPERSCRIPT TWO}": "2", "\N{SUPERSCRIPT THREE}": "3"}
_MOST_DIGITS = 30


def other_way(text: str, start: int, end: int, currency: str | None) -> OtherWay | None:
    """The amount or day of another notation that stands where a mistake was found, if one does.

    Args:
        text: Of a formula, or of one value.
        start: Where the mistake begins.
        currency: The pack's, e.g. "GBP".
    """
    return first_of(_RULES, text, start, end, currency)


def alone(text: str, currency: str | None) -> OtherWay | None:
    """As `other_way`, of a text that should hold one value and nothing else."""
    return first_of(_ALONE, text, 0, len(text), currency) or other_way(text, 0, len(text), currency)


def unit_meant(word: str, currency: str | None) -> str | None:
    """The unit of the list that is written so or otherwise, parts of a joined one each."""
    meant = "/".join(_unit_in_full(part, currency) for part in word.split("/"))
    try:
        return parse_unit(meant, currency).name
    except UnknownUnit:
        return None


def _unit_in_full(word: str, currency: str | None) -> str:
    try:
        return parse_unit(word, currency).name
    except UnknownUnit:
        return SYNONYMS.get(word.casefold(), word)


def decimal(number: Fraction) -> str | None:
    """A number written out, where it ends."""
    digits = next((n for n in range(_MOST_DIGITS) if (number * 10**n).denominator == 1), None)
    if digits is None or abs(number) >= 10**_MOST_DIGITS:
        return None
    whole, rest = divmod(int(number * 10**digits), 10**digits)
    return f"{whole}.{rest:0{digits}}" if digits else f"{whole}"


def _vulgar(found: re.Match[str], _: str | None) -> Cure:
    part = Fraction(unicodedata.numeric(found[2])).limit_denominator(10)
    if found[1] or found[3]:
        return f"write {found[1].strip()} {part}".replace("  ", " ") + f" {found[3]}".rstrip()
    number = decimal(part)
    return f"write {number}" if number else None


def _raised(found: re.Match[str], currency: str | None) -> Cure:
    number, word, sign, power = found[1], found[2], found[3], found[4] or ""
    power = _SQUARES.get(sign, power)
    unit = unit_meant(word, currency)
    raised = unit and unit_meant(f"{unit}{power}", currency)
    if raised:
        return f"write {number} {raised}"
    return f"write ({number} {unit}) ** {power}" if unit and power else None


_POWERS = {"s": "2", "c": "3"}


def _worded(found: re.Match[str], currency: str | None) -> Cure:
    unit = unit_meant(found[3], currency)
    raised = unit and unit_meant(f"{unit}{_POWERS[found[2][0].casefold()]}", currency)
    return f"write {found[1]} {raised}" if raised else None


def _per(found: re.Match[str], currency: str | None) -> Cure:
    unit = unit_meant(f"{found[2]}/{found[3]}", currency)
    written = f"{found[1]} {unit}"
    return f"write {written}" if unit and written != found[0] else None


def _degrees(found: re.Match[str], _: str | None) -> Cure:
    return f"write {found[1]} deg{(found[2] or '').upper()}"


def _micro(found: re.Match[str], _: str | None) -> Cure:
    number = decimal(Fraction(found[1]) / 1000)
    return number and f"write {number} mm"


def _dotted(found: re.Match[str], currency: str | None) -> Cure:
    unit = unit_meant(found[2], currency)
    return f"write {found[1]} {unit} without a point" if unit else None


def _glued(found: re.Match[str], currency: str | None) -> Cure:
    parts = [(number, unit_meant(word, currency)) for number, word in _GROUP.findall(found[0])]
    if not all(unit for _, unit in parts):
        return None
    return "write " + " ".join(f"{number} {unit}" for number, unit in parts)


_GROUP = pattern(r"([0-9]+(?:\.[0-9]+)?)([A-Za-z]+)")
"""One of several amounts without a blank between them."""


def _money(found: re.Match[str], currency: str | None) -> Cure:
    sign = next(group for group in found.groups() if not group[0].isdigit())
    number = next(group for group in found.groups() if group[0].isdigit())
    if sign.isalpha() and sign != currency:
        return None
    if currency is None:
        return "name the pack's `currency`, and put its three letters behind the number"
    return f"write {number} {currency}"


def _thousands(found: re.Match[str], _: str | None) -> Cure:
    digits = re.sub("[^0-9]", "", found[0].removesuffix(found["tail"] or ""))
    return f"write {digits}{found['tail'] or ''}: thousands have no mark"


def _exponent(found: re.Match[str], _: str | None) -> Cure:
    if abs(power := int(found[2])) > _MOST_DIGITS:
        return None
    number = decimal(Fraction(found[1]) * (Fraction(10) ** power))
    return number and f"write {number}{found['tail'] or ''}"


def _mixed(found: re.Match[str], currency: str | None) -> Cure:
    return f"write {found[1]} {found[2]} {found[3]}" if unit_meant(found[3], currency) else None


_RANGE = "a range has two bounds: `at_least` the one, `at_most` the other"
_BAND = "a band is told by `nominal` and `plus_minus`, each behind its own key"


def _pointed(found: re.Match[str], _: str | None) -> Cure:
    number = f"{found[1]}{found['tail'] or ''}"
    if number[0] == ".":
        return f"write 0{number}"
    return f"write {number}: digits stand on both sides of a point"


_RULES: tuple[Rule, ...] = (
    *DAYS,
    (
        pattern(rf"{FREE}[1-9][0-9]{{0,2}}(?:(?:'[0-9]{{3}})+|(?:[. ][0-9]{{3}}){{2,}})(?![0-9.']){_TAIL}"),
        _thousands,
    ),
    (pattern(rf"{FREE}({_NUMBER})[ ]*{_FOOT}[ ]*({_NUMBER})[ ]*{_INCH}"), r"write \1 ft \2 in"),
    (pattern(rf"{FREE}({_NUMBER})[ ]*{_INCH}"), r"write \1 in"),
    (pattern(rf"{FREE}({_NUMBER})[ ]*{_FOOT}"), r"write \1 ft"),
    (pattern(rf"{FREE}([0-9]*[ ]?)([\u00bc-\u00be\u2153-\u215e])[ ]*({_UNIT})?"), _vulgar),
    (pattern(rf"{FREE}([0-9]+)-([0-9]+/[0-9]+)[ ]*({_UNIT})"), _mixed),
    (pattern(rf"{FREE}({_NUMBER})[ ]*({_UNIT})[ ]*(\^|\*\*|[\u00b2\u00b3])[ ]*([2-4])?"), _raised),
    (pattern(rf"{FREE}({_NUMBER})[ ]*\b(sq|square|cu|cubic)\b\.?[ ]*({_WORD})", re.IGNORECASE), _worded),
    (pattern(rf"{FREE}({_NUMBER})[ ]*({_WORD})[ ]*(?:\bper\b|/)[ ]*({_WORD})"), _per),
    (pattern(rf"{FREE}({_NUMBER})[ ]*(?:\u00b0|\bdeg(?=[ ]+[CF]\b))[ ]*([CFcf]\b)?"), _degrees),
    (pattern(rf"{FREE}({_NUMBER})[ ]*(?:[\u00b5\u03bc]m|um|microns?)\b"), _micro),
    (pattern(rf"{FREE}(?:[0-9]+(?:\.[0-9]+)?[A-Za-z]+){{2,}}(?!\w)"), _glued),
    (pattern(rf"{FREE}({_NUMBER})[ ]*({_UNIT})\.(?![\w.])"), _dotted),
    (pattern(r"([$\u00a3\u20ac\u00a5])[ ]*([0-9](?:[0-9.,]*[0-9])?)"), _money),
    (pattern(rf"{FREE}([0-9](?:[0-9.,]*[0-9])?)[ ]*([$\u00a3\u20ac\u00a5])"), _money),
    (pattern(r"\b([A-Z]{3})[ ]*([0-9](?:[0-9.,]*[0-9])?)"), _money),
    (pattern(rf"{FREE}([0-9]+(?:\.[0-9]+)?)[eE]([+-]?[0-9]+)(?!\w){_TAIL}"), _exponent),
    (pattern(r"\u00b1|\+[ ]*/?[ ]*-"), _BAND),
    (
        pattern(
            rf"(?<![\w.,-]){_NUMBER}(?:[ ]*{_WORD})?"
            rf"(?:[ ]*(?:\.\.+|\u2013|\bto\b)[ ]*|-){_NUMBER}(?![\w.-])(?:[ ]*{_UNIT})?"
        ),
        _RANGE,
    ),
    (pattern(rf"{FREE}([0-9]+)\.(?![0-9.]){_TAIL}"), _pointed),
    (pattern(rf"(?<![\w.)\]])(\.[0-9]+){_TAIL}"), _pointed),
)
_ALONE: tuple[Rule, ...] = (
    (
        pattern(
            r"^\s*(?:[<>=~\u2264\u2265\u2248\u00b1]+|(?:max|min|ca|c|approx|about|circa|maximum|minimum"
            r"|at most"
            r"|at least|up to|no more than|not more than|no less than|not less than"
            r"|less than|more than|under|over)\b\.?)[ ]*"
            rf"({_NUMBER}[ ]*(?:{_UNIT}|%)?)\s*$",
            re.IGNORECASE,
        ),
        r"write \1",
    ),
    (
        pattern(
            rf"^\s*({_NUMBER}[ ]*(?:{_UNIT}|%)?)[ ]*(?:max|min|or more|or less|maximum|minimum)\b\.?\s*$",
            re.IGNORECASE,
        ),
        r"write \1",
    ),
    (pattern(rf"^\s*{_NUMBER}(?:[ ]*{_UNIT})?[ ]+-[ ]+{_NUMBER}(?:[ ]*{_UNIT})?\s*$"), _RANGE),
    (pattern(r"^\s*\N{MINUS SIGN}(.*)$"), lambda found, _: f"write -{found[1].strip()}"),
)
"""Words and signs of a bound beside its amount; the bound's own key says what they say."""
