"""Everything that can be said against a pack before a car is seen.

Reading a pack finds what cannot be used. What is said here besides are warnings: names that nothing uses, clauses
that no car or every car meets, clauses without cases. None of it is on the way of judging a car.
"""

from __future__ import annotations

import os
from collections.abc import Iterable, Iterator
from contextlib import suppress
from datetime import date
from pathlib import Path

from checker.pack.editions.approvals import read_register
from checker.pack.editions.bulletins import Bulletin, read_bulletin, refuse_stranger
from checker.pack.editions.consolidation import consolidate
from checker.pack.editions.file_heads import head_of
from checker.pack.editions.finding import PackFolder, UnusableFolderError, open_folder
from checker.pack.editions.folder_files import EDITION, word_of
from checker.pack.editions.in_force import choose, days_of_change, refuse_namesakes
from checker.pack.editions.loading import build_pack, clauses_of, read_pack_document
from checker.pack.lint.cases import without_cases
from checker.pack.lint.checks import always_or_never, contradictions
from checker.pack.lint.companions import missed_below, procedures_at_odds, stale_schemas
from checker.pack.lint.interpretations import astray
from checker.pack.lint.left_in_texts import contradicting_texts
from checker.pack.lint.numbers import numbers_without_clause
from checker.pack.lint.order import picked_by_place, unsorted
from checker.pack.lint.tables import unreachable_rows
from checker.pack.lint.texts import text_contradictions
from checker.pack.lint.unused import unused, used_by
from checker.pack.model import Pack
from checker.quantities.days import parse_day
from checker.reading.document import Document
from checker.reading.problems import InputError, Problem
from checker.reading.quick_dataclasses import replace


def lint(place: str | os.PathLike[str]) -> tuple[Problem, ...]:
    """Every mistake and every warning about a pack.

    Args:
        place: A pack's folder, or a file of one. Of an edition's file only the edition is looked at, of any other file
            its whole folder.

    Returns:
        In the order of files, lines and columns; () for a clean pack.

    Raises:
        InputError: There is no pack there.
    """
    path = Path(place)
    try:
        if path.is_file() and word_of(str(place)) == EDITION:
            found = _of_one_edition(str(place))
        else:
            found = _folder(open_folder(path.parent if path.is_file() else place))
    except InputError as error:
        if isinstance(error, UnusableFolderError) and error.formulas is None:
            raise
        found = list(error.problems)
    return in_order(found)


def in_order(found: Iterable[Problem]) -> tuple[Problem, ...]:
    """Each problem once, in the order of files, lines and columns."""
    return tuple(sorted(dict.fromkeys(found), key=_position))


def _of_one_edition(file: str) -> list[Problem]:
    """What is wrong with an edition, and with files beside it that may be its bulletins."""
    try:
        folder = open_folder(file)
    except InputError as error:
        wrong = _edition(file, PackFolder("", file, (file,)))[1]  # what is never used cannot be told
        return [*error.problems, *(problem for problem in wrong if not problem.warning)]
    return _edition(file, folder)[1]


def _position(problem: Problem) -> tuple[str, int, int, str]:
    span = problem.span
    return ("", 0, 0, problem.code) if span is None else (span.file, span.line, span.column, problem.code)


def _folder(folder: PackFolder) -> list[Problem]:
    """All editions, and the text on every day on which a bulletin changes it."""
    found: list[Problem] = []
    packs: dict[str, Pack] = {}
    for file in folder.editions:
        pack, problems = _edition(file, folder)
        found += problems
        if pack is not None:
            packs[pack.edition] = pack
    if not found or all(problem.warning for problem in found):
        found += _through_time(folder, packs)
        found += stale_schemas(Path(folder.editions[0]).parent, packs.values())
        found += procedures_at_odds(folder, packs.values())
        found += missed_below(folder, packs.values())
    return found


def _edition(file: str, folder: PackFolder) -> tuple[Pack | None, list[Problem]]:
    try:
        pack = build_pack(read_pack_document(file))
    except InputError as error:
        return None, list(error.problems)
    later = _later_uses(folder)
    return pack, [
        *pack.warnings,
        *unused(pack, later),
        *always_or_never(pack),
        *contradictions(pack),
        *unreachable_rows(pack),
        *unsorted(pack),
        *picked_by_place(pack),
        *text_contradictions(pack),
        *numbers_without_clause(pack),
        *without_cases(pack, later),
    ]


# --- bulletins and the register ------------------------------------------------------------------------------


def _through_time(folder: PackFolder, packs: dict[str, Pack]) -> list[Problem]:
    """What goes wrong when bulletins are laid over their editions, and in the register."""
    try:
        register = read_pack_document(folder.approvals) if folder.approvals else None
    except InputError as error:
        return list(error.problems)
    found: list[Problem] = []
    bulletins: list[Bulletin] = []
    too_early: list[Problem] = []
    for file in folder.bulletins:
        try:
            bulletin = read_bulletin(read_pack_document(file))
            _fits(bulletin, folder, packs)
            bulletins.append(bulletin)
            too_early += _before_its_edition(bulletin, packs)
        except InputError as error:
            found += error.problems
    if not found:
        found += _on_the_days_of_change(folder, packs, bulletins, register)
        found += astray(folder)
    return [*found, *too_early]


def _before_its_edition(bulletin: Bulletin, packs: dict[str, Pack]) -> Iterator[Problem]:
    """A bulletin that is to speak before what it amends does (638)."""
    edition = packs[bulletin.edition]
    if bulletin.first_day < edition.first_day:
        first, its = bulletin.first_day.isoformat(), edition.first_day.isoformat()
        message = (
            f"bulletin {bulletin.name} is in force from {first}, edition {edition.edition} only from {its}"
        )
        span = bulletin.document.span(("in_force", "from"))
        yield Problem("PK638", message, span, hint="check both days", warning=True)


def _on_the_days_of_change(
    folder: PackFolder, packs: dict[str, Pack], bulletins: list[Bulletin], register: Document | None
) -> list[Problem]:
    found: list[Problem] = []
    heads = [head_of(file) for file in folder.editions]
    for day in sorted({*days_of_change(folder), *_first_days(register)}):
        if not any(head.covers(day) for head in heads):
            continue
        try:
            base = packs[choose(heads, day).edition]
            speaking = [b for b in bulletins if b.edition == base.edition and _covers(b, day)]
            refuse_namesakes(speaking)
            pack = _amended(base, speaking)
            found += [*contradicting_texts(pack), *numbers_without_clause(pack)]
            if register is not None:
                read_register(register, pack, day)
        except InputError as error:
            found += error.problems
    return found


def _first_days(register: Document | None) -> Iterator[date]:
    """The days from which approvals speak, as far as they can be read."""
    entries = register.get(("approvals",)) if register is not None else None
    for entry in entries if isinstance(entries, list) else ():
        given = entry.get("from") if isinstance(entry, dict) else None
        if isinstance(given, str):
            with suppress(ValueError):  # told when the register is read
                yield parse_day(given)


def _fits(bulletin: Bulletin, folder: PackFolder, packs: dict[str, Pack]) -> None:
    """Refuse a bulletin that amends what is not there, or what has ended when it comes into force."""
    own = next((edition for edition, pack in packs.items() if _covers(pack, bulletin.first_day)), "")
    try:
        refuse_stranger(
            bulletin, folder.name, {edition: pack.last_day for edition, pack in packs.items()}, own
        )
    except InputError as error:
        if own:
            raise
        raise InputError([replace(p, hint="check both days") for p in error.problems]) from None


def _covers(text: Pack | Bulletin, day: date) -> bool:
    return text.first_day <= day and (text.last_day is None or day <= text.last_day)


def _amended(base: Pack, bulletins: list[Bulletin]) -> Pack:
    """The pack with its bulletins; clauses that they do not bear on are not compiled again."""
    if not bulletins:
        return base
    consolidated = consolidate(base.document, bulletins)
    document = consolidated.document
    touched: set[str] = set()
    names: set[str] = set()
    for origin in consolidated.origins:
        section, part = str(origin.path[0]), str(origin.path[1]) if len(origin.path) > 1 else ""
        if section == "clauses":
            touched.add(part)
        elif section in ("facts", "derived", "tables"):
            names.add(part)
        else:
            return replace(build_pack(document), origins=consolidated.origins)
    touched |= {
        number
        for number, clause in base.clauses.items()
        if not (names.isdisjoint(used_by(clause)) and touched.isdisjoint(clause.instead_of))
    }
    clauses = clauses_of(base, document, [n for n in touched if document.has(("clauses", n))])
    kept = {n: clause for n, clause in base.clauses.items() if document.has(("clauses", n))}
    return replace(base, document=document, clauses={**kept, **clauses}, origins=consolidated.origins)


def _later_uses(folder: PackFolder) -> list[str]:
    """The text of bulletins and of the register, where a name may be used that no clause uses yet."""
    files = [*folder.bulletins, *([folder.approvals] if folder.approvals else [])]
    return [Path(file).read_text(encoding="utf-8", errors="replace") for file in files]
