"""One car with values moved, judged by one clause: where it stands on a limit, kept as cases."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from fractions import Fraction
from itertools import product
from typing import Any

from checker.car.declaration.loading import load_car
from checker.car.described.vocabulary import ENTRANT
from checker.kinds.judging.assessment import FAIL, PASS, Amount
from checker.pack.editions.edition import Edition
from checker.pack.model import Clause, Pack
from checker.quantities.display import show
from checker.quantities.rounding import round_to
from checker.quantities.units import MOMENTS
from checker.reading.document import REMOVE, Document, Edit, Plain
from checker.reading.paths import parse_path
from checker.reading.problems import InputError
from checker.reading.quick_dataclasses import dataclass, field
from checker.studies.cases.adjustable import MOST_DECIMALS, Knob, distance
from checker.studies.cases.every_bound import WhichBound, deciding
from checker.verdict.inspection import Outcome, inspect_car
from checker.verdict.run import dated

_TURNS = 4
"""How often a line is drawn anew towards the limit."""
FURTHEST = 2**15
"""How many steps from a car's own value are looked at: ninety years of days."""


@dataclass(slots=True)
class TriedCar:
    """A base car whose values are moved, and the cases that are kept of it."""

    edition: Edition
    declaration: Document
    on: date
    base: str
    """The car's file, as the cases are to name it."""
    made: list[Plain] = field(default_factory=list)
    missing: list[tuple[str, str]] = field(default_factory=list)
    """What could not be suggested: the clause's number, and why."""

    _names: set[str] = field(default_factory=set)
    tried: tuple[set[WhichBound | None], set[WhichBound | None]] = field(init=False)
    """Of the clause in hand: the bounds that cases stand on, and those that cases lie beyond."""
    pack: Pack = field(init=False)
    document: Document = field(init=False)
    """The declaration, with the day that its car is judged for."""

    def __post_init__(self) -> None:
        self.pack = self.edition.pack_on(self.on)
        self.document = dated(self.declaration, self.on)

    def to_limit(self, number: str, knob: Knob, start: Outcome) -> tuple[object, bool]:
        """The value at which the clause's margin is zero, or a value near it; None where neither is found."""
        margin = start.assessment.margin_value
        if margin is None:
            return None, False
        for direction in knob.directions:
            moved = self.margin_at(number, knob, knob.stepped(direction))
            if moved is not None and moved != margin:
                return self.along(number, knob, (knob.value, margin), (knob.stepped(direction), moved))
        return None, False

    def along(
        self, number: str, knob: Knob, first: tuple[object, Fraction], second: tuple[object, Fraction]
    ) -> tuple[object, bool]:
        """Follow the line through two values, each with its margin, to where that is zero, and again from there."""
        (here, margin), (there, moved) = first, second
        for _ in range(_TURNS):
            if margin == 0:
                return here, True
            if moved == margin:
                return (here if knob.by_month or here == there else None), False
            by = distance(there, here) * margin / (margin - moved)
            there, moved, here = here, margin, knob.shifted(here, by)
            found = self.margin_at(number, knob, here)
            if found is None:
                return None, False
            margin = found
        return here, margin == 0

    def first_broken(self, number: str, knob: Knob, sign: int) -> object:
        """Where a value stands on the first limit one way; None where it fails nowhere, or no line leads there."""

        def broken(steps: int) -> Fraction | None:
            margin = self.margin_at(number, knob, knob.stepped(sign * steps))
            return margin if margin is not None and margin < 0 else None

        met, fails = 0, 1
        while broken(fails) is None:
            met, fails = fails, 4 * fails
            if fails > FURTHEST:
                return None
        while fails - met > 1:
            middle = (met + fails) // 2
            met, fails = (met, middle) if broken(middle) is not None else (middle, fails)
        near, beyond = (knob.stepped(sign * steps) for steps in (fails, fails + 1))
        margin, further = broken(fails), broken(fails + 1)
        if margin is None or further is None:
            return None
        return self.along(number, knob, (near, margin), (beyond, further))[0]

    def margin_at(self, number: str, knob: Knob, value: object) -> Fraction | None:
        outcome = self.outcome_with(number, knob, value)
        return None if outcome is None else outcome.assessment.margin_value

    def outcome_with(self, number: str, knob: Knob, value: object) -> Outcome | None:
        text = knob.text(value)
        return None if text is None else self.judged(number, {knob.path: text})

    def just_beyond(
        self, clause: Clause, knob: Knob, limit: Any, signs: Sequence[int] = (), named: str = "the limit"
    ) -> bool:
        """A case one small step beyond the limit; the step is in the value's own unit."""
        unit = Fraction(1) if knob.unit is None else knob.unit.factor
        in_ones = knob.whole or knob.unit == MOMENTS or isinstance(limit, date)
        sizes = [Fraction(1)] if in_ones else [Fraction(1, 10), Fraction(1)]
        for size, sign in product(sizes, signs or knob.directions):
            if isinstance(limit, date):
                text = knob.text(knob.day_beside(limit, sign))
            else:
                text = knob.text(round_to(limit + sign * size * unit, unit / 1000, "half_even"))
            outcome = None if text is None else self.judged(clause.number, {knob.path: text})
            if outcome is not None and outcome.outcome == FAIL:
                new = not signs or deciding(outcome.assessment) not in self.tried[1]
                return new and self.keep(clause, f"just beyond {named}", {knob.path: text})
        return False

    def judged(
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

    def keep(
        self,
        clause: Clause,
        what: str,
        sets: Mapping[str, Plain],
        gone: Sequence[str] = (),
        on: date | None = None,
    ) -> bool:
        outcome = self.judged(clause.number, sets, gone, on)
        if outcome is None or outcome.outcome not in (PASS, FAIL):
            return False
        if on is not None and not stands_on_limit(outcome):
            return False
        name = f"{clause.title or f'clause {clause.number}'}, {what}"
        if name in self._names:
            name = f"{name} ({', '.join((*sets, *gone))})"
        self._names.add(name)
        case: dict[str, Plain] = {"name": name, "from": self.base}
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
        self.tried[outcome.outcome == FAIL and not stands_on_limit(outcome)].add(deciding(outcome.assessment))
        return True


def stands_on_limit(outcome: Outcome | None) -> bool:
    return outcome is not None and outcome.assessment.margin_value == 0 and outcome.outcome in (PASS, FAIL)


def _margin_text(margin: Amount | None) -> Plain | None:
    if margin is None:
        return None
    value = Fraction(margin.value)
    if margin.unit is None:
        return int(value) if value.denominator == 1 else None
    shown = value / margin.unit.factor
    return show(value, margin.unit) if (shown * 10**MOST_DECIMALS).denominator == 1 else None
