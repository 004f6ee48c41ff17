"""What is to be said of a car's weights and places that cannot well be so, before anybody trusts the numbers.

These are warnings: which of the numbers is wrong cannot be told from here.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from checker.car.car import Car
from checker.car.described.stated import ACROSS, ALONG, FROM_REAR, READINGS, Stated
from checker.car.weights.fuel import density
from checker.car.weights.geometry import Spot
from checker.car.weights.places import is_placed, spot_at, spot_of
from checker.car.weights.what_if import altered
from checker.quantities.display import show
from checker.quantities.kind import Unknown
from checker.quantities.units import parse_unit
from checker.reading.problems import Problem, Span

OVERHANG_MM = 1000
"""Fuel, people and ballast do not sit further than this beyond an axle."""
LOWEST_MM, HIGHEST_MM = 150, 1200
"""Between these a centre of gravity lies."""

_KG, _MM = parse_unit("kg", None), parse_unit("mm", None)


def weight_findings(car: Car) -> Iterator[Problem]:
    """Warnings about places beyond the car, parts heavier than the whole, and heights that cannot be."""
    for name, spot, span in _spots(car):
        yield from _beyond(car, name, spot, span)
    yield from _parts_above_total(car)
    height = car.measured_height
    if height is not None and not LOWEST_MM <= height <= HIGHEST_MM:
        message = f"centre_of_gravity.raised: it comes out {show(height, _MM, 0)} above the ground"
        hint = "check which axle was raised, by how much, and what the other carried"
        yield Problem("CD219", message, car.raised[0].span, hint, warning=True)


def _spots(car: Car) -> Iterator[tuple[str, Spot, Span | None]]:
    """Every place that is stated, with its name."""
    names = [f"fuel.at[{n}]" for n in range(car.tank_levels)] or ["fuel.at"]
    for name in (*names, "driver.at", *(f"fluids.{fluid}.at" for fluid in car.fluids)):
        keys = [f"{name}.{key.removeprefix('at.')}" for key in (ALONG, FROM_REAR, ACROSS)]
        stated: Stated | None = next((s for key in keys if (s := car.stated(key)) is not None), None)
        if stated is not None:
            yield name, spot_at(car, name), stated.span
    for every in car.lists.values():
        for entry in every:
            if is_placed(entry):
                yield f"{entry.label}: at", spot_of(car, entry), entry.span


def _beyond(car: Car, name: str, spot: Spot, span: Span | None) -> Iterator[Problem]:
    behind_front, behind_rear = (spot.behind(axle, car.geometry.wheelbase) for axle in (0, 1))
    if not isinstance(behind_rear, Unknown) and behind_rear >= OVERHANG_MM:
        yield _place(f"{name} lies {show(behind_rear, _MM, 0)} behind the rear axle", span)
    elif not isinstance(behind_front, Unknown) and -behind_front >= OVERHANG_MM:
        yield _place(f"{name} lies {show(-behind_front, _MM, 0)} ahead of the front axle", span)
    across = spot.across
    widths = [car.value(f"dimensions.{axle}_width_over_tyres") for axle in ("front", "rear")]
    known = [width for width in widths if not isinstance(width, Unknown)]
    if known and not isinstance(across, Unknown) and 2 * abs(across) > max(known):
        yield _place(
            f"{name} lies {show(abs(across), _MM, 0)} from the centre line, outside the wheels", span
        )


def _place(message: str, span: Span | None) -> Problem:
    hint = "places are measured from an axle, and sideways from the centre line"
    return Problem("CD219", message, span, hint, warning=True)


def _parts_above_total(car: Car) -> Iterator[Problem]:
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
        by_official = any(s.origin == READINGS for r in car.weighing.readings for s in r.loads.values())
        message = (
            f"the parts, ballast, fuel and driver that are stated weigh {show(together, _KG)} together,"
            f" more than the whole car on its pads, {show(total, _KG)}"
        )
        hint = "check their masses and counts; what was not on the car does not belong here"
        yield Problem(f"{'RD' if by_official else 'CD'}214", message, car.weighing.span, hint, warning=True)


def what_if_assumptions(car: Car) -> Iterator[str]:
    """Sentences on weights that nobody has weighed, and on what a what-if leaves as it was weighed."""
    for words, _ in altered(car):
        yield f"what if: {words}; its weight is worked out by the lever rules, and nobody has weighed the car so"
    before = car.weighed_as
    for name, stated in car.facts.items():
        was = before.stated(name) if before is not None and name.startswith("dimensions.") else None
        if was is not None and was.value != stated.value:
            yield (
                f"what if: {name} is {stated.written}, and the loads stay as weighed: how they would move with the"
                " wheels is not predicted"
            )
