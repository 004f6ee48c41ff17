"""Whom a change of the rules affects: cars judged by an older and a newer pack on the same day.

Of every clause that the two may judge otherwise: which cars fail now that did not, which no longer do, what those
that fail have to do, and by when. A car that a transition still covers is judged once more as if the transition
had ended, so that it learns in time.

`checker.studies.change.tally` adds up what this says of each car.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from datetime import date

from checker.car.car import Car
from checker.car.declaration.another_day import on_later_day
from checker.car.declaration.loading import load_car
from checker.kinds.judging.acts import Advice
from checker.kinds.judging.assessment import FAIL, NOT_APPLICABLE, PASS, Amount
from checker.kinds.judging.findings import Found
from checker.pack.model import Pack
from checker.quantities.kind import Unknown
from checker.reading.document import Document
from checker.reading.problems import Path
from checker.reading.quick_dataclasses import KW_ONLY, dataclass, field, replace
from checker.studies.change.endings import IN_DOUBT, CarThroughTime, Ending, Endings, Excused, Unread
from checker.studies.change.pairing import Pair, paired
from checker.studies.change.relevance import alike_unless_approved, may_differ, same_vocabulary
from checker.studies.planning.mending import Mending, mending
from checker.studies.planning.rows import on_weights
from checker.verdict.advice import advised
from checker.verdict.inspection import Inspection, Outcome, inspect_car
from checker.verdict.run import dated

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
    ) -> None:
        """
        Args:
            old, new: The rules before and after.
            audience: "entrant" or "official".
            on: The day to judge every car for.
            on_before: The day to judge it for by the older rules, where that is another: then what changes by itself
                between the two days, such as the end of a transition, is told too.
            plan: Tell of each car that newly fails what ballast alone does.
            after: The texts that come after the newer rules within their edition, each with its first day: by these a
                car is judged once a bulletin for a time has ended.
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
        self._same_words = same_vocabulary(old, new)

    def judge(self, document: Document, place: str) -> Affected:
        """What the change means for the car of a declaration.

        Raises:
            InputError: It cannot be used with one of the packs; with every problem found.
        """
        car, older = self._read(document)
        judged = self._judged(self.new, car, self._after, self.on)
        after = _by_number(judged)
        before = self._before(car, older, after)
        newly = [
            pair.new
            for pair in self.pairs
            if pair.new and _newly_broken(before.get(pair.old), after.get(pair.new))
        ]
        after = _by_number(advised(judged, newly)) if newly else after
        cars = self._endings.through(document, car)
        effects = tuple(
            self._effect(pair, before.get(pair.old), after.get(pair.new), cars) for pair in self.pairs
        )
        told = (
            mending(self.new, document, car, self.on)
            if self.plan and _fails_by_weight(effects, after)
            else None
        )
        unread = self._endings.unread(cars)
        return Affected(
            place, car.number, car.name, self.on, self.audience, effects, mending=told, unread=unread
        )

    def _read(self, document: Document) -> tuple[Car, Car]:
        """The car by the newer rules, and by the older; read once where that gives the same."""
        if self._same_words and self.on_before < self.on:
            older = load_car(dated(document, self.on_before), self.old.vocabulary, audience=self.audience)
            later = on_later_day(older, document, self.on)
            if later is not None:
                return later, older
            return load_car(dated(document, self.on), self.new.vocabulary, audience=self.audience), older
        car = load_car(dated(document, self.on), self.new.vocabulary, audience=self.audience)
        if self._same_words and self.on_before == self.on:
            return car, car
        then = dated(document, self.on_before)
        return car, load_car(then, self.old.vocabulary, audience=self.audience)

    def _before(
        self, car: Car, older: Car, after: Mapping[str | None, Outcome]
    ) -> Mapping[str | None, Outcome]:
        """What the older rules say; of a clause that they certainly judge alike, what the newer do."""
        alike = frozenset() if car.approvals else self._alike
        anew = [pair.old for pair in self.pairs if pair.old is not None and pair not in alike]
        found = _by_number(self._judged(self.old, older, anew, self.on_before))
        return {**found, **{pair.old: after[pair.new] for pair in self.pairs if pair in alike}}

    def _effect(
        self, pair: Pair, before: Outcome | None, after: Outcome | None, cars: CarThroughTime
    ) -> ClauseEffect:
        """Of a clause that nobody rewrote only another outcome counts, not a margin that the days alone move."""
        if pair in self._rewritten:
            excused = after is not None and after.outcome != FAIL
            later = (
                self._endings.of(after.clause.number, cars, after.assessment.margin)
                if after and excused
                else Excused()
            )
            return _effect(pair, before, after, later)
        found = _effect(pair, before, after, Excused())
        same = found.before == found.after
        return replace(found, margin_before=found.margin_after) if same else found

    def _judged(self, pack: Pack, car: Car, only: Collection[str], on: date) -> Inspection:
        return inspect_car(pack, car, on, self.audience, only=only)


def _fails_by_weight(effects: tuple[ClauseEffect, ...], after: Mapping[str | None, Outcome]) -> bool:
    """Whether a clause on weights newly fails."""
    newly = [after[effect.pair.new].check for effect in effects if effect.newly_fails]
    return any(check is not None and on_weights(check) for check in newly)


def _by_number(inspection: Inspection) -> dict[str | None, Outcome]:
    return {outcome.clause.number: outcome for outcome in inspection.outcomes}


def _newly_broken(before: Outcome | None, after: Outcome | None) -> bool:
    """Whether what to do is worth telling: the car failed before as well where it is not."""
    failed = before is not None and before.outcome == FAIL
    return after is not None and after.outcome == FAIL and not failed


def _effect(pair: Pair, before: Outcome | None, after: Outcome | None, later: Excused) -> ClauseEffect:
    return ClauseEffect(
        pair,
        before.outcome if before else NO_CLAUSE,
        after.outcome if after else NO_CLAUSE,
        before.assessment.margin if before else None,
        margin_after=after.assessment.margin if after else None,
        finding=after.assessment.finding if after else None,
        act=after.assessment.act if after else None,
        unknown=after.assessment.unknown if after and after.outcome in IN_DOUBT else Unknown(),
        later=later.fails,
        later_doubt=later.doubt,
    )


def binding_from(old: Pack, new: Pack, pair: Pair) -> Deadline | None:
    """From which day a clause binds as it newly reads; None where nothing but the text was changed by hand."""
    origins = [o for o in new.origins if _bears_on(o.path, pair) and o not in old.origins]
    if origins:
        last = max(origins, key=lambda o: o.first_day)
        return Deadline(
            last.first_day,
            f"bulletin {last.bulletin} is in force from {last.first_day.isoformat()}"
            + (f" to {last.last_day.isoformat()}" if last.last_day is not None else ""),
        )
    if new.edition != old.edition:
        first = new.first_day
        return Deadline(first, f"edition {new.edition} is in force from {first.isoformat()}")
    return None


def _bears_on(path: Path, pair: Pair) -> bool:
    """Whether what a bulletin changed is the clause, or something that a clause may rest on."""
    return path[0] != "clauses" or path[1] == pair.new
