"""Writes the cases that a pack still lacks: each clause exactly on its limit, and just beyond it.

From a car that meets a clause, one declared value at a time is moved until the clause stands on its limit. How far is
found by asking the rules themselves twice and drawing a line; only what they then confirm is written down. A case that
was made from the rules cannot find a mistake in them: the author has to look whether it says what was meant.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from fractions import Fraction
from itertools import product
from typing import Any

from checker.car.car import Car
from checker.car.declaration.loading import load_car
from checker.car.described.vocabulary import ENTRANT
from checker.kinds.judging.assessment import FAIL, PASS, Amount
from checker.pack.editions.edition import Edition
from checker.pack.model import Clause, Pack
from checker.quantities.days import add_days, parse_day
from checker.quantities.display import decimal_text, show
from checker.quantities.kind import DAYS
from checker.quantities.rounding import round_to
from checker.quantities.units import MOMENTS
from checker.reading.document import REMOVE, Document, Edit, Plain
from checker.reading.paths import parse_path
from checker.reading.problems import InputError
from checker.reading.quick_dataclasses import dataclass, field
from checker.studies.cases.adjustable import MOST_DECIMALS, Knob, distance, entries_of, knobs_of
from checker.studies.cases.running import Run
from checker.verdict.inspection import Outcome, inspect_car
from checker.verdict.run import dated

_MOST_KNOBS = 24
_MEASURES = ("quantity", "percent", "days")
_TURNS = 4
"""How often a line is drawn anew towards the limit."""
_FURTHEST = 2**15
"""How many steps from a car's own value are looked at: ninety years of days."""


@dataclass(slots=True)
class Suggester:
    """Makes cases for one base car."""

    edition: Edition
    declaration: Document
    on: date
    base: str
    """The car's file, as the cases are to name it."""
    made: list[Plain] = field(default_factory=list)
    missing: list[tuple[str, str]] = field(default_factory=list)
    """What could not be suggested: the clause's number, and why."""

    pack: Pack = field(init=False)
    document: Document = field(init=False)
    """The declaration, with the day that its car is judged for."""

    def __post_init__(self) -> None:
        self.pack = self.edition.pack_on(self.on)
        self.document = dated(self.declaration, self.on)

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
            on_limit = any(_stands_on_limit(outcome) for outcome in found)
            beyond = any(outcome.outcome == FAIL and not _stands_on_limit(outcome) for outcome in found)
            if not (on_limit and beyond):
                self._clause(clause, car, on_limit, beyond)
        return self.made

    def _clause(self, clause: Clause, car: Car, on_limit: bool, beyond: bool) -> None:
        start = self._judged(clause.number)
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
            near, exact = self._to_limit(clause.number, knob, start)
            if near is None:
                continue
            if exact and not on_limit:
                on_limit = self._keep(clause, "exactly on the limit", {knob.path: knob.text(near)})
            if not beyond:
                beyond = self._just_beyond(clause, knob, near)
        for knob in (one for one in knobs if one.is_scale and not beyond):
            on_limit, beyond = self._by_leaps(clause, knob, on_limit)
        on_limit = on_limit or self._on_its_last_day(clause, knobs, start)
        beyond = beyond or self._otherwise(clause, car, knobs)
        if not beyond:
            self.missing.append((clause.number, "no value of this car was found that makes it fail"))
        elif not on_limit and any(kind.name in _MEASURES for kind in clause.check.margin_kinds()):
            self.missing.append((clause.number, "no value of this car was found that puts it on its limit"))

    # --- moving a value ------------------------------------------------------------------------------------

    def _to_limit(self, number: str, knob: Knob, start: Outcome) -> tuple[object, bool]:
        """The value at which the clause's margin is zero, or a value near it; None where neither is found."""
        margin = start.assessment.margin_value
        if margin is None:
            return None, False
        for direction in knob.directions:
            moved = self._margin(number, knob, knob.stepped(direction))
            if moved is not None and moved != margin:
                return self._along(number, knob, margin, knob.stepped(direction), moved)
        return None, False

    def _along(
        self, number: str, knob: Knob, margin: Fraction, there: object, moved: Fraction
    ) -> tuple[object, bool]:
        """Follow the line through two values to where the margin is zero, and again from there."""
        here = knob.value
        for _ in range(_TURNS):
            if margin == 0:
                return here, True
            if moved == margin:
                return (here if knob.by_month else None), False
            by = distance(there, here) * margin / (margin - moved)
            there, moved, here = here, margin, knob.shifted(here, by)
            found = self._margin(number, knob, here)
            if found is None:
                return None, False
            margin = found
        return here, margin == 0

    def _by_leaps(self, clause: Clause, knob: Knob, on_limit: bool) -> tuple[bool, bool]:
        """Cases on either side of where a value stops passing, for a margin that goes by leaps: counts of a closed
        list, an age in full years. Whether there is one on the limit now, and one beyond it.
        """

        def comes_to(outcome: str, steps: int) -> bool:
            found = self._with(clause.number, knob, knob.stepped(steps))
            return found is not None and found.outcome == outcome

        for sign in (1, -1):
            met, broken = 0, 1
            while broken <= _FURTHEST and comes_to(PASS, sign * broken):
                met, broken = broken, 2 * broken
            while broken - met > 1:
                middle = (met + broken) // 2
                met, broken = (middle, broken) if comes_to(PASS, sign * middle) else (met, middle)
            if not comes_to(FAIL, sign * broken):
                continue
            last = {} if not met else {knob.path: knob.text(knob.stepped(sign * met))}
            if not on_limit and _stands_on_limit(self._judged(clause.number, last)):
                on_limit = self._keep(clause, "exactly on the limit", last)
            beyond = {knob.path: knob.text(knob.stepped(sign * broken))}
            return on_limit, self._keep(clause, "just beyond the limit", beyond)
        return on_limit, False

    def _margin(self, number: str, knob: Knob, value: object) -> Fraction | None:
        outcome = self._with(number, knob, value)
        return None if outcome is None else outcome.assessment.margin_value

    def _with(self, number: str, knob: Knob, value: object) -> Outcome | None:
        text = knob.text(value)
        return None if text is None else self._judged(number, {knob.path: text})

    def _just_beyond(self, clause: Clause, knob: Knob, limit: Any) -> bool:
        """A case one small step beyond the limit; the step is in the value's own unit."""
        unit = Fraction(1) if knob.unit is None else knob.unit.factor
        in_ones = knob.whole or knob.unit == MOMENTS or isinstance(limit, date)
        sizes = [Fraction(1)] if in_ones else [Fraction(1, 10), Fraction(1)]
        for size, sign in product(sizes, knob.directions):
            if isinstance(limit, date):
                text = knob.text(knob.day_beside(limit, sign))
            else:
                text = knob.text(round_to(limit + sign * size * unit, unit / 1000, "half_even"))
            outcome = None if text is None else self._judged(clause.number, {knob.path: text})
            if outcome is not None and outcome.outcome == FAIL:
                return self._keep(clause, "just beyond the limit", {knob.path: text})
        return False

    def _otherwise(self, clause: Clause, car: Car, knobs: Sequence[Knob]) -> bool:
        """A case that fails though nothing can be moved by degrees: another word, a truth turned, an entry gone."""
        for knob in knobs:
            others: tuple[Plain, ...] = knob.words
            if isinstance(knob.value, bool):
                others = (not knob.value,)
            for other in others:
                outcome = self._judged(clause.number, {knob.path: other})
                if outcome is not None and outcome.outcome == FAIL:
                    return self._keep(clause, f"with {knob.path} {_said(other)}", {knob.path: other})
        for path in entries_of(clause, car):
            outcome = self._judged(clause.number, {}, [path])
            if outcome is not None and outcome.outcome == FAIL:
                return self._keep(clause, f"without {path}", {}, [path])
        return False

    def _on_its_last_day(self, clause: Clause, knobs: Sequence[Knob], start: Outcome) -> bool:
        """A case on the last day: where no date of the car is told to the day, the day of the event is moved."""
        sets: dict[str, Plain] = {}
        for knob in (one for one in knobs if one.by_month):
            near, _ = self._to_limit(clause.number, knob, start)
            for value in [knob.shifted(near, Fraction(days)) for days in (0, 31)] if near is not None else ():
                outcome = self._judged(clause.number, {knob.path: knob.text(value)})
                if outcome is not None and outcome.outcome == PASS and outcome.assessment.margin is not None:
                    start, sets = outcome, {knob.path: knob.text(value)}
                    break
        margin = start.assessment.margin
        if margin is None or margin.kind != DAYS:
            return False
        return self._keep(clause, "on its last day", sets, on=add_days(self.on, int(margin.value)))

    # --- judging and keeping -------------------------------------------------------------------------------

    def _judged(
        self,
        number: str,
        sets: Mapping[str, Plain] | None = None,
        gone: Sequence[str] = (),
        on: date | None = None,
    ) -> Outcome | None:
        changes = [Edit(parse_path(path), value) for path, value in (sets or {}).items()]
        changes += [Edit(parse_path(path), REMOVE) for path in gone]
        try:
            day, pack = (self.on, self.pack) if on is None else (on, self.edition.pack_on(on))
            edited = dated(self.document, day).edited(changes, "PK703")
            car = load_car(edited, pack.vocabulary, audience=ENTRANT)
        except InputError:
            return None
        outcomes = inspect_car(pack, car, day, ENTRANT, exact=True, only=(number,)).outcomes
        return outcomes[0] if outcomes else None

    def _keep(
        self,
        clause: Clause,
        what: str,
        sets: Mapping[str, Plain],
        gone: Sequence[str] = (),
        on: date | None = None,
    ) -> bool:
        outcome = self._judged(clause.number, sets, gone, on)
        if outcome is None or outcome.outcome not in (PASS, FAIL):
            return False
        if on is not None and not _stands_on_limit(outcome):
            return False
        case: dict[str, Plain] = {
            "name": f"{clause.title or f'clause {clause.number}'}, {what}",
            "from": self.base,
        }
        if (day := on or self.on) != self.edition.head.first:
            case["on"] = day.isoformat()
        if sets:
            case["set"] = dict(sets)
        if gone:
            case["remove"] = list(gone)
        expected: dict[str, Plain] = {"outcome": outcome.outcome}
        margin = _margin_text(outcome.assessment.margin)
        if margin is not None:
            expected["margin"] = margin
        case["expect"] = {clause.number: expected}
        self.made.append(case)
        return True


def day_of(declaration: Document, edition: Edition) -> date:
    """The day of the car's event where it lies in the edition, else the edition's first."""
    given = declaration.get(("event", "date"))
    try:
        day = parse_day(given) if isinstance(given, str) else edition.head.first
    except ValueError:
        return edition.head.first  # told with its place when the car is read
    return day if edition.head.covers(day) else edition.head.first


def _stands_on_limit(outcome: Outcome | None) -> bool:
    return outcome is not None and outcome.assessment.margin_value == 0 and outcome.outcome in (PASS, FAIL)


def _margin_text(margin: Amount | None) -> Plain | None:
    if margin is None:
        return None
    value = Fraction(margin.value)
    if margin.unit is None:
        return int(value) if value.denominator == 1 else None
    shown = value / margin.unit.factor
    return show(value, margin.unit) if (shown * 10**MOST_DECIMALS).denominator == 1 else None


def _said(value: Plain) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    return decimal_text(value) if isinstance(value, Fraction) else str(value)
