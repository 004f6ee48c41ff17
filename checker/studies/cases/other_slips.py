"""Slips beside the text of the rules: the days of bulletins, and what the register of approvals says.

No edit of a pack's text makes these; the cases are asked again by the text of the day before or after, or with the
register read otherwise.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date, timedelta

from checker.pack.editions.approvals import read_register
from checker.pack.editions.edition import Edition
from checker.pack.editions.file_heads import head_of
from checker.pack.editions.loading import read_pack_document
from checker.pack.model import Pack
from checker.quantities.days import parse_day
from checker.quantities.folding import fold
from checker.reading.document import REMOVE, Document, Edit, Plain
from checker.reading.edits import Remove
from checker.reading.problems import InputError, Path, Span
from checker.reading.quick_dataclasses import replace
from checker.studies.cases.misprints import misprints, moved, moved_number
from checker.studies.cases.noticing import CaseAsked, is_noticed, questions
from checker.studies.cases.running import Run

Tried = tuple[str, Span, bool]
"""What was changed, where, and whether a case notices."""

_ONE = timedelta(days=1)


def other_slips(edition: Edition, runs: Sequence[Run]) -> Iterator[Tried]:
    """Every slip in the days of bulletins and in approvals of an edition, each with whether a judged case notices."""
    sound = [run for run in runs if run.came_out and run.pack is not None and run.car is not None]
    yield from _of_bulletins(edition, sound)
    if edition.beside.register is not None:
        yield from _of_approvals(edition, edition.beside.register, sound)


# --- days of bulletins ---------------------------------------------------------------------------------------


def _of_bulletins(edition: Edition, runs: Sequence[Run]) -> Iterator[Tried]:
    """A bulletin that begins or ends a day later or earlier: seen on the one day that is judged otherwise."""
    for file in edition.folder.bulletins:
        head = head_of(file)
        if not edition.head.covers(head.first) or head.bulletin not in edition.pack_on(head.first).bulletins:
            continue
        document = read_pack_document(file)
        edges = [("from", head.first)] + ([("until", head.last + _ONE)] if head.last is not None else [])
        for key, first in edges:
            written = first if key == "from" else first - _ONE
            for on, like, by in ((first, first - _ONE, 1), (first - _ONE, first, -1)):
                if edition.head.covers(on) and edition.head.covers(like):
                    slipped = written + by * _ONE
                    words = f"{head.bulletin} {key}: {written.isoformat()} as {slipped.isoformat()}"
                    seen = is_noticed(
                        CaseAsked(question, _as_on(edition, run, like))
                        for run in runs
                        if run.case.on == on
                        for question in questions(run)
                    )
                    yield words, document.span(("in_force", key)), seen


def _as_on(edition: Edition, run: Run, day: date) -> Pack:
    """The text of another day, with the approvals of the case's own."""
    pack = edition.pack_on(day)
    return pack if run.pack is None else replace(pack, approvals=run.pack.approvals)


# --- approvals -----------------------------------------------------------------------------------------------


def _of_approvals(edition: Edition, register: Document, runs: Sequence[Run]) -> Iterator[Tried]:
    """An approval's days moved, its cars, guard or a clause forgotten, an amount that it changes moved."""
    first = edition.pack_on(edition.head.first)
    for place, approval in enumerate(first.approvals or ()):
        ended = approval.last_day is not None and approval.last_day < edition.head.first
        begins = edition.head.last is not None and (approval.first_day or date.min) > edition.head.last
        if ended or begins or not any(number in first.clauses for number in approval.clauses):
            continue
        citing = [
            run
            for run in runs
            if run.car is not None and fold(approval.reference) in map(fold, run.car.approvals)
        ]
        for words, path, value in _slips(register, ("approvals", place), first.vocabulary.currency, edition):
            seen = _seen(register.edited([Edit(path, value)], "PK799"), citing)
            if seen is not None:
                yield f"{approval.reference} {words}", register.span(path), seen


def _seen(register: Document, citing: Sequence[Run]) -> bool | None:
    """Whether a case notices that the register is another; None where reading it finds the slip."""
    try:
        return is_noticed(
            CaseAsked(question, pack)
            for run in citing
            if run.pack is not None
            for pack in [replace(run.pack, approvals=read_register(register, run.pack, run.case.on))]
            for question in questions(run)
        )
    except InputError:
        return None


def _slips(
    register: Document, path: Path, currency: str | None, edition: Edition
) -> Iterator[tuple[str, Path, Plain | Remove]]:
    given = register.get(path)
    for key, written in given.items() if isinstance(given, dict) else ():
        here: Path = (*path, key)
        if key in ("from", "until"):
            for day in moved(str(written)):
                days = sorted((parse_day(str(written)), parse_day(day)))
                judged_otherwise = days[0] if key == "from" else days[1]
                if edition.head.covers(judged_otherwise):
                    yield f"{key}: {written} as {day}", here, day
        elif key in ("cars", "when"):
            yield f"without {key}", here, REMOVE
        elif key == "clauses" and isinstance(written, list) and len(written) > 1:
            yield from ((f"without clause {one}", (*here, at), REMOVE) for at, one in enumerate(written))
        elif key == "changes" and isinstance(written, list):
            for at, change in enumerate(written):
                read: Path = (*here, at, "read")
                value = change.get("read") if isinstance(change, dict) else None
                for words, other in _moved(register, read, value, currency):
                    yield f"read: {words}", read, other


def _moved(register: Document, path: Path, value: Plain, currency: str | None) -> Iterator[tuple[str, Plain]]:
    if isinstance(value, str):
        yield from ((found.words, found.text) for found in misprints(value, currency))
    elif isinstance(value, int) and not isinstance(value, bool):
        yield from ((f"{value} as {other}", other) for other in moved_number(value, register.written(path)))
