"""Clauses whose text says another number than their check: the printed rule and the judged one must be one rule.

Only amounts with a unit are looked at, and only where the check has an amount of the same kind: a text may well
mention things that no check needs. Plain numbers are left alone, for a text is full of them.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from checker.kinds.contract.check import uses, walk
from checker.kinds.frame.framed import Framed
from checker.pack.model import Clause, Pack
from checker.quantities.dimension import Dimension
from checker.quantities.kind import Kind
from checker.quantities.units import Unit, UnknownUnit, parse_unit
from checker.reading.problems import Path, Problem

_SPELT: Mapping[str, str] = {
    **dict.fromkeys(("per cent", "percent"), "%"),
    **dict.fromkeys(("millimetre", "millimetres"), "mm"),
    **dict.fromkeys(("centimetre", "centimetres"), "cm"),
    **dict.fromkeys(("metre", "metres"), "m"),
    **dict.fromkeys(("inch", "inches"), "inch"),
    **dict.fromkeys(("kilogram", "kilograms", "kilogramme", "kilogrammes"), "kg"),
    **dict.fromkeys(("gram", "grams", "gramme", "grammes"), "g"),
    **dict.fromkeys(("pound", "pounds"), "lb"),
    **dict.fromkeys(("litre", "litres"), "L"),
    **dict.fromkeys(("degree", "degrees"), "deg"),
    **dict.fromkeys(("revolutions a minute", "revolutions per minute"), "rpm"),
    "dB(A)": "dBA",
    "dB(C)": "dBC",
    "°C": "degC",
}
"""How a rulebook spells a unit in full, and the unit that a check is written with."""

_NUMBERS: Mapping[str, int] = {
    word: number
    for number, word in enumerate(
        ("one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"), 1
    )
}
"""Numbers in words, which texts use for spans of time."""

_NUMBER = r"(?<![\w.,/-])(?:(?:\d+ )?\d+/\d+|\d+(?:\.\d+)?)"
_WORDED = "|".join(_NUMBERS)
_UNIT = "|".join(
    [*sorted(map(re.escape, _SPELT), key=len, reverse=True), r"%|[A-Za-z][A-Za-z0-9]*(?:/[A-Za-z]+)*"]
)
_AMOUNT = re.compile(rf"({_NUMBER})(?: ?(?:to|and|or|by|x|-|–) ?({_NUMBER}))?\s*({_UNIT})(?![\w(])")
_SPAN = re.compile(rf"\b({_WORDED})\s+(days?|months?|years?)\b", re.IGNORECASE)
_NEVER_A_UNIT = ("in", "a", "A", "at", "h", "s", "t", "m", "g", "W", "V", "N", "J", "L")
"""Short words of a text that are units elsewhere; after a blank they are taken for words."""


@dataclass(frozen=True, slots=True)
class WrittenAmount:
    """An amount as written somewhere."""

    value: Fraction
    """In base units."""
    kind: Kind
    text: str
    start: int
    end: int

    @property
    def measure(self) -> tuple[str, Dimension]:
        """What it can be compared with."""
        return self.kind.name, self.kind.dimension


def text_contradictions(pack: Pack) -> tuple[Problem, ...]:
    """Amounts in the text of a clause that its check does not have (509), each with its place."""
    return tuple(problem for clause in pack.clauses.values() for problem in _in_clause(clause, pack))


def _in_clause(clause: Clause, pack: Pack) -> Iterator[Problem]:
    said = list(amounts_in(clause.text, pack.vocabulary.currency))
    if not said:
        return
    held = [
        amount
        for text in _rules(clause, pack)
        for amount in amounts_in(text, pack.vocabulary.currency, formula=True)
    ]
    for amount in said:
        alike = [other for other in held if other.measure == amount.measure]
        if not alike or any(other.value == amount.value for other in alike):
            continue
        told = ", ".join(dict.fromkeys(other.text for other in alike))
        path: Path = ("clauses", clause.number, "text")
        yield Problem(
            "PK509",
            f"the text says {amount.text}, which the check does not: it has {told}",
            pack.document.span_within(path, amount.start, amount.end),
            hint="correct the text or the check; a bulletin that changes a number changes both",
            clause=clause.number,
            warning=True,
        )


def amounts_in(text: str, currency: str | None, *, formula: bool = False) -> Iterator[WrittenAmount]:
    """The amounts with a unit in a text, or in a formula of a pack.

    In "48 to 52 %" both numbers have the unit. A formula's units are exact; a text may spell them out, and a single
    letter after a blank is a word there.
    """
    for found in _AMOUNT.finditer(text):
        written = found[3]
        if not formula and written in _NEVER_A_UNIT and text[found.start(3) - 1] == " ":
            continue
        unit = _unit(written, currency)
        if unit is None:
            continue
        for group in (1, 2):
            if found[group]:
                value = _value(found[group]) * unit.factor
                shown = f"{found[group]} {written}"
                yield WrittenAmount(
                    value,
                    unit.kind,
                    shown,
                    found.start(group),
                    found.end(3 if group == 2 or not found[2] else 1),
                )
    for found in _SPAN.finditer(text):
        unit = _unit(found[2].lower(), currency)
        if unit is not None:
            value = _NUMBERS[found[1].lower()] * unit.factor
            yield WrittenAmount(value, unit.kind, " ".join(found[0].split()), found.start(), found.end())


def _value(text: str) -> Fraction:
    whole, blank, part = text.rpartition(" ")
    return Fraction(part) + (Fraction(whole) if blank else 0)


def _unit(written: str, currency: str | None) -> Unit | None:
    try:
        return parse_unit(_SPELT.get(written, written), currency)
    except UnknownUnit:
        return None


def _rules(clause: Clause, pack: Pack) -> Iterator[str]:
    """Everything that the clause is judged by, as text: its checks, and the tables, values and fields they use."""
    document = pack.document
    for key in ("check", "earlier", "penalty"):
        yield from _texts(document.get(("clauses", clause.number, key)))
    names: set[str] = set()
    for check in (clause.check, *(entry.check for entry in clause.earlier if entry.check is not None)):
        names |= uses(check)
        names |= {c.name for part in walk(check) if isinstance(part, Framed) for c in part.conditions}
    for name in sorted(names):
        for section in ("tables", "derived", "conditions"):
            yield from _texts(document.get((section, name)))
        head, _, field = name.partition(".")
        yield from _texts(document.get(("facts", name)))
        yield from _texts(document.get(("lists", head, "fields", field)))


def _texts(data: Any) -> Iterable[str]:
    if isinstance(data, str):
        yield data
    elif isinstance(data, dict):
        for key, value in data.items():
            if key not in ("about", "range"):
                yield from _texts(value)
    elif isinstance(data, list):
        for value in data:
            yield from _texts(value)
