"""Clause numbers in the words of a rulebook that no clause has: a reader who follows them finds nothing."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from checker.pack.model import Clause, Pack, Penalty
from checker.reading.nearest import did_you_mean
from checker.reading.patterns import pattern
from checker.reading.problems import Path, Problem

_ONE = r"(?:[A-Z]{1,3}[.-]?)?\d+(?:\.\d+)*"
_DOTTED = r"(?:[A-Z]{1,3}[.-]?)?\d+(?:\.\d+)+"
_MORE = r"(?:(?:, | and | or | to |, and )\s*{one})*+"
_CALLED = pattern(
    rf"(?:\b(?:clause|rule|article|regulation|paragraph)s?|§§?)\s+({_ONE}{_MORE.format(one=_ONE)})(?!\w|\.\d)"
    r"(?! of (?!these|this))",
    re.IGNORECASE,
)
"""A number that the text calls a clause. "Rule 4 of the sporting code" is another book's."""
_SEEN = pattern(
    rf"\b(?:see|as in|as for|according to)\s+({_DOTTED}{_MORE.format(one=_DOTTED)})(?!\w|\.\d|\s*(?:%|[a-z]{{1,3}}\b))"
    r"(?! of (?!these|this))",
    re.IGNORECASE,
)
"""A number with a point behind "see" and the like, that no unit follows."""
_TEXTS = ("text", "interpretation", "act", "consequence", "penalty")


def numbers_without_clause(pack: Pack) -> Iterator[Problem]:
    """Numbers that a clause's words name as those of clauses, and that are none of the pack's (606)."""
    for clause in pack.clauses.values():
        for key in _TEXTS:
            yield from _in_text(pack, clause, key)


def _in_text(pack: Pack, clause: Clause, key: str) -> Iterator[Problem]:
    said = getattr(clause, key)
    text = "" if isinstance(said, Penalty) else said
    path: Path = ("clauses", clause.number, key)
    for start, named in named_in(text):
        if not is_there(named, pack.clauses):
            yield Problem(
                "PK606",
                f"there is no clause {named}",
                pack.document.span_within(path, start, start + len(named)),
                hint=did_you_mean(named, pack.clauses),
                clause=clause.number,
                warning=True,
            )


def named_in(text: str) -> Iterator[tuple[int, str]]:
    """Each number that a text calls a clause's, with its place."""
    found: dict[int, str] = {}
    for way in (_CALLED, _SEEN):
        for match in way.finditer(text):
            for one in re.finditer(_ONE, match[1]):
                found.setdefault(match.start(1) + one.start(), one[0])
    yield from sorted(found.items())


def is_there(named: str, numbers: Iterable[str]) -> bool:
    """Whether a clause has the number, or clauses stand below it: "7" where there is a "7.1"."""
    folded = named.casefold()
    return any(
        number.casefold() == folded or number.casefold().startswith(f"{folded}.") for number in numbers
    )
