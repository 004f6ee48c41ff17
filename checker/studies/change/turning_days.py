"""The days on which rules change by themselves: what nobody need decide any more, and everybody should know."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date, timedelta
from itertools import chain

from checker.kinds.contract.check import walk
from checker.kinds.frame.days import BindingDays
from checker.kinds.frame.framed import Framed
from checker.pack.editions.bulletins import read_bulletin
from checker.pack.editions.file_heads import head_of
from checker.pack.editions.finding import PackFolder
from checker.pack.editions.in_force import days_of_change
from checker.pack.editions.loading import read_pack_document
from checker.pack.keeping.kept import pack_on
from checker.pack.model import Clause, Pack
from checker.reading.problems import InputError
from checker.reading.quick_dataclasses import dataclass, replace
from checker.studies.change.days_in_formulas import DayFinder, last_looked_at


@dataclass(frozen=True, slots=True, order=True)
class TurningDay:
    """A day from which something is otherwise than on the day before."""

    day: date
    clause: str
    """The clause; "" for the pack as a whole."""
    words: str


def turning_days(folder: PackFolder, first: date, last: date) -> tuple[TurningDay, ...]:
    """Every such day from `first` to `last`, in order.

    Raises:
        InputError: A text in force within these days cannot be read.
    """
    found = set(_of_files(folder))
    for day, pack in _texts(folder, first, last):
        until = min(_last_of(folder, day), last)
        finder = DayFinder(pack, day, until)
        of_text = chain(*(of_clause(clause, finder) for clause in pack.clauses.values()), of_approvals(pack))
        found |= {one for one in of_text if day <= one.day <= until}
    return tuple(sorted(one for one in found if first <= one.day <= last))


def looked_until(folder: PackFolder, first: date, last: date) -> date:
    """The last day up to which dates in formulas and tables were looked for: `last`, or as far as is looked ahead.

    Raises:
        InputError: As `turning_days`.
    """
    days = [day for day, _ in _texts(folder, first, last)]
    ends = ((day, min(_last_of(folder, day), last)) for day in days)
    cut = [last_looked_at(day) for day, end in ends if last_looked_at(day) < end]
    return min(cut, default=last)


def _after(day: date) -> date:
    return min(day, date.max - timedelta(days=1)) + timedelta(days=1)


def _of_files(folder: PackFolder) -> Iterator[TurningDay]:
    """Editions and bulletins that begin and end."""
    for file in folder.editions:
        head = head_of(file)
        yield TurningDay(head.first, "", f"edition {head.edition} comes into force")
        if head.last is not None:
            yield TurningDay(_after(head.last), "", f"edition {head.edition} is no longer in force")
    for file in folder.bulletins:
        bulletin = read_bulletin(read_pack_document(file))
        clauses = ", ".join(dict.fromkeys(change.part for change in bulletin.changes))
        about = f"bulletin {bulletin.name} ({clauses})"
        yield TurningDay(bulletin.first_day, "", f"{about} comes into force")
        if bulletin.last_day is not None:
            yield TurningDay(_after(bulletin.last_day), "", f"{about} is no longer in force")


def _texts(folder: PackFolder, first: date, last: date) -> Iterator[tuple[date, Pack]]:
    """Each text that is in force on some of these days, with the first of them."""
    return texts_from(folder, [first, *(day for day in days_of_change(folder) if first < day <= last)])


def texts_from(folder: PackFolder, days: Iterable[date]) -> Iterator[tuple[date, Pack]]:
    """The text in force on each of these days; those that nothing covers are left out."""
    for day in days:
        try:
            yield day, pack_on(folder, day)
        except InputError as error:
            if any(problem.code != "PK620" for problem in error.problems):
                raise


def _last_of(folder: PackFolder, day: date) -> date:
    """The day on which the text of a day gives way to another."""
    return next((later for later in days_of_change(folder) if later > day), date.max)


def of_approvals(pack: Pack, number: str | None = None) -> Iterator[TurningDay]:
    """The days on which approvals begin and lapse: those of one clause, or all."""
    for approval in pack.approvals or ():
        if number is not None and number not in approval.clauses:
            continue
        clauses = ", ".join(approval.clauses)
        if approval.first_day is not None:
            yield TurningDay(approval.first_day, clauses, f"approval {approval.reference} begins")
        if approval.last_day is not None:
            yield TurningDay(_after(approval.last_day), clauses, f"approval {approval.reference} has lapsed")


def of_clause(clause: Clause, finder: DayFinder) -> Iterator[TurningDay]:
    """The days on which a clause turns, as its text has it."""
    name = clause.number
    if clause.since is not None:
        yield TurningDay(clause.since, name, f"{clause.title} begins to bind")
        yield from _stands_for(clause, clause.since, "stands in its place from this day")
    if clause.until is not None:
        yield TurningDay(_after(clause.until), name, f"{clause.title} no longer binds")
        yield from _stands_for(clause, _after(clause.until), "no longer stands in its place")
    for earlier in clause.earlier:
        if earlier.until is not None:
            who = f"cars from before {earlier.before.isoformat()}"
            words = f"{clause.title}: {who} lose their older rule and come under {clause.check.sentence()}"
            yield TurningDay(_after(earlier.until), name, words)
    for check in clause.checks:
        for part in walk(check):
            if isinstance(part, Framed) and part.days is not None:
                yield from _of_days(part, part.days, clause)
            yield from (TurningDay(day, name, f"{clause.title}: {words}") for day, words in finder.of(part))


def _stands_for(clause: Clause, day: date, words: str) -> Iterator[TurningDay]:
    for replaced in clause.instead_of:
        yield TurningDay(day, replaced, f"clause {clause.number} {clause.title} {words}")


def _of_days(check: Framed, days: BindingDays, clause: Clause) -> Iterator[TurningDay]:
    """The days on which a part of a clause begins and ends to bind."""
    rule = replace(check, days=None).sentence()
    if days.since is not None:
        yield TurningDay(days.since, clause.number, f"{clause.title}: {rule} begins to bind")
    if days.until is not None:
        yield TurningDay(_after(days.until), clause.number, f"{clause.title}: {rule} no longer binds")
