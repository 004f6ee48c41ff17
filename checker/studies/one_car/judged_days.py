"""One car on one day after another, with no more read and judged than may be otherwise than on the days before.

A declaration is read once for all days that read it alike; a clause that rests on no day, by rules that certainly judge
it alike, comes out as it did; of the others floats that know their own error are asked first, and the exact engine for
what they leave open. Who needs more of a clause than its outcome has it judged by the engine.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Collection, Iterator, Mapping
from datetime import date
from functools import cached_property

from checker.car.car import Car
from checker.car.declaration.another_day import on_later_day
from checker.car.declaration.loading import load_car
from checker.car.described.stated import DAY_JUDGED
from checker.kinds.judging.assessment import Verdict
from checker.pack.editions.finding import PackFolder
from checker.pack.editions.in_force import days_of_change
from checker.pack.keeping.kept import pack_on
from checker.pack.model import ADVISORY, Approval, Clause, Pack
from checker.reading.document import Document
from checker.studies.change.relevance import alike_unless_approved, same_vocabulary
from checker.verdict.clause_by_clause import ClauseByClause
from checker.verdict.inspection import Inspection, Outcome, comes_to, inspect_car, with_those_before
from checker.verdict.run import dated


class RulesByDay:
    """The pack in force on any day, read once for each stretch of days in which nothing changes."""

    def __init__(self, folder: PackFolder) -> None:
        self._folder = folder
        self._changes = list(days_of_change(folder))
        self._approvals: tuple[Approval, ...] | None = None
        self._kept: dict[tuple[int, frozenset[str]], Pack] = {}

    def on(self, day: date) -> Pack:
        """The pack in force on a day.

        Raises:
            InputError: None is, or it cannot be read.
        """
        if self._approvals is None:
            self._approvals = pack_on(self._folder, day).approvals or ()
        granted = frozenset(a.reference for a in self._approvals if a.covers(day))
        stretch = (bisect_right(self._changes, day), granted)
        if stretch not in self._kept:
            self._kept[stretch] = pack_on(self._folder, day)
        return self._kept[stretch]


class JudgedDay:
    """The car on one day, judged as far as anybody asks."""

    def __init__(
        self,
        pack: Pack,
        car: Car,
        on: date,
        audience: str,
        like: tuple[JudgedDay, frozenset[str]] | None = None,
    ) -> None:
        """
        Args:
            like: Another day, and the clauses that come out as they do on it.
        """
        self.pack, self.car, self.on, self._audience = pack, car, on, audience
        self._like, self._alike = like if like is not None else (self, frozenset[str]())

    @cached_property
    def _anew(self) -> ClauseByClause:
        """The clauses that are judged for this day."""
        anew = [number for number in self.pack.clauses if number not in self._alike]
        return ClauseByClause(self.pack, self.car, self.on, self._audience, only=anew)

    @property
    def outcomes(self) -> Mapping[str, Verdict]:
        """What becomes of every clause, in the order of the rulebook."""
        return {number: self.outcome(number) for number in self.pack.clauses}

    @property
    def complies(self) -> bool | None:
        """As that of an inspection."""
        clauses = self.pack.clauses
        bearing = {told for number, told in self.outcomes.items() if clauses[number].severity != ADVISORY}
        return comes_to(bearing, self.car)

    def outcome(self, number: str) -> Verdict:
        """What becomes of one clause."""
        return self._like.outcome(number) if number in self._alike else self._anew.outcome(number)

    def judged(self, number: str) -> Outcome:
        """The same with all that is found, by the exact engine."""
        alike = number in self._alike
        if alike and self._like.pack is self.pack:
            return self._like.judged(number)
        (outcome,) = (self.inspected([number]) if alike else self._anew.inspection([number])).outcomes
        return outcome

    def inspected(self, numbers: Collection[str]) -> Inspection:
        """The inspection of these clauses alone."""
        return inspect_car(self.pack, self.car, self.on, self._audience, only=numbers)


class JudgedDays:
    """One declaration through time; the earliest day is best asked for first."""

    def __init__(self, folder: PackFolder, document: Document, audience: str) -> None:
        self.rules, self._document, self._audience = RulesByDay(folder), document, audience
        self._days: dict[date, JudgedDay] = {}
        self._readings: list[tuple[JudgedDay, dict[int, JudgedDay]]] = []
        """Each day that the declaration was read for, and by pack the first of those that this reading serves."""
        self._kept: dict[tuple[int, int], frozenset[str]] = {}
        self._served: dict[tuple[int, int], bool] = {}

    def on(self, day: date) -> JudgedDay:
        """The car on a day.

        Raises:
            InputError: No rules are in force then, or they or the declaration cannot be used.
        """
        if day not in self._days:
            self._days[day] = self._made(self.rules.on(day), day)
        return self._days[day]

    def _made(self, pack: Pack, day: date) -> JudgedDay:
        for read, by_pack in self._readings:
            car = on_later_day(read.car, self._document, day) if self._serves(read.pack, pack) else None
            if car is not None:
                like = by_pack.get(id(pack), read)
                made = JudgedDay(pack, car, day, self._audience, (like, self._alike(like, pack)))
                by_pack.setdefault(id(pack), made)
                return made
        car = load_car(dated(self._document, day), pack.vocabulary, audience=self._audience)
        made = JudgedDay(pack, car, day, self._audience)
        self._readings.append((made, {id(pack): made}))
        return made

    def _serves(self, read: Pack, pack: Pack) -> bool:
        """Whether what was read by one pack may be judged by the other."""
        key = (id(read), id(pack))
        if key not in self._served:
            self._served[key] = read is pack or same_vocabulary(read, pack)
        return self._served[key]

    def _alike(self, like: JudgedDay, pack: Pack) -> frozenset[str]:
        """The clauses that come out on any day as they do on that one; none where an approval may be turned to."""
        if like.car.approvals:
            return frozenset()
        key = (id(like.pack), id(pack))
        if key not in self._kept:
            self._kept[key] = frozenset(_alike_on_any_day(like.pack, pack))
        return self._kept[key]


def _alike_on_any_day(one: Pack, other: Pack) -> Iterator[str]:
    if one.document is other.document:
        alike = set(other.clauses)
    else:
        alike = {pair.new for pair in alike_unless_approved(one, other) if pair.new and pair.old == pair.new}
    lasting = {number for number in alike if not _rests_on_the_day(other.clauses[number])}
    yield from (number for number in lasting if lasting.issuperset(with_those_before(other, [number])))


def _rests_on_the_day(clause: Clause) -> bool:
    if clause.since is not None or clause.until is not None or DAY_JUDGED in clause.judged_by:
        return True
    return any(entry.until is not None or DAY_JUDGED in entry.by.uses for entry in clause.earlier)
