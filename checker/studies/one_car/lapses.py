"""What lapses when: one car through the meetings of a season.

The car is judged on the day of each meeting by what is in force on that day, as it stands. Where something is
met before and fails at a meeting, the last day on which it was still met is found: a margin in days names it,
and that day and the next are judged; where there is no such margin, every day in between is.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date, timedelta

from checker.car.described.vocabulary import ENTRANT
from checker.kinds.judging.assessment import (
    DISPENSATION,
    FAIL,
    NOT_APPLICABLE,
    PASS,
    TOO_CLOSE,
    Assessment,
    every,
)
from checker.pack.editions.finding import PackFolder
from checker.pack.model import Clause, Pack
from checker.quantities.folding import fold
from checker.quantities.kind import DAYS
from checker.reading.document import Document
from checker.reading.problems import InputError
from checker.reading.quick_dataclasses import dataclass
from checker.studies.change.days_in_formulas import DayFinder
from checker.studies.change.turning_days import of_clause
from checker.studies.one_car.judged_days import JudgedDay, JudgedDays
from checker.studies.one_car.season import SeasonMeeting
from checker.verdict.advice import advised, looked_at
from checker.verdict.inspection import Outcome

MET = (PASS, NOT_APPLICABLE, DISPENSATION, TOO_CLOSE)
"""What a car may race with, as far as is known."""

_DAY = timedelta(days=1)


@dataclass(frozen=True, slots=True)
class Lapse:
    """Something that is met now and fails at a meeting."""

    clause: Clause
    item: str
    """The entry it is about, e.g. "belts"; "" where it is about the car."""
    last_day: date
    """The last day on which it is met, before the meeting."""
    meeting: SeasonMeeting
    """The first meeting at which it fails."""
    assessment: Assessment
    """At that meeting; of the item, where it is about one."""
    because: str = ""
    """The change of the rules that does it; "" where time alone does."""


@dataclass(frozen=True, slots=True)
class CarAtMeeting:
    meeting: SeasonMeeting
    day: JudgedDay


@dataclass(frozen=True, slots=True)
class Season:
    """One car through a season, from a day on."""

    pack: str
    """The name of the formula."""
    number: str
    name: str
    """Of the car."""
    on: date
    standings: tuple[CarAtMeeting, ...]
    """At each meeting from that day on."""
    failing: tuple[Outcome, ...]
    """What fails already on the first day that was judged."""
    lapses: tuple[Lapse, ...]
    """In the order of their last days."""

    @property
    def fails(self) -> bool:
        """Whether a clause that counts fails already, or at one of the meetings."""
        already = any(outcome.counts for outcome in self.failing)
        return already or any(standing.day.complies is False for standing in self.standings)


def season(
    document: Document,
    folder: PackFolder,
    meetings: Sequence[SeasonMeeting],
    on: date,
    audience: str = ENTRANT,
) -> Season:
    """Follow the car of a declaration through the meetings from a day on.

    Raises:
        InputError: The declaration cannot be used, or no pack is in force on the day of a meeting.
    """
    days = JudgedDays(folder, document, audience)
    ahead = sorted((m for m in meetings if m.day >= on), key=lambda m: m.day)
    try:
        before = _judged_before(days, on)
    except InputError:
        for meeting in ahead:
            days.on(meeting.day)  # what is wrong on a meeting's day is told first
        raise
    standings = tuple(CarAtMeeting(meeting, days.on(meeting.day)) for meeting in ahead)
    first = before or (standings[0].day if standings else None)
    numbers = [] if first is None else [number for number, told in first.outcomes.items() if told == FAIL]
    failing = () if first is None else _with_advice(first, numbers)
    finder = _Finder(days)
    lapses = [lapse for one in _breaches(before, standings) for lapse in finder.lapse(one)]
    lapses.sort(key=lambda lapse: lapse.last_day)
    seen = first or days.on(on)
    return Season(seen.pack.name, seen.car.number, seen.car.name, on, standings, failing, tuple(lapses))


def _judged_before(days: JudgedDays, on: date) -> JudgedDay | None:
    """The car on the first day; None where no rules are in force yet."""
    try:
        return days.on(on)
    except InputError as error:
        if all(problem.code == "PK620" for problem in error.problems):
            return None
        raise


def _with_advice(day: JudgedDay, numbers: Sequence[str]) -> tuple[Outcome, ...]:
    """These clauses alone, with acts that were tried: what nobody is told need not be tried at each meeting."""
    if not numbers:
        return ()
    tried = advised(day.inspected(looked_at(day.pack, numbers)), numbers)
    return tuple(outcome for outcome in tried.outcomes if outcome.clause.number in numbers)


@dataclass(frozen=True, slots=True)
class _Breach:
    """A clause, or an entry under it, that fails at a meeting and was met when it was judged last."""

    number: str
    item: str
    met: JudgedDay
    """When it was met."""
    standing: CarAtMeeting


def _breaches(before: JudgedDay | None, standings: Sequence[CarAtMeeting]) -> Iterator[_Breach]:
    earlier = before
    known: set[tuple[str, str]] = set()
    for standing in standings:
        for number in standing.day.outcomes:  # all at once
            for item in _failing(standing.day, number):
                if (number, item) in known:
                    continue
                known.add((number, item))
                if earlier is None or number not in earlier.pack.clauses:
                    continue
                if item not in _failing(earlier, number) and earlier.outcome(number) in (*MET, FAIL):
                    yield _Breach(number, item, earlier, standing)
        earlier = standing.day


def _failing(day: JudgedDay, number: str) -> tuple[str, ...]:
    """The entries that fail a clause; ("",) where it fails and speaks of no entries."""
    return failing_items(day.judged(number).assessment) if day.outcome(number) == FAIL else ()


def failing_items(found: Assessment) -> tuple[str, ...]:
    """The same of what was found where a clause fails."""
    items = tuple(dict.fromkeys(b.item for b in found.branches if b.item and b.outcome == FAIL))
    return items or ("",)


def part_of(found: Assessment, item: str) -> Assessment:
    """What was found of an entry; of the whole where it is not about one."""
    return next((b for b in found.branches if item and b.item == item), found)


class _Finder:
    """Finds the last day on which something was met."""

    def __init__(self, days: JudgedDays) -> None:
        self._days = days

    def lapse(self, breach: _Breach) -> Iterator[Lapse]:
        """The lapse behind a breach; none where it was never met on any day before the meeting."""
        last = self._last_day(breach)
        if last is None:
            return
        (outcome,) = _with_advice(breach.standing.day, [breach.number])
        found, because = part_of(outcome.assessment, breach.item), self._because(breach, last)
        yield Lapse(outcome.clause, breach.item, last, breach.standing.meeting, found, because)

    def _last_day(self, breach: _Breach) -> date | None:
        meeting = breach.standing.meeting.day
        met = breach.met.on
        found = breach.met.judged(breach.number).assessment
        for margin in days_in_hand(part_of(found, breach.item)):
            day = met + margin * _DAY
            if met <= day < meeting and self._met(breach, day) and not self._met(breach, day + _DAY):
                return day
        day = met
        while day + _DAY < meeting and self._met(breach, day + _DAY):
            day += _DAY
        return day

    def _met(self, breach: _Breach, day: date) -> bool:
        try:
            pack = self._days.rules.on(day)
        except InputError:
            return True  # between two editions nothing binds
        if breach.number not in pack.clauses:
            return True
        return breach.item not in _failing(self._days.on(day), breach.number)

    def _because(self, breach: _Breach, last: date) -> str:
        """Which change of the rules made it fail on the day after its last."""
        try:
            before, after = self._days.rules.on(last), self._days.rules.on(last + _DAY)
        except InputError:
            return ""
        clause = after.clauses.get(breach.number)
        if before is not after and clause is not None:
            came = [o for o in after.origins if o not in before.origins and breach.number in o.path]
            if came:
                return f"bulletin {came[0].bulletin} is in force from {came[0].first_day.isoformat()}"
            if before.edition != after.edition:
                return f"edition {after.edition} is in force from {after.first_day.isoformat()}"
            went = [o for o in before.origins if o not in after.origins and breach.number in o.path]
            if went:
                return f"bulletin {went[0].bulletin} ended on {last.isoformat()}"
        cited = {fold(reference) for reference in breach.standing.day.car.approvals}
        for approval in before.approvals or ():
            its_own = breach.number in approval.clauses and fold(approval.reference) in cited
            if its_own and approval.last_day == last:
                return f"approval {approval.reference} ended on {last.isoformat()}"
        if clause is not None and any(entry.until == last for entry in clause.earlier):
            return f"the time for older cars ends on {last.isoformat()}"
        if clause is not None and clause.since == last + _DAY:
            return f"the clause is in force from {clause.since.isoformat()}"
        return self._turn(after, breach.number, last + _DAY)

    def _turn(self, pack: Pack, number: str, day: date) -> str:
        """What turns in the text of the rules on a day, as a bound that begins to bind; "" where nothing does."""
        finder = DayFinder(pack, day, day)
        for clause in pack.clauses.values():
            for turn in of_clause(clause, finder):
                if (turn.day, turn.clause) == (day, number):
                    return f"{turn.words.removeprefix(f'{clause.title}: ')}, from {day.isoformat()}"
        return ""


def days_in_hand(found: Assessment) -> Iterator[int]:
    """Every margin in days, of the whole and its parts."""
    for assessment in every(found):
        if assessment.margin is not None and assessment.margin.kind == DAYS:
            yield int(assessment.margin.value)
