"""Answers to members' questions: how a clause is to be read, who decided it, and until which bulletin that holds.

They are kept in a file beside the pack. An answer changes no verdict, it is shown wherever its clause is; a bulletin
that writes it into the rules ends it, and so does the end of its edition.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date

from checker.pack.model import Interpretation, Pack
from checker.pack.reading.source import PackSource
from checker.quantities.folding import fold
from checker.reading.document import Document
from checker.reading.nearest import did_you_mean
from checker.reading.problems import Path
from checker.reading.quick_dataclasses import replace

KEYS = ("number", "clauses", "question", "asked", "answer", "decided", "by", "settled_by", "cases")
_ANSWERED = ("answer", "decided", "by")
_EXAMPLE = 'number: I-2026-01, clauses: ["3.6"], asked: 2026-03-12, question: what is not clear'


def read_interpretations(document: Document, bulletins: Mapping[str, date]) -> tuple[Interpretation, ...]:
    """The questions and answers of a file, in the order written.

    Args:
        document: The file.
        bulletins: The first days of the pack's bulletins, by their names.

    Raises:
        InputError: With every mistake: 101, 102, 106, 108; 601 an answer before its question, or a bulletin that
            settles it before it was given; 642 a number given twice; 643 a bulletin that there is not.
    """
    source = PackSource(document)
    source.known_keys(("interpretations",), what="a file of interpretations")
    listed = source.listed("interpretations", needed=True, hint=f"interpretations: [{{{_EXAMPLE}}}]")
    found: list[Interpretation] = []
    first: dict[str, int] = {}
    for place in range(len(listed)):
        one = _read(source, ("interpretations", place), bulletins)
        if one is None:
            continue
        same = first.setdefault(fold(one.number), place)
        if same != place:
            related = (("the first", document.span(("interpretations", same, "number"))),)
            message = f"interpretation {one.number} stands twice"
            source.problem(642, message, "interpretations", place, "number", related=related)
        found.append(one)
    source.problems.raise_if_any()
    return tuple(found)


def _read(source: PackSource, path: Path, bulletins: Mapping[str, date]) -> Interpretation | None:
    given = source.mapping(*path, needed=True)
    before = len(source.problems.found)
    source.known_keys(KEYS, *path, what="an interpretation")
    answered = [key for key in _ANSWERED if key in given]
    needed = ("number", "clauses", "question", "asked", *(_ANSWERED if answered else ()))
    missing = [key for key in needed if key not in given]
    if missing and given:
        what = "an answer" if answered and missing[0] in _ANSWERED else "an interpretation"
        hint = "say who decided by an office, no person" if missing[0] == "by" else _EXAMPLE
        source.problem(108, f"{what} has no `{missing[0]}`", *path, hint=hint)
    number, clauses = source.in_quotes(*path, "number"), _clauses(source, (*path, "clauses"))
    texts = {key: source.text(*path, key, needed=key in given) for key in ("question", "answer", "by")}
    asked, decided = source.day(*path, "asked"), source.day(*path, "decided")
    if asked is not None and decided is not None and decided < asked:
        source.problem(601, "this was decided before it was asked", *path, "decided", hint="check both days")
    settled_by = source.in_quotes(*path, "settled_by")
    one = Interpretation(
        number,
        clauses,
        texts["question"],
        asked or date.min,
        answer=texts["answer"],
        decided=decided,
        by=texts["by"],
        settled_by=settled_by,
        ends=_end(source, path, settled_by, decided or asked, bulletins),
        span=source.document.span((*path, "number")),
    )
    return one if given and len(source.problems.found) == before else None


def _clauses(source: PackSource, path: Path) -> tuple[str, ...]:
    read = [source.in_quotes(*one) for one in source.one_or_several(*path)]
    if source.has(*path) and not any(read):
        source.problem(108, "`clauses` names the clauses that it is about", *path, hint='clauses: ["3.6"]')
    return tuple(filter(None, read))


def _end(
    source: PackSource, path: Path, name: str, begun: date | None, bulletins: Mapping[str, date]
) -> date | None:
    """The first day of the bulletin that settles it."""
    if not name:
        return None
    ends = next((day for bulletin, day in bulletins.items() if fold(bulletin) == fold(name)), None)
    if ends is None:
        hint = did_you_mean(name, bulletins) or "bulletins here: " + (", ".join(bulletins) or "none")
        source.problem(643, f"there is no bulletin {name}", *path, "settled_by", hint=hint)
    elif begun is not None and ends < begun:
        message = f"bulletin {name} was in force on {ends.isoformat()} already, before this was given"
        source.problem(601, message, *path, "settled_by", hint="check the days")
    return ends


def with_interpretations(pack: Pack, listed: Iterable[Interpretation], on: date) -> Pack:
    """The pack with those under its clauses that stand on a day and were given under this edition."""
    mine = [one for one in listed if belongs(one, pack.first_day, pack.last_day)]
    standing = [now for one in mine if (now := one.on(on)) is not None]
    clauses = dict(pack.clauses)
    for one in standing:
        for number in one.clauses:
            if number in clauses:  # a bulletin may have withdrawn it since
                clause = clauses[number]
                clauses[number] = replace(clause, interpretations=(*clause.interpretations, one))
    return replace(pack, clauses=clauses)


def belongs(one: Interpretation, first: date, last: date | None) -> bool:
    """Whether it was given under an edition with these days."""
    return first <= one.first_day and (last is None or one.first_day <= last)
