"""Where nothing that may be done is enough: what would be, each change by itself and as small as may be.

The program says how small: beside what it chooses, by how much a limit of the file is passed. What it says is rounded
outwards, put in the file's place, planned with and judged by the exact engine like any plan; only what holds is told.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from fractions import Fraction

from checker.car.described.planning import BallastPlace, Planning, ShelfPiece
from checker.car.described.stated import ACROSS, ALONG, DEFAULT, Stated
from checker.reading.quick_dataclasses import dataclass, replace
from checker.studies.planning.free import fields_alike
from checker.studies.planning.highs import solve
from checker.studies.planning.holding import More, more_that_would_do
from checker.studies.planning.lists import a_kilogram, caps_and_bars
from checker.studies.planning.looking import Found, Looking
from checker.studies.planning.model import Model
from checker.studies.planning.options import options_of
from checker.studies.planning.passable import Allowed, Limits, Passable, WiderPlace, WiderSlide, WiderStart
from checker.studies.planning.program import Decided, Program
from checker.studies.planning.race import options_beside
from checker.studies.planning.widened_limits import STEP_KG, OfPlaces, OfSlides, OfStart

_NEAR = Fraction(1, 10**6)
_TRIES = 4
_FURTHER = "further ballast"


@dataclass(frozen=True, slots=True)
class Wider:
    """What could be let be done more of, and what a plan would then do."""

    kg: float
    """How large a change it is: kg more at places or in the tank (a piece counts as one), and of what slides the kg
    that it moves by a wheelbase."""
    parts: tuple[WiderPlace | WiderSlide | WiderStart, ...]
    found: Found


def changes_that_would_do(looking: Looking) -> tuple[Wider, ...]:
    """Changes of what may be done that would each be enough, the least first; all of them at once where none is."""
    kinds = [kind for of in (OfPlaces, OfSlides, OfStart) if (kind := of(looking.model)).there()]
    found = [change for kind in kinds if (change := _least_change(looking, [kind])) is not None]
    if not found and len(kinds) > 1 and (change := _least_change(looking, kinds)) is not None:
        found = [change]
    return tuple(sorted(found, key=lambda change: change.kg))


def _least_change(looking: Looking, kinds: Sequence[Limits]) -> Wider | None:
    """The least that is enough, judged; None where nothing is, or it was not found in the time."""
    own: Allowed = (looking.model.planning, looking.model.start)
    lifted = own
    for kind in kinds:
        lifted = kind.lifted(lifted)
    model = _model(looking, lifted)
    limits = [list(kind.limits(model)) for kind in kinds]
    every = [limit for of_kind in limits for limit in of_kind]
    by = _passed(looking, model, every)
    for number in range(_TRIES):
        if not any(by):
            return None
        wider, left, parts = own, list(by), list[WiderPlace | WiderSlide | WiderStart]()
        for kind, of_kind in zip(kinds, limits, strict=True):
            passed, left = left[: len(of_kind)], left[len(of_kind) :]
            wider = kind.widened(wider, passed)
            parts += kind.told(passed)
        found, _ = replace(looking, model=_model(looking, wider)).found()
        if found is not None:
            kg = sum(limit.kg * float(one) for limit, one in zip(every, by, strict=True))
            return Wider(kg, tuple(parts), found)
        by = [one + limit.step * 4**number if one else one for limit, one in zip(every, by, strict=True)]
    return None


def _model(looking: Looking, allowed: Allowed) -> Model:
    """The program where other things may be done."""
    planning, start = allowed
    before = looking.before
    options, _ = options_beside(start, *options_of(before.car, planning))
    caps, barred = caps_and_bars(before.outcomes, before.car, options)
    return Model(before.car, planning, options, list(looking.rows), tuple(caps), tuple(barred), start)


def _passed(looking: Looking, model: Model, limits: Sequence[Passable]) -> list[Fraction]:
    """By how much each limit has to be passed, rounded up; [] where that is not enough, or not known in the time."""
    first = len(model.program.columns)
    passing = [
        replace(limit.within, terms={**limit.within.terms, first + at: -1.0})
        for at, limit in enumerate(limits)
    ]
    columns = (*model.program.columns, *(Decided("passed", 0, 1000, limit.whole) for limit in limits))
    costs = {first + at: limit.kg for at, limit in enumerate(limits)}
    found = solve(Program(columns, (*model.program.constraints, *passing)), costs, looking.clock)
    return [_up(Fraction(by), one.step) for by, one in zip(found.values[first:], limits, strict=False)]


def _up(value: Fraction, step: Fraction) -> Fraction:
    """The least number of whole steps that is no less, rounding of floats aside."""
    return max(0, math.ceil((value - _NEAR) / step)) * step


def more_that_holds(looking: Looking) -> More | None:
    """The least further ballast that would do, rounded up and tried where it can be."""
    model, before = looking.model, looking.before
    caps, _ = caps_and_bars(before.outcomes, model.car, (a_kilogram(model.car),))
    more = more_that_would_do(model, looking.clock, caps)
    if more is None or more.off is not None:
        return more
    up = {name: _up(Fraction(kg), STEP_KG) for name, kg in more.places}
    places = [_carrying_more(place, up.get(place.name)) for place in model.planning.places]
    total = sum(up.values(), Fraction(0)) if up else _up(Fraction(more.kg), STEP_KG)
    if not up:
        at = {ALONG: _whole_mm(more.along_mm), ACROSS: _whole_mm(more.across_mm)}
        places.append(BallastPlace(_FURTHER, at))
    like = fields_alike(model.car, model.planning)
    stock = ShelfPiece(_FURTHER, like, STEP_KG, int(total / STEP_KG), is_stock=True)
    own = model.planning
    wider = Planning(tuple(places), (*own.shelf, stock), own.movable, own.may_come_off)
    found, _ = replace(looking, model=_model(looking, (wider, model.start))).found()
    return replace(more, tried=found is not None)


def _carrying_more(place: BallastPlace, kg: Fraction | None) -> BallastPlace:
    if kg is None:
        return place
    return replace(place, most_kg=None if place.most_kg is None else place.most_kg + kg, pieces=None)


def _whole_mm(mm: float) -> Stated:
    value = Fraction(round(mm))
    return Stated(value, f"{value} mm", None, DEFAULT, place=None)
