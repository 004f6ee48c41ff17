"""Clauses on ballast and components: what an option does to each, asked of the exact engine.

A clause with one distance that every option moves by so much a time, as a cap on all ballast, becomes a row. Of any
other it is asked of each option by itself how often it may be done: a piece too heavy for its bolts is not placed.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction

from checker.car.car import Car
from checker.car.described.planning import BallastPlace, ShelfPiece
from checker.car.described.stated import ACROSS, ALONG, DEFAULT, Stated
from checker.car.scene import Scene
from checker.kinds.contract.check import Check, uses
from checker.kinds.judging.assessment import NOT_APPLICABLE, OUTCOMES, PASS, Assessment
from checker.kinds.judging.exact_rule import EXACTLY
from checker.reading.quick_dataclasses import dataclass, replace
from checker.studies.planning.doing import with_done
from checker.studies.planning.options import Doing, Option
from checker.studies.planning.rows import on_weights
from checker.verdict.outcome import Outcome


@dataclass(frozen=True, slots=True)
class Cap:
    """A clause whose one distance changes by so much each time that an option is done."""

    clause: str
    now: Fraction
    gains: Mapping[Option, Fraction]


@dataclass(frozen=True, slots=True)
class Barred:
    """An option that a clause does not let be done so often."""

    option: Option
    clause: str
    most: int


def touched(options: Sequence[Option]) -> frozenset[str]:
    """The lists whose entries options change."""
    return frozenset("ballast" if o.doing is Doing.ADD else str(o.path[0]) for o in options)


def on_lists(outcome: Outcome, lists: frozenset[str]) -> bool:
    """Whether a clause looks at entries of these lists, and at no weights."""
    if outcome.check is None or not outcome.counts or on_weights(outcome.check):
        return False
    return any(name.partition(".")[0] in lists for name in uses(outcome.check))


def caps_and_bars(
    outcomes: Sequence[Outcome], car: Car, options: Sequence[Option]
) -> tuple[list[Cap], list[Barred]]:
    """What clauses on lists ask of the options."""
    car = replace(car, all_entries={"ballast": (), **car.all_entries})  # what is added makes it a stated list
    caps: list[Cap] = []
    barred: list[Barred] = []
    lists = touched(options)
    for outcome in outcomes:
        if outcome.check is not None and on_lists(outcome, lists):
            cap = _cap(outcome.clause.number, outcome.check, car, options)
            if cap is not None:
                caps.append(cap)
            else:
                barred += _bars(outcome.clause.number, outcome.check, car, options)
    return caps, barred


def a_kilogram(car: Car) -> Option:
    """A kilogram of ballast, to see what clauses on ballast say of it."""
    nought = Stated(Fraction(0), "0 mm", None, DEFAULT, place=None)
    place = BallastPlace("anywhere", {ALONG: nought, ACROSS: nought})
    piece = ShelfPiece("one kilogram", {}, Fraction(1), 1)
    return Option(Doing.ADD, piece.label, piece, place, 1, piece.kg, car)


def _judged(check: Check, car: Car, times: Mapping[Option, int]) -> Assessment:
    return check.assess(Scene(with_done(car, times)), EXACTLY)


def _cap(clause: str, check: Check, car: Car, options: Sequence[Option]) -> Cap | None:
    def distance(times: Mapping[Option, int]) -> Fraction | None:
        found = _judged(check, car, times)
        return found.distances[0] if len(found.distances) == 1 and not found.branches else None

    now = distance({})
    if now is None:
        return None
    gains: dict[Option, Fraction] = {}
    for option in options:
        once = distance({option: 1})
        often = distance({option: option.most})
        if once is None or often is None or often - now != (once - now) * option.most:
            return None
        gains[option] = once - now
    alone = {option.path or option.what: option for option in options}  # one of each that exclude each other
    together = distance(dict.fromkeys(alone.values(), 1))
    expected = now + sum((gains[option] for option in alone.values()), Fraction(0))
    return Cap(clause, now, gains) if together == expected else None


def _bars(clause: str, check: Check, car: Car, options: Sequence[Option]) -> list[Barred]:
    before = _rank(_judged(check, car, {}))
    found: list[Barred] = []
    for option in options:

        def allowed(times: int, option: Option = option) -> bool:
            return _rank(_judged(check, car, {option: times})) >= before

        if allowed(option.most):
            continue
        low, high = 0, option.most
        while high - low > 1:
            middle = (low + high) // 2
            low, high = (middle, high) if allowed(middle) else (low, middle)
        found.append(Barred(option, clause, low))
    return found


def _rank(found: Assessment) -> int:
    """The better the outcome, the higher; what does not apply binds no more than what is met."""
    return OUTCOMES.index(PASS if found.outcome == NOT_APPLICABLE else found.outcome)
