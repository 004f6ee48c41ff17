"""Amounts as a rulebook's text writes them, and as a formula does: "48 to 52 %", "1 1/2 inch", "five years", "60 V"."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from fractions import Fraction

from checker.quantities.dimension import Dimension
from checker.quantities.kind import Kind
from checker.quantities.unit_hints import SYNONYMS
from checker.quantities.units import Unit, UnknownUnit, parse_unit
from checker.reading.patterns import pattern
from checker.reading.quick_dataclasses import dataclass

_SPELT: Mapping[str, str] = {
    "per cent": "%",
    "inch": "inch",
    "inches": "inch",
    **dict.fromkeys(("revolutions a minute", "revolutions per minute"), "rpm"),
    "dB(A)": "dBA",
    "dB(C)": "dBC",
    "°C": "degC",
    "cubic centimetres": "cc",
}
"""How a rulebook spells a unit beside what `SYNONYMS` has, and the unit that a check is written with."""

NUMBERS: Mapping[str, int] = {
    word: number
    for number, word in enumerate(
        ("one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"), 1
    )
}
"""Numbers in words, which texts use for spans of time."""

NUMBER = r"(?<![\w.,/-])(?:(?:\d+ )?\d+/\d+|\d+(?:\.\d+)?)"
_WORDED = "|".join(NUMBERS)
UNIT = "|".join(
    [*sorted(map(re.escape, _SPELT), key=len, reverse=True), r"%|[A-Za-z][A-Za-z0-9]*(?:/[A-Za-z]+)*"]
)
_AMOUNT = pattern(rf"({NUMBER})(?: ?(?:to|and|or|by|x|-|–) ?({NUMBER}))?\s*({UNIT})(?![\w(])")
_SPAN = pattern(rf"\b({_WORDED})\s+(days?|months?|years?)\b", re.IGNORECASE)
_INCHES = pattern(
    r"\s*(?:[.,;:)\]]|$|(?:wide|long|high|deep|thick|across|apart|tall|in diameter|of|or|and|by|to|x)\b)"
)
"""What follows where `in` after a whole number is inches; before anything else it is a word of the text."""


@dataclass(frozen=True, slots=True)
class WrittenAmount:
    """An amount as written somewhere."""

    value: Fraction
    """In base units."""
    unit: Unit
    kind: Kind
    text: str
    start: int
    end: int

    @property
    def measure(self) -> tuple[str, Dimension]:
        """What it can be compared with."""
        return self.kind.name, self.kind.dimension


def amounts_in(text: str, currency: str | None, *, formula: bool = False) -> Iterator[WrittenAmount]:
    """The amounts with a unit in a text, or in a formula of a pack.

    In "48 to 52 %" both numbers have the unit. A formula's units are exact; a text may spell them out, and `in` may be
    a word there.
    """
    for found in _AMOUNT.finditer(text):
        written = found[3]
        if not formula and written == "in" and not _is_inches(text, found):
            continue
        unit = unit_as_spelt(written, currency)
        if unit is None:
            continue
        for group in (1, 2):
            if found[group]:
                value = _value(found[group]) * unit.factor + unit.zero
                shown = f"{found[group]} {written}"
                yield WrittenAmount(
                    value,
                    unit,
                    unit.kind,
                    shown,
                    found.start(group),
                    found.end(3 if group == 2 or not found[2] else 1),
                )
    for found in _SPAN.finditer(text):
        unit = unit_as_spelt(found[2].lower(), currency)
        if unit is not None:
            value = NUMBERS[found[1].lower()] * unit.factor + unit.zero
            yield WrittenAmount(
                value, unit, unit.kind, " ".join(found[0].split()), found.start(), found.end()
            )


def _is_inches(text: str, found: re.Match[str]) -> bool:
    """Whether `in` is a unit: after a fraction or a decimal, glued to its number, or before what follows a length."""
    broken = any(sign in (found[2] or found[1]) for sign in "/.")
    return broken or text[found.start(3) - 1] != " " or _INCHES.match(text, found.end()) is not None


def _value(text: str) -> Fraction:
    whole, blank, part = text.rpartition(" ")
    return Fraction(part) + (Fraction(whole) if blank else 0)


def unit_as_spelt(written: str, currency: str | None) -> Unit | None:
    """The unit of a text, in short or in full; None for any other word."""
    try:
        return parse_unit(_SPELT.get(written) or SYNONYMS.get(written, written), currency)
    except UnknownUnit:
        return None
