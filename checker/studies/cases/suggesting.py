"""Writes the cases that a pack still lacks: each clause exactly on its limit, and just beyond it.

From a car that meets a clause, one declared value at a time is moved until the clause stands on its limit. How far is
found by asking the rules themselves twice and drawing a line; only what they then confirm is written down. A case that
was made from the rules cannot find a mistake in them: the author has to look whether it says what was meant.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from fractions import Fraction
from itertools import product

from checker.car.car import Car
from checker.car.declaration.loading import load_car
from checker.car.described.vocabulary import ENTRANT
from checker.kinds.judging.assessment import FAIL, PASS
from checker.pack.editions.edition import Edition
from checker.pack.model import Clause
from checker.quantities.days import add_days, parse_day
from checker.quantities.display import decimal_text
from checker.quantities.kind import DAYS
from checker.reading.document import Document, Plain
from checker.reading.quick_dataclasses import dataclass
from checker.studies.cases.adjustable import Knob, entries_of, knobs_of
from checker.studies.cases.every_bound import bound_words, bounds_of, deciding
from checker.studies.cases.running import Run
from checker.studies.cases.trying import FURTHEST, TriedCar, stands_on_limit
from checker.verdict.inspection import Outcome

_MOST_KNOBS = 24
_MEASURES = ("quantity", "percent", "days")


@dataclass(slots=True)
class Suggester(TriedCar):
    """Makes cases for one base car."""

    def suggest(self, runs: Sequence[Run]) -> list[Plain]:
        """The cases that are missing, in the order of the rulebook.

        Args:
            runs: The pack's own cases, judged.

        Raises:
            InputError: The base car cannot be read.
        """
        car = load_car(self.document, self.pack.vocabulary, audience=ENTRANT)
        for clause in self.pack.clauses.values():
            found = [run.outcomes[clause.number] for run in runs if clause.number in run.outcomes]
            on = [outcome for outcome in found if stands_on_limit(outcome)]
            over = [one for one in found if one.outcome == FAIL and not stands_on_limit(one)]
            self.tried = (
                {deciding(one.assessment) for one in on},
                {deciding(one.assessment) for one in over},
            )
            if not (on and over):
                self._clause(clause, car, bool(on), bool(over))
            self._other_bounds(clause, car)
        return self.made

    def _clause(self, clause: Clause, car: Car, on_limit: bool, beyond: bool) -> None:
        start = self.judged(clause.number)
        if start is None or start.outcome != PASS:
            came = "cannot be judged" if start is None else f"is {start.outcome.replace('_', ' ')}"
            self.missing.append((clause.number, f"for this car it {came}; begin with one that meets it"))
            return
        knobs = list(knobs_of(clause, car, self.document))[:_MOST_KNOBS]
        for knob in knobs:
            if on_limit and beyond:
                return
            if not knob.is_scale:
                continue
            near, exact = self.to_limit(clause.number, knob, start)
            if near is None:
                continue
            if exact and not on_limit:
                on_limit = self.keep(clause, "exactly on the limit", {knob.path: knob.text(near)})
            if not beyond:
                beyond = self.just_beyond(clause, knob, near)
        for knob in (one for one in knobs if one.is_scale and not beyond):
            on_limit, beyond = self._by_leaps(clause, knob, on_limit)
        on_limit = on_limit or self._on_its_last_day(clause, knobs, start)
        beyond = beyond or self._otherwise(clause, car, knobs)
        if not beyond:
            self.missing.append((clause.number, "no value of this car was found that makes it fail"))
        elif not on_limit and any(kind.name in _MEASURES for kind in clause.check.margin_kinds() or ()):
            self.missing.append((clause.number, "no value of this car was found that puts it on its limit"))

    def _other_bounds(self, clause: Clause, car: Car) -> None:
        """Cases for the bounds that none is for yet: the other side of a limit, and each branch."""
        start, (on, over) = self.judged(clause.number), self.tried
        wanted = {} if start is None or start.outcome != PASS else dict(bounds_of(start.assessment))
        if len(wanted) < 2:
            return
        knobs = [knob for knob in knobs_of(clause, car, self.document) if knob.is_scale][:_MOST_KNOBS]
        for knob, sign in product(knobs, (1, -1)):
            if wanted.keys() <= over:
                return
            near = self.first_broken(clause.number, knob, sign)
            if near is None:
                continue
            there = self.outcome_with(clause.number, knob, near)
            which = None if there is None else deciding(there.assessment)
            known = which is not None and which in wanted
            named = f"the limit, {bound_words(which, wanted[which])}" if known and which else "the limit"
            if there is not None and stands_on_limit(there) and which not in on:
                self.keep(clause, f"exactly on {named}", {knob.path: knob.text(near)})
            self.just_beyond(clause, knob, near, (sign,), named)
        left = [
            bound_words(one, bound) for one, bound in wanted.items() if one not in over and not one.branches
        ]
        if left:
            self.missing.append((clause.number, f"no value of this car was found beyond {', '.join(left)}"))

    def _by_leaps(self, clause: Clause, knob: Knob, on_limit: bool) -> tuple[bool, bool]:
        """Cases on either side of where a value stops passing, for a margin that goes by leaps: counts of a closed
        list, an age in full years. Whether there is one on the limit now, and one beyond it.
        """

        def comes_to(outcome: str, steps: int) -> bool:
            found = self.outcome_with(clause.number, knob, knob.stepped(steps))
            return found is not None and found.outcome == outcome

        for sign in (1, -1):
            met, broken = 0, 1
            while broken <= FURTHEST and comes_to(PASS, sign * broken):
                met, broken = broken, 2 * broken
            while broken - met > 1:
                middle = (met + broken) // 2
                met, broken = (middle, broken) if comes_to(PASS, sign * middle) else (met, middle)
            if not comes_to(FAIL, sign * broken):
                continue
            last = {} if not met else {knob.path: knob.text(knob.stepped(sign * met))}
            if not on_limit and stands_on_limit(self.judged(clause.number, last)):
                on_limit = self.keep(clause, "exactly on the limit", last)
            beyond = {knob.path: knob.text(knob.stepped(sign * broken))}
            return on_limit, self.keep(clause, "just beyond the limit", beyond)
        return on_limit, False

    def _otherwise(self, clause: Clause, car: Car, knobs: Sequence[Knob]) -> bool:
        """A case that fails though nothing can be moved by degrees: another word, a truth turned, an entry gone."""
        for knob in knobs:
            others: tuple[Plain, ...] = knob.words
            if isinstance(knob.value, bool):
                others = (not knob.value,)
            for other in others:
                outcome = self.judged(clause.number, {knob.path: other})
                if outcome is not None and outcome.outcome == FAIL:
                    return self.keep(clause, f"with {knob.path} {_said(other)}", {knob.path: other})
        for path in entries_of(clause, car):
            outcome = self.judged(clause.number, {}, [path])
            if outcome is not None and outcome.outcome == FAIL:
                return self.keep(clause, f"without {path}", {}, [path])
        return False

    def _on_its_last_day(self, clause: Clause, knobs: Sequence[Knob], start: Outcome) -> bool:
        """A case on the last day: where no date of the car is told to the day, the day of the event is moved."""
        sets: dict[str, Plain] = {}
        for knob in (one for one in knobs if one.by_month):
            near, _ = self.to_limit(clause.number, knob, start)
            for value in [knob.shifted(near, Fraction(days)) for days in (0, 31)] if near is not None else ():
                outcome = self.judged(clause.number, {knob.path: knob.text(value)})
                if outcome is not None and outcome.outcome == PASS and outcome.assessment.margin is not None:
                    start, sets = outcome, {knob.path: knob.text(value)}
                    break
        margin = start.assessment.margin
        if margin is None or margin.kind != DAYS:
            return False
        return self.keep(clause, "on its last day", sets, on=add_days(self.on, int(margin.value)))


def day_of(declaration: Document, edition: Edition) -> date:
    """The day of the car's event where it lies in the edition, else the edition's first."""
    given = declaration.get(("event", "date"))
    try:
        day = parse_day(given) if isinstance(given, str) else edition.head.first
    except ValueError:
        return edition.head.first  # told with its place when the car is read
    return day if edition.head.covers(day) else edition.head.first


def _said(value: Plain) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    return decimal_text(value) if isinstance(value, Fraction) else str(value)
