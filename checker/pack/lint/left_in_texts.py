"""Texts that still say what a bulletin took out of their rules.

A number that a bulletin changes may well stand in the rules for another reason, as in an `earlier` check for older
cars; so it is not missing there, and only the change tells that the text was left behind.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction

from checker.pack.lint.amounts import NUMBERS, WrittenAmount, amounts_in
from checker.pack.lint.texts import HINT, names_behind, text_contradictions, texts_in
from checker.pack.model import Clause, Origin, Pack
from checker.reading.patterns import pattern
from checker.reading.problems import Path, Problem

_PLAIN = pattern(rf"(?<![\w.,/-])(\d+(?:\.\d+)?|{'|'.join(NUMBERS)})(?![\w/]|\.\d)", re.IGNORECASE)
_JUDGED = ("check", "earlier", "penalty")


def contradicting_texts(pack: Pack) -> list[Problem]:
    """Whatever the texts of clauses in force say otherwise than their checks, each place told once (509)."""
    said = [*text_contradictions(pack)]
    places = {problem.span for problem in said}
    return [*said, *(one for one in left_in_texts(pack) if one.span not in places)]


def contradictions_by_clause(pack: Pack) -> dict[str, tuple[str, ...]]:
    """The same in words, by the clause's number."""
    found: dict[str, tuple[str, ...]] = {}
    for one in contradicting_texts(pack):
        found[one.clause] = (*found.get(one.clause, ()), one.message)
    return found


def left_in_texts(pack: Pack) -> Iterator[Problem]:
    """Amounts that a bulletin in force changed and a clause's text still says (509)."""
    for place, origin in enumerate(pack.origins):
        since = [one for at, one in enumerate(pack.origins) if at > place or one.bulletin == origin.bulletin]
        for number, clause in pack.clauses.items():
            written_anew = any(_rewrites(one, number) for one in since)
            if origin.verb == "changed" and not written_anew and _bears_on(origin, clause):
                yield from _left(clause, origin, pack)


def _rewrites(origin: Origin, number: str) -> bool:
    """Whether a change makes a clause's text anew."""
    return origin.path[:2] == ("clauses", number) and (len(origin.path) == 2 or origin.path[2] == "text")


def _bears_on(origin: Origin, clause: Clause) -> bool:
    """Whether a clause is judged by what was changed."""
    section, part = str(origin.path[0]), str(origin.path[1]) if len(origin.path) > 1 else ""
    if section == "clauses":
        return part == clause.number and len(origin.path) > 2 and origin.path[2] in _JUDGED
    return part in names_behind(clause)


def _left(clause: Clause, origin: Origin, pack: Pack) -> Iterator[Problem]:
    """What one change took away that the text says, where the text does not say what it brought."""
    currency = pack.vocabulary.currency
    was, now = origin.was, pack.document.get(origin.path)
    said = list(amounts_in(clause.text, currency))
    old, new = (_amounts(value, currency) for value in (was, now))
    says = {(*amount.measure, amount.value) for amount in said}
    if old and says.isdisjoint(new - old):
        for amount in said:
            if (*amount.measure, amount.value) in old - new:
                yield _problem(clause, origin, pack, amount.start, amount.end)
    elif not old and isinstance(was, (int, Fraction)) and isinstance(now, (int, Fraction)):
        numbers = [(_number(found[1]), found) for found in _PLAIN.finditer(clause.text)]
        plain = [(n, f) for n, f in numbers if not any(a.start <= f.start() < a.end for a in said)]
        if now not in [number for number, _ in plain]:
            for number, found in plain:
                if number == was:
                    yield _problem(clause, origin, pack, *found.span())


def _amounts(value: object, currency: str | None) -> set[tuple[object, ...]]:
    found: list[WrittenAmount] = [
        amount for text in texts_in(value) for amount in amounts_in(text, currency, formula=True)
    ]
    return {(*amount.measure, amount.value) for amount in found}


def _number(written: str) -> Fraction:
    return Fraction(NUMBERS.get(written.lower(), written))


def _problem(clause: Clause, origin: Origin, pack: Pack, start: int, end: int) -> Problem:
    path: Path = ("clauses", clause.number, "text")
    message = f"the text still says {clause.text[start:end]}, which bulletin {origin.bulletin} changed"
    return Problem(
        "PK509",
        message,
        pack.document.span_within(path, start, end),
        hint=HINT,
        clause=clause.number,
        related=() if origin.span is None else ((f"bulletin {origin.bulletin}", origin.span),),
        warning=True,
    )
