"""Limits of what may be done that could be let be passed: what places carry, how far things slide, a race's start.

Each kind lifts its limits from what may be done, says by what in the program they are passed, and sets them anew.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from fractions import Fraction

from checker.car.car import Car
from checker.car.described.planning import BallastPlace, Movable
from checker.car.described.stated import ABOVE, ACROSS, ALONG, DEFAULT, Stated
from checker.car.weights.fuel import density
from checker.car.weights.geometry import MaybeFraction
from checker.car.weights.places import spot_told
from checker.quantities.display import decimal_text
from checker.quantities.kind import Unknown, where_known
from checker.reading.quick_dataclasses import dataclass, replace
from checker.studies.planning.model import Model
from checker.studies.planning.options import DRIVER, TANK, spot_now, standing_mass
from checker.studies.planning.passable import Allowed, Passable, WiderPlace, WiderSlide, WiderStart
from checker.studies.planning.program import Constraint
from checker.studies.planning.race import STEP_MM3

FURTHEST_MM = 500
"""How far beyond its ends a thing is thought to slide."""
STEP_KG = Fraction(1, 10)
"""What places are let carry more is told in steps of this."""


class OfPlaces:
    """What places may carry: kg and pieces."""

    def __init__(self, model: Model) -> None:
        self._places = model.planning.places

    def there(self) -> bool:
        return any(place.most_kg is not None or place.pieces is not None for place in self._places)

    def lifted(self, allowed: Allowed) -> Allowed:
        planning, start = allowed
        free = tuple(replace(place, most_kg=None, pieces=None) for place in planning.places)
        return replace(planning, places=free), start

    def limits(self, model: Model) -> Iterator[Passable]:
        for own, free in zip(self._places, model.planning.places, strict=True):
            for within in model.at_place(free, own.most_kg, None):
                yield Passable(within, 1.0, STEP_KG, whole=False)
            for within in model.at_place(free, None, own.pieces):
                yield Passable(within, 1.0, Fraction(1), whole=True)

    def widened(self, allowed: Allowed, by: Sequence[Fraction]) -> Allowed:
        planning, start = allowed
        passed = iter(by)
        wider = []
        for place in planning.places:
            most = None if place.most_kg is None else place.most_kg + next(passed)
            pieces = None if place.pieces is None else place.pieces + int(next(passed))
            wider.append(replace(place, most_kg=most, pieces=pieces))
        return replace(planning, places=tuple(wider)), start

    def told(self, by: Sequence[Fraction]) -> Iterator[WiderPlace]:
        passed = iter(by)
        for place in self._places:
            kg = Fraction(0) if place.most_kg is None else next(passed)
            number = 0 if place.pieces is None else int(next(passed))
            most = place.most_kg + kg if kg and place.most_kg is not None else None
            pieces = place.pieces + number if number and place.pieces is not None else None
            if kg or number:
                yield WiderPlace(place.name, most, kg, pieces, number)


@dataclass(frozen=True, slots=True)
class _Rail:
    """What a thing slides on, in mm behind the front axle and left of the centre line."""

    thing: Movable
    first: tuple[Fraction, Fraction]
    last: tuple[Fraction, Fraction]
    now: Fraction
    """mm from the first end."""
    length: Fraction
    kg_per_mm: float

    def with_ends(self, before: Fraction, beyond: Fraction) -> Movable:
        """The thing, sliding so many mm further."""
        assert self.thing.between is not None
        low, high = self.thing.between
        low = self._moved(low, self.first, -before) if before else low
        high = self._moved(high, self.last, beyond) if beyond else high
        return replace(self.thing, between=(low, high))

    def _moved(self, end: BallastPlace, at: tuple[Fraction, Fraction], by_mm: Fraction) -> BallastPlace:
        x, y = (
            here + (last - first) * by_mm / self.length
            for here, first, last in zip(at, self.first, self.last, strict=True)
        )
        kept = {key: stated for key, stated in end.fields.items() if key == ABOVE}
        return replace(end, fields={ALONG: _stated(x), ACROSS: _stated(y), **kept})


class OfSlides:
    """The ends that things slide between."""

    def __init__(self, model: Model) -> None:
        paths = {option.path for option in model.options if option.slides}
        rails = [(at, _rail(model.car, thing)) for at, thing in enumerate(model.planning.movable)]
        self._rails = {at: rail for at, rail in rails if rail is not None and rail.thing.path in paths}

    def there(self) -> bool:
        return bool(self._rails)

    def lifted(self, allowed: Allowed) -> Allowed:
        return self.widened(allowed, [Fraction(FURTHEST_MM)] * (2 * len(self._rails)))

    def limits(self, model: Model) -> Iterator[Passable]:
        for rail in self._rails.values():
            low, high = (at for at, o in enumerate(model.options) if o.slides and o.path == rail.thing.path)
            now, length = float(rail.now), float(rail.length)
            slid = {low: -(FURTHEST_MM + now), high: FURTHEST_MM + length - now}
            back = {column: -by for column, by in slid.items()}
            for within in (Constraint("slide", back, high=now), Constraint("slide", slid, high=length - now)):
                yield Passable(within, rail.kg_per_mm, Fraction(1), whole=False)

    def widened(self, allowed: Allowed, by: Sequence[Fraction]) -> Allowed:
        planning, start = allowed
        movable = list(planning.movable)
        for number, (at, rail) in enumerate(self._rails.items()):
            movable[at] = rail.with_ends(by[2 * number], by[2 * number + 1])
        return replace(planning, movable=tuple(movable)), start

    def told(self, by: Sequence[Fraction]) -> Iterator[WiderSlide]:
        for number, rail in enumerate(self._rails.values()):
            for end in (0, 1):
                mm = by[2 * number + end]
                wider = rail.with_ends(mm, mm)
                if mm and wider.between is not None:
                    yield WiderSlide(wider.what, wider.between[end], mm)


def _rail(car: Car, thing: Movable) -> _Rail | None:
    """The rail of a thing that slides; None of any other, or where something of it is not known."""
    if thing.between is None:
        return None
    base, mass = car.geometry.wheelbase, _mass(car, thing)
    spots = [*(spot_told(end.fields) for end in thing.between), spot_now(car, thing.path)]
    places = [value for spot in spots for value in (spot.behind(0, base), spot.across)]
    known = [Fraction(value) for value in (*places, base, mass) if not isinstance(value, Unknown)]
    if len(known) < len(places) + 2:
        return None
    x0, y0, x1, y1, x, y, wheelbase, kg = known
    length = Fraction(math.hypot(x1 - x0, y1 - y0))
    if not length:
        return None
    now = Fraction(math.hypot(x - x0, y - y0))
    return _Rail(thing, (x0, y0), (x1, y1), now, length, float(kg / wheelbase))


def _mass(car: Car, thing: Movable) -> MaybeFraction:
    """In kg; of a tank when it is full."""
    if thing.path == TANK:
        return where_known(lambda mm3, kg: mm3 * kg, car.value("fuel.capacity"), density(car))
    if thing.path != DRIVER:
        return standing_mass(car, thing.path)
    of_driver: MaybeFraction = car.value("driver.mass")
    return of_driver


def _stated(mm: Fraction) -> Stated:
    return Stated(mm, f"{decimal_text(mm, 3)} mm", None, DEFAULT, place=None)


class OfStart:
    """The fuel that a race may be begun with, which the file says; what is needed and the tank bound it still."""

    def __init__(self, model: Model) -> None:
        self._start = model.start
        self._less = self._more = 0
        if self._start is not None:
            car, race = model.car, self._start.race
            rest, holds = car.value("fuel.unusable"), car.value("fuel.capacity")
            needed = race.burnt + (0 if isinstance(rest, Unknown) else rest)
            self._less = int((self._start.least_mm3 - needed) / STEP_MM3)
            if not isinstance(holds, Unknown):
                highest = self._start.least_mm3 + self._start.steps * STEP_MM3
                self._more = int((holds - highest) / STEP_MM3)

    def there(self) -> bool:
        return bool(self._less or self._more)

    def lifted(self, allowed: Allowed) -> Allowed:
        return self.widened(allowed, [Fraction(self._less), Fraction(self._more)])

    def limits(self, model: Model) -> Iterator[Passable]:
        if self._start is None:
            return
        kg, fuel = float(self._start.loads.total), model.fuel_at
        less = Constraint("start", {fuel: -1.0}, high=-float(self._less))
        more = Constraint("start", {fuel: 1.0}, high=float(self._less + self._start.steps))
        yield from (Passable(within, kg, Fraction(1), whole=True) for within in (less, more))

    def widened(self, allowed: Allowed, by: Sequence[Fraction]) -> Allowed:
        planning, start = allowed
        if start is None:
            return allowed
        less, more = (min(int(one), most) for one, most in zip(by, (self._less, self._more), strict=True))
        least = start.least_mm3 - less * STEP_MM3
        steps, reckoned_at = start.steps + less + more, start.reckoned_at + less
        return planning, replace(start, least_mm3=least, steps=steps, reckoned_at=reckoned_at)

    def told(self, by: Sequence[Fraction]) -> Iterator[WiderStart]:
        if self._start is None:
            return
        less, more = (min(int(one), most) for one, most in zip(by, (self._less, self._more), strict=True))
        highest = self._start.least_mm3 + self._start.steps * STEP_MM3
        if less:
            yield WiderStart(self._start.least_mm3 - less * STEP_MM3, -less * STEP_MM3)
        if more:
            yield WiderStart(highest + more * STEP_MM3, more * STEP_MM3)
