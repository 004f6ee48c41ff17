"""Whom a change of the rules affects: cars judged by an older and a newer pack on the same day.

Of every clause that the two may judge otherwise: which cars fail now that did not, which no longer do, what those
that fail have to do, and by when. A car that a transition still covers is judged once more as if the transition
had ended, so that it learns in time.

`checker.studies.change.tally` adds up what this says of each car.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date

from checker.car.car import Car
from checker.kinds.judging.acts import Advice
from checker.kinds.judging.assessment import FAIL, NOT_APPLICABLE, PASS, Amount, Assessment
from checker.kinds.judging.findings import Found
from checker.pack.model import Pack
from checker.quantities.kind import Unknown
from checker.reading.document import Document
from checker.reading.problems import Path
from checker.reading.quick_dataclasses import KW_ONLY, dataclass, field, replace
from checker.studies.change.endings import IN_DOUBT, CarThroughTime, Ending, Endings, Unread
from checker.studies.change.pairing import Pair, paired
from checker.studies.change.read_by_both import ReadByBoth
from checker.studies.change.relevance import alike_unless_approved, may_differ
from checker.studies.planning.mending import Mending, mending
from checker.verdict.advice import BALLAST, advised
from checker.verdict.clause_by_clause import ClauseByClause
from checker.verdict.inspection import Inspection, Outcome

NO_CLAUSE = "no_clause"
"""In place of an outcome: the clause is not in that pack."""

_MET = {PASS, NOT_APPLICABLE, NO_CLAUSE}


@dataclass(frozen=True, slots=True)
class ClauseEffect:
    """What one clause says of one car, before and after."""

    pair: Pair
    before: str
    """The outcome by the older pack, or `NO_CLAUSE`."""
    after: str
    margin_before: Amount | None = None
    _: KW_ONLY
    margin_after: Amount | None = None
    finding: Found | None = None
    """What was found by the newer pack."""
    act: Advice | None = None
    """What to do, where it fails, will fail or is too close to call."""
    unknown: Unknown = field(default_factory=Unknown)
    """What would settle it by the newer pack, where it is in doubt."""
    later: Ending | None = None
    """When it fails later, though not yet."""
    later_doubt: Ending | None = None
    """When it comes to be too close or not shown, before it fails."""

    @property
    def newly_fails(self) -> bool:
        return self.after == FAIL and self.before != FAIL

    @property
    def no_longer_fails(self) -> bool:
        return self.before == FAIL and self.after != FAIL

    @property
    def now_in_doubt(self) -> bool:
        """Met before, and now too close to call or not shown."""
        return self.after in IN_DOUBT and self.before not in (FAIL, *IN_DOUBT)

    @property
    def changes_outcome(self) -> bool:
        """Whether what becomes of the clause is another thing than before, and not merely met in another way."""
        return self.before != self.after and not {self.before, self.after} <= _MET

    @property
    def fails_later(self) -> bool:
        return self.later is not None and self.after != FAIL

    @property
    def in_doubt_later(self) -> bool:
        return self.later_doubt is not None and self.after not in (FAIL, *IN_DOUBT)

    @property
    def is_named(self) -> bool:
        """Whether the car is named for it: what becomes of the clause is another thing, or will be."""
        return self.changes_outcome or self.fails_later or self.in_doubt_later

    @property
    def is_change(self) -> bool:
        """Whether anything but the words is different for this car."""
        now = self.before != self.after or self.margin_before != self.margin_after
        return now or self.later is not None or self.later_doubt is not None


@dataclass(frozen=True, slots=True)
class Affected:
    """What a change means for one car."""

    place: str
    """Where its declaration is."""
    number: str
    name: str
    on: date
    audience: str
    """"entrant" or "official"."""
    effects: tuple[ClauseEffect, ...]
    """Of every clause that the two packs may judge otherwise, in the order of the newer."""
    _: KW_ONLY
    mending: Mending | None = None
    """What ballast alone does for a car that newly fails, where that was asked for and can be told."""
    unread: Unread | None = None
    """From when a text that comes later within the edition cannot judge the car."""


@dataclass(frozen=True, slots=True)
class Deadline:
    """The first day on which a clause binds as it newly reads, and why."""

    first: date
    because: str


class Comparator:
    """Judges cars by two packs, by the clauses that may differ only."""

    def __init__(
        self,
        old: Pack,
        new: Pack,
        *,
        audience: str,
        on: date,
        on_before: date | None = None,
        plan: bool = False,
        after: Sequence[tuple[date, Pack]] = (),
        every_change: bool = True,
    ) -> None:
        """
        Args:
            old, new: The rules before and after.
            audience: "entrant" or "official".
            on: The day to judge every car for.
            on_before: The day to judge it for by the older rules, where that is another: then what changes by itself
                between the two days, such as the end of a transition, is told too.
            plan: Tell of each car that newly fails, or will, what ballast alone does.
            after: The texts that come after the newer rules within their edition, each with its first day: by these a
                car is judged once a bulletin for a time has ended.
            every_change: Tell what was found wherever anything changes for a car, and not only where the outcome does.
        """
        self.plan = plan
        self.old, self.new = old, new
        self.audience = audience
        self.on = on
        self.on_before = on if on_before is None else on_before
        rewritten = may_differ(old, new)
        self._rewritten = frozenset(rewritten)
        self._endings = Endings(new, on, audience, after)
        self.pairs = rewritten if self.on_before == on else paired(old, new)
        self._alike = alike_unless_approved(old, new) if self.on_before == on else frozenset()
        self._after = [p.new for p in self.pairs if p.new is not None]
        self._on_ballast = [number for number in self._after if BALLAST in new.clauses[number].judged_by]
        self._every_change = every_change
        self._both = ReadByBoth(old, self.on_before, new, on, audience)

    def judge(self, document: Document, place: str) -> Affected:
        """What the change means for the car of a declaration.

        Raises:
            InputError: It cannot be used with one of the packs; with every problem found.
        """
        car, older = self._both.read(document)
        after = ClauseByClause(self.new, car, self.on, self.audience, only=self._after)
        before = self._before(car, older, after)
        cars = self._endings.through(document, car)
        found = [self._effect(pair, before, after, cars) for pair in self.pairs]
        told = [one.pair.new for one in found if one.pair.new is not None and self._is_told(one)]
        newly = [one.pair.new for one in found if one.pair.new is not None and one.newly_fails]
        whole = after.inspection({*told, *newly, *(self._on_ballast if newly else ())})
        told_whole = _by_number(advised(whole, newly) if newly else whole)
        effects = tuple(self._mended(_with_words(one, told_whole.get(one.pair.new)), cars) for one in found)
        by_weight = self.plan and any(told_whole[number].on_weights for number in newly)
        mended = mending(self.new, document, car, self.on) if by_weight else None
        unread = self._endings.unread(cars)
        told_of = place, car.number, car.name, self.on, self.audience, effects
        return Affected(*told_of, mending=mended, unread=unread)

    def _before(self, car: Car, older: Car, after: ClauseByClause) -> dict[Pair, Assessment | None]:
        """What the older rules say; of a clause that they certainly judge alike, what the newer do."""
        alike = frozenset() if car.approvals else self._alike
        anew = [pair.old for pair in self.pairs if pair.old is not None and pair not in alike]
        before = ClauseByClause(self.old, older, self.on_before, self.audience, only=anew)
        found: dict[Pair, Assessment | None] = {}
        for pair in self.pairs:
            judged, number = (after, pair.new) if pair in alike else (before, pair.old)
            found[pair] = None if number is None else judged.measured(number)
        return found

    def _effect(
        self,
        pair: Pair,
        before: Mapping[Pair, Assessment | None],
        after: ClauseByClause,
        cars: CarThroughTime,
    ) -> ClauseEffect:
        """Of a clause that nobody rewrote only another outcome counts, not a margin that the days alone move."""
        was, is_now = before[pair], None if pair.new is None else after.measured(pair.new)
        found = ClauseEffect(
            pair,
            was.outcome if was else NO_CLAUSE,
            is_now.outcome if is_now else NO_CLAUSE,
            was.margin if was else None,
            margin_after=is_now.margin if is_now else None,
        )
        if pair not in self._rewritten:
            return replace(found, margin_before=found.margin_after) if found.before == found.after else found
        if pair.new is None or found.after == FAIL:
            return found
        later = self._endings.of(pair.new, cars, found.margin_after)
        return replace(found, later=later.fails, later_doubt=later.doubt)

    def _mended(self, effect: ClauseEffect, cars: CarThroughTime) -> ClauseEffect:
        """The same with what ballast alone does for a car that fails later, where that is asked for."""
        later = effect.later
        if not self.plan or later is None or not effect.fails_later or not later.on_weights:
            return effect
        return replace(effect, later=cars.mended(later))

    def _is_told(self, effect: ClauseEffect) -> bool:
        """Whether what was found of a clause is told, and not merely counted."""
        return effect.is_named or (self._every_change and effect.is_change)


def _with_words(effect: ClauseEffect, whole: Outcome | None) -> ClauseEffect:
    """The same with what was found and what is to be done."""
    if whole is None:
        return effect
    found = whole.assessment
    unknown = found.unknown if whole.outcome in IN_DOUBT else Unknown()
    return replace(effect, finding=found.finding, act=found.act, unknown=unknown)


def _by_number(inspection: Inspection) -> dict[str | None, Outcome]:
    return {outcome.clause.number: outcome for outcome in inspection.outcomes}


def binding_from(old: Pack, new: Pack, pair: Pair) -> Deadline | None:
    """From which day a clause binds as it newly reads; None where nothing but the text was changed by hand."""
    origins = [o for o in new.origins if _bears_on(o.path, pair) and o not in old.origins]
    if origins:
        last = max(origins, key=lambda o: o.first_day)
        until = f" to {last.last_day.isoformat()}" if last.last_day is not None else ""
        because = f"bulletin {last.bulletin} is in force from {last.first_day.isoformat()}{until}"
        return Deadline(last.first_day, because)
    if new.edition != old.edition:
        first = new.first_day
        return Deadline(first, f"edition {new.edition} is in force from {first.isoformat()}")
    return None


def _bears_on(path: Path, pair: Pair) -> bool:
    """Whether what a bulletin changed is the clause, or something that a clause may rest on."""
    return path[0] != "clauses" or path[1] == pair.new
