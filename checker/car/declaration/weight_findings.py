"""What is to be noticed of a car's weights and places that cannot well be so, and what a what-if rests on."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from checker.car.car import Car
from checker.car.described.standard import AXLES, SIDES
from checker.car.described.stated import ACROSS, ALONG, FROM_REAR, Stated
from checker.car.premises import Premise, Taken, TakenAs, WhatIf
from checker.car.reading.mistakes import codes_of
from checker.car.remarks import Notice, Noticed, Remarked
from checker.car.weights.fuel import density
from checker.car.weights.geometry import Spot
from checker.car.weights.places import is_placed, spot_at, spot_of, spot_told
from checker.car.weights.tyres import of_tyre
from checker.car.weights.what_if import altered
from checker.quantities.amount import kilograms, millimetres
from checker.quantities.kind import Unknown
from checker.reading.marks import Whereabouts
from checker.reading.problems import Span

OVERHANG_MM = 1000
"""Fuel, people and ballast do not sit further than this beyond an axle."""
LOWEST_MM, HIGHEST_MM = 150, 1200
"""Between these a centre of gravity lies."""


def weight_findings(car: Car) -> Iterator[Remarked]:
    """Places beyond the car, parts heavier than the whole, and heights that cannot be."""
    for name, spot, place in _spots(car):
        yield from (Remarked("CD219", notice, place) for notice in _beyond(car, name, spot))
    yield from _parts_above_total(car)
    height = car.measured_height
    if height is not None and not LOWEST_MM <= height <= HIGHEST_MM:
        notice = Notice(what=Noticed.NO_SUCH_HEIGHT, amount=millimetres(height))
        yield Remarked("CD219", notice, car.raised[0].span)


def _spots(car: Car) -> Iterator[tuple[str, Spot, Whereabouts | Span | None]]:
    """Every place that is stated, with its name."""
    names = [f"fuel.at[{n}]" for n in range(car.tank_levels)] or ["fuel.at"]
    for name in (*names, "driver.at", *(f"fluids.{fluid}.at" for fluid in car.fluids)):
        keys = [f"{name}.{key.removeprefix('at.')}" for key in (ALONG, FROM_REAR, ACROSS)]
        stated: Stated | None = next((s for key in keys if (s := car.stated(key)) is not None), None)
        if stated is not None:
            yield name, spot_at(car, name), stated.place
    for every in car.lists.values():
        for entry in every:
            if is_placed(entry):
                yield f"{entry.label}: at", spot_of(car, entry), entry.place
    moved = [place for thing in car.planning.movable for place in (*thing.to, *(thing.between or ()))]
    for place in {id(one): one for one in (*car.planning.places, *moved)}.values():
        yield f"planning: {place.name or 'a movable thing'}", spot_told(place.fields), place.span


def _beyond(car: Car, name: str, spot: Spot) -> Iterator[Notice]:
    behind_front, behind_rear = (spot.behind(axle, car.geometry.wheelbase) for axle in (0, 1))
    if not isinstance(behind_rear, Unknown) and behind_rear >= OVERHANG_MM:
        yield Notice(what=Noticed.BEHIND, name=name, amount=millimetres(behind_rear))
    elif not isinstance(behind_front, Unknown) and -behind_front >= OVERHANG_MM:
        yield Notice(what=Noticed.AHEAD, name=name, amount=millimetres(-behind_front))
    across = spot.across
    widths = [car.value(f"dimensions.{axle}_width_over_tyres") for axle in ("front", "rear")]
    known = [width for width in widths if not isinstance(width, Unknown)]
    if known and not isinstance(across, Unknown) and 2 * abs(across) > max(known):
        yield Notice(what=Noticed.OUTSIDE, name=name, amount=millimetres(abs(across)))


def _parts_above_total(car: Car) -> Iterator[Remarked]:
    total = car.weights().weight("total")
    if isinstance(total, Unknown):
        return
    masses = [
        entry.value("mass") * entry.standing
        for name in ("components", "ballast")
        for entry in car.lists.get(name, ())
        if isinstance(entry.value("mass"), Fraction) and entry.label not in car.weighing.without
    ]
    fuel, per_mm3 = car.value("weighing.fuel"), density(car)
    if not isinstance(fuel, Unknown) and not isinstance(per_mm3, Unknown):
        masses.append(fuel * per_mm3)
    if car.value("weighing.driver") == "aboard" and isinstance(car.value("driver.mass"), Fraction):
        masses.append(car.value("driver.mass"))
    together = sum(masses, Fraction(0))
    if together > total:
        parts, whole = kilograms(together), kilograms(total)
        notice = Notice(what=Noticed.PARTS_ABOVE_WHOLE, amount=parts, whole=whole)
        yield Remarked(codes_of(car.weighing.origin).of(214), notice, car.weighing.place)


def centre_line_premises(car: Car) -> Iterator[Premise]:
    """Where the centre line lies between two tyres that are not equally wide, unless that is stated."""
    fitted = car.value("weighing.tyres")
    name = None if isinstance(fitted, Unknown) else car.tyre_set(fitted)
    for axle in AXLES if name is not None else ():
        if car.stated(f"dimensions.{axle}_centre_line_offset") is None:
            left, right = (of_tyre(car, name or "", f"{axle}_{side}", "section") for side in SIDES)
            if isinstance(left, Fraction) and isinstance(right, Fraction) and left != right:
                yield TakenAs(millimetres(left), axle, Taken.CENTRE_LINE, right=millimetres(right))


def what_if_premises(car: Car, *, since: bool) -> Iterator[Premise]:
    """Weights that nobody has weighed, and what a what-if leaves as it was weighed.

    Args:
        since: It is no what-if: the car's file tells what was done since the weighing.
    """
    for what, _ in altered(car):
        yield WhatIf(what, moves_loads=True, since=since)
    before = car.weighed_as
    for name, stated in car.facts.items():
        was = before.stated(name) if before is not None and name.startswith("dimensions.") else None
        if was is not None and was.value != stated.value:
            yield WhatIf((f"{name} is {stated.written}",), moves_loads=False)
