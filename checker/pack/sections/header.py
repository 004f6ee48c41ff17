"""The head of a pack: its name, edition, days, course, currency, and how values near a limit are decided."""

from __future__ import annotations

import re
from datetime import date
from fractions import Fraction

from checker.pack.model import AS_DISPLAYED, OFFICIAL_RULES, Decision
from checker.pack.reading.literals import quantity_value
from checker.pack.reading.source import PackSource
from checker.quantities.folding import fold
from checker.quantities.kind import PERCENT
from checker.quantities.misread import LiteralError
from checker.reading.quick_dataclasses import KW_ONLY, dataclass

SECTIONS = (
    "pack",
    "edition",
    "title",
    "in_force",
    "course",
    "currency",
    "tyre_sets",
    "decision",
    "defaults",
    "facts",
    "lists",
    "instruments",
    "gear",
    "derived",
    "categories",
    "materials",
    "tables",
    "conditions",
    "clauses",
    "cases",
)
COURSES = ("clockwise", "anticlockwise")


@dataclass(frozen=True, slots=True)
class Header:
    """The head of a pack."""

    name: str
    edition: str
    title: str
    first_day: date
    _: KW_ONLY
    last_day: date | None
    course: str
    tyre_sets: tuple[str, ...]
    decision: Decision


def read_header(source: PackSource) -> Header:
    """The head; what is missing or wrong is noted, and a stand-in taken so that reading can go on."""
    data = source.mapping()
    source.known_keys(SECTIONS, what="a pack")
    for key, cure in _NEEDED.items():
        if key not in data:
            source.problem(108, f"the pack has no `{key}`", hint=cure)
        elif (value := data[key]) is None or (isinstance(value, str) and not value.strip()):
            source.key_problem(108, f"nothing is written for `{key}`", key, hint=cure)
    first, last = read_in_force(source)
    source.currency = _currency(source)
    return Header(
        source.text("pack"),
        source.in_quotes("edition"),
        source.text("title"),
        first,
        last_day=last,
        course=source.word(COURSES, "course", default=COURSES[1]),
        tyre_sets=_tyre_sets(source),
        decision=_decision(source),
    )


_NEEDED = {
    "pack": "pack: a short name, which declarations give as their formula",
    "edition": 'edition: "2026.1"',
    "title": "title: what the rulebook is called",
    "in_force": "in_force: {from: 2026-03-01}",
    "clauses": "clauses: the rules by their numbers",
}


def read_in_force(source: PackSource) -> tuple[date, date | None]:
    """First and last day; a last day of None has no end."""
    given = source.mapping("in_force")
    source.known_keys(("from", "until"), "in_force", what="`in_force`")
    first, last = source.day("in_force", "from"), source.day("in_force", "until")
    if source.has("in_force") and given.get("from") is None:
        source.problem(108, "`in_force` needs `from`", "in_force", hint="in_force: {from: 2026-03-01}")
    if first and last and last < first:
        source.problem(601, "`until` is before `from`", "in_force", "until")
    return first or date.min, last


def _currency(source: PackSource) -> str | None:
    given = source.get("currency")
    if given is None:
        return None
    if not isinstance(given, str) or not re.fullmatch(r"[A-Z]{3}", given):
        source.problem(108, "`currency` is three capital letters", "currency", hint="currency: GBP")
        return None
    return given


def _tyre_sets(source: PackSource) -> tuple[str, ...]:
    """Names of the tyre sets that the formula runs; () where the pack leaves them to the entrant."""
    names = tuple(filter(None, source.texts("tyre_sets", hint="tyre_sets: [dry, wet]")))
    given = source.get("tyre_sets")
    empty = source.has("tyre_sets") and not given
    if empty or len({fold(name) for name in names}) < len(names):
        message = "`tyre_sets` is a list of names, each once"
        source.problem(108, message, "tyre_sets", hint="tyre_sets: [dry, wet]")
    return names


def _decision(source: PackSource) -> Decision:
    given = source.mapping("decision")
    source.known_keys(("official", "confidence"), "decision", what="`decision`")
    official = source.word(OFFICIAL_RULES, "decision", "official", default=AS_DISPLAYED)
    confidence = Fraction(95, 100)
    if "confidence" in given:
        try:
            value = quantity_value(source.written("decision", "confidence"), PERCENT, None)
        except LiteralError as error:
            source.problem(error.code_number, error.message, "decision", "confidence", hint=error.hint)
            return Decision(official)
        if not Fraction(1, 2) < value < 1:
            source.problem(503, "`confidence` lies above 50 % and below 100 %", "decision", "confidence")
        else:
            confidence = value
    return Decision(official, confidence)
