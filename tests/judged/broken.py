"""Packs that are wrong on purpose: each mistake is told where it stands, and nothing else is told.

What a line must report stands in its comment: the code, in backticks the text at whose first letter the report points,
and after `->` a word of its hint. `#2` means the second such text of the line, `+3` three columns further on.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from checker.pack.lint.everything import lint
from checker.reading.problems import Problem

BROKEN = Path(__file__).parent / "broken"

_MARK = re.compile(r"(PK\d{3}) `([^`]+)`(?:#(\d))?(?:\+(\d+))?(?: -> ([^|\n]+))?")
_MARKS = re.compile(rf"\s# ({_MARK.pattern}( \| {_MARK.pattern})*)$", re.MULTILINE)


@dataclass(frozen=True, slots=True)
class Expected:
    """One report that a file must give."""

    code: str
    line: int
    column: int
    hint: str


def expected(text: str) -> Iterator[Expected]:
    """What the comments of a file say."""
    for number, line in enumerate(text.splitlines(), 1):
        found = _MARKS.search(line)
        if found is None:
            continue
        body = line[: found.start()]
        for code, token, nth, further, hint in _MARK.findall(found[1]):
            at = -1
            for _ in range(int(nth or 1)):
                at = body.index(token, at + 1)
            yield Expected(code, number, at + 1 + int(further or 0), hint.strip())


def reported(file: Path) -> tuple[Problem, ...]:
    """Everything that lint says of a pack; that it has no cases does not matter here."""
    return tuple(problem for problem in lint(file) if problem.code != "PK704")


def differences(file: Path) -> list[str]:
    """In words, where a file does not report just what its comments say."""
    wanted = list(expected(file.read_text(encoding="utf-8")))
    found: list[str] = []
    rest = list(reported(file))
    for one in wanted:
        there = [p for p in rest if p.span and (p.span.line, p.code) == (one.line, one.code)]
        exact = [p for p in there if p.span and p.span.column == one.column]
        if not exact:
            places = ", ".join(f"column {p.span.column}" for p in there if p.span) or "nothing of that code"
            found.append(f"{one.line}:{one.column} {one.code} wanted; {places} reported")
        elif one.hint not in exact[0].hint:
            found.append(f"{one.line}:{one.column} {one.code} hints {exact[0].hint!r}, not {one.hint!r}")
        for problem in (exact or there)[:1]:
            rest.remove(problem)
    return found + [f"{p.span}: {p.code} {p.message} ({p.hint}) not wanted" for p in rest]
