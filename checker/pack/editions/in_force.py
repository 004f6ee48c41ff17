"""What is in force on a day: which edition, which bulletins over it, and why.

Only the files that speak on that day are read in full, so that a verdict on a day depends on nothing else.
"""

from __future__ import annotations

import os
from collections.abc import Iterator, Mapping, Sequence
from contextlib import suppress
from datetime import date, timedelta

from checker.pack.editions.beside import read_beside
from checker.pack.editions.bulletins import Bulletin, amends, read_bulletin, refuse_stranger
from checker.pack.editions.consolidation import Consolidated, consolidate, in_order
from checker.pack.editions.file_heads import Head, head_in, head_of
from checker.pack.editions.finding import PackFolder
from checker.pack.editions.loading import build_pack, load_edition, read_pack_document
from checker.pack.model import Pack
from checker.reading.document import Document
from checker.reading.problems import InputError, Problem
from checker.reading.quick_dataclasses import dataclass, replace


@dataclass(frozen=True, slots=True)
class InForce:
    """The text that speaks on a day."""

    edition: Document
    bulletins: tuple[Bulletin, ...]
    """In the order in which they are carried out."""
    consolidated: Consolidated
    because: str


def load_pack(folder: PackFolder, on: date) -> Pack:
    """The pack as in force on a day.

    Raises:
        InputError: No edition is in force on that day, or two are (620); a bulletin in force cannot be laid over it
            (630 to 637); the register or the interpretations cannot be used (601, 602, 641 to 643); or something cannot
            be read.
    """
    text, beside = text_in_force(folder, on), read_beside(folder)
    return beside.laid_over(pack_of(text, beside.documents), on)


def as_it_stands(folder: PackFolder, on: date) -> Pack:
    """One edition without the bulletins that amend it, which its `because` names; with the register, if there is one.

    Args:
        folder: Of one edition.
        on: The day that the register is read for.

    Raises:
        InputError: As `load_pack`, apart from bulletins and days.
    """
    (file,) = folder.editions
    pack = load_edition(file)
    bulletins = [read_pack_document(bulletin) for bulletin in folder.bulletins]
    told = ", ".join(_told(bulletin) for bulletin in bulletins if amends(bulletin, pack.name, pack.edition))
    if told:
        pack = replace(pack, because=f"edition {pack.edition} as it stands, without bulletins: {told}")
    return read_beside(folder).laid_over(pack, on)


def text_in_force(folder: PackFolder, on: date) -> InForce:
    """The edition of a day with its bulletins laid over it, not yet compiled.

    Raises:
        InputError: As `load_pack`.
    """
    head = choose([head_of(file) for file in folder.editions], on)
    edition = read_pack_document(head.file)
    bulletins, left_aside = _bulletins(folder, on, edition)
    days = f"{on.isoformat()} lies within {head_in(edition, head.file).days}"
    return InForce(edition, bulletins, consolidate(edition, bulletins), _because(days, bulletins, left_aside))


def pack_of(text: InForce, others: Sequence[Document] = ()) -> Pack:
    """The compiled pack of a text.

    Args:
        text: The text in force.
        others: Files beside it that bear on verdicts, for the digest.

    Raises:
        InputError: With every mistake found in it (codes PKxxx).
    """
    origins = text.consolidated.origins
    files = [*(bulletin.document for bulletin in text.bulletins), *others]
    pack = build_pack(text.consolidated.document, files)
    by_clause: dict[str, dict[str, None]] = {}
    for origin in origins:
        if origin.path[0] == "clauses":
            by_clause.setdefault(str(origin.path[1]), {})[origin.bulletin] = None
    clauses = {
        number: replace(clause, bulletins=tuple(by_clause[number])) if number in by_clause else clause
        for number, clause in pack.clauses.items()
    }
    names = tuple(bulletin.name for bulletin in text.bulletins)
    return replace(pack, clauses=clauses, bulletins=names, origins=origins, because=text.because)


def choose(heads: Sequence[Head], on: date) -> Head:
    """The edition that covers a day.

    Raises:
        InputError: None does, or two do (620), with the days that each covers.
    """
    covering = [head for head in heads if head.covers(on)]
    if len(covering) == 1:
        return covering[0]
    told = "; ".join(f"edition {head.edition or '?'} covers {head.days}" for head in heads)
    many = (
        "no edition is in force"
        if not covering
        else f"{_NUMBERS.get(len(covering), 'several')} editions are in force"
    )
    span = read_pack_document((covering or heads)[-1].file).span(("in_force",))
    hint = "ask for another day with --on" if not covering else "end the earlier edition with `until`"
    raise InputError([Problem("PK620", f"{many} on {on.isoformat()}: {told}", span, hint=hint)])


_NUMBERS: Mapping[int, str] = {2: "two", 3: "three"}


def _bulletins(
    folder: PackFolder, on: date, edition: Document
) -> tuple[tuple[Bulletin, ...], tuple[str, ...]]:
    """The bulletins of the folder that speak on the day for this edition, and in words those left aside."""
    own = str(edition.get(("edition",), ""))
    pack = str(edition.get(("pack",), ""))
    heads = [head_of(file) for file in (*folder.editions, *folder.siblings)]
    editions: dict[str, date | None] = {head.edition: head.last for head in heads}
    found: list[Bulletin] = []
    left_aside: list[str] = []
    problems: list[Problem] = []
    for file in folder.bulletins:
        try:
            if not head_of(file).covers(on):
                continue
            document = read_pack_document(file)
            if folder.alone and not amends(document, pack, own):
                left_aside.append(_left_aside(document))
                continue
            bulletin = read_bulletin(document)
            if refuse_stranger(bulletin, pack, editions, own):
                continue
        except InputError as error:
            problems.extend(error.problems)
            continue
        found.append(bulletin)
    if problems:
        raise InputError(problems)
    refuse_namesakes(found)
    left_aside += _below(folder, on, pack, own)
    return tuple(in_order(found)), tuple(left_aside)


def _below(folder: PackFolder, on: date, pack: str, edition: str) -> Iterator[str]:
    """Bulletins for this edition that would speak on the day if they did not lie in a folder below."""
    for file in folder.below:
        with suppress(InputError):  # what is wrong there is nobody's rule
            if head_of(file).covers(on) and amends(document := read_pack_document(file), pack, edition):
                where = os.path.relpath(file, folder.place)
                yield f"{document.get(('bulletin',))} ({where}), which lies in a folder below that is not searched"


def _left_aside(bulletin: Document) -> str:
    pack, edition = bulletin.get(("amends", "pack")), bulletin.get(("amends", "edition"))
    return f"{_told(bulletin)}, which amends edition {edition} of '{pack}'"


def _told(bulletin: Document) -> str:
    return f"{bulletin.get(('bulletin',))} ({os.path.basename(bulletin.name)})"


def refuse_namesakes(bulletins: Sequence[Bulletin]) -> None:
    """Bulletins that speak on one day have names of their own.

    Raises:
        InputError: Two are called the same (637).
    """
    names: dict[str, Bulletin] = {}
    problems: list[Problem] = []
    for bulletin in bulletins:
        same = names.setdefault(bulletin.name, bulletin)
        if same is not bulletin:
            related = (("the other", same.document.span(("bulletin",))),)
            span = bulletin.document.span(("bulletin",))
            message = f"two bulletins are called {bulletin.name}"
            problems.append(Problem("PK637", message, span, related=related))
    if problems:
        raise InputError(problems)


def _because(days: str, bulletins: Sequence[Bulletin], left_aside: Sequence[str]) -> str:
    told = [
        f"{b.name} from {b.first_day.isoformat()}" + (f" to {b.last_day.isoformat()}" if b.last_day else "")
        for b in bulletins
    ]
    parts = [days]
    for word, listed in (("with", told), ("without", left_aside)):
        if listed:
            parts.append(f"{word} bulletin{'s' if len(listed) > 1 else ''} {', '.join(listed)}")
    return "; ".join(parts)


def days_of_change(folder: PackFolder) -> Iterator[date]:
    """Every day on which the text in force may differ from that of the day before, in order.

    The day after a last day is one of them: on it an edition or a bulletin no longer speaks.

    Raises:
        InputError: The head of a file cannot be read.
    """
    days: set[date] = set()
    for file in (*folder.editions, *folder.bulletins):
        head = head_of(file)
        days.add(head.first)
        if head.last is not None and head.last < date.max:
            days.add(head.last + timedelta(days=1))
    yield from sorted(days)
