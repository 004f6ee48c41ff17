"""Clauses of the Dunlin pack written out as one plain Python function: what judging costs at the least.

It takes values that are read already and gives pass or fail only: no margins, no uncertainty, no words.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import product

from checker.car.car import Car

F = Fraction


@dataclass(frozen=True, slots=True)
class Values:
    """What the function looks at, in kg, mm, mm3 and ratios."""

    capacity: Fraction
    total: Fraction
    left: Fraction
    rear: Fraction
    fuel: Fraction
    tank: Fraction
    unusable: Fraction
    density: Fraction
    fuel_rear: Fraction
    fuel_left: Fraction
    driver: Fraction
    driver_rear: Fraction
    driver_left: Fraction
    wear: tuple[Fraction, Fraction, Fraction]
    """In total, on the rear wheels, on the left wheels."""
    wet: tuple[Fraction, Fraction, Fraction]
    """What the wet set weighs more than the dry one, likewise."""
    widths: tuple[Fraction, Fraction]
    wheelbases: tuple[Fraction, Fraction]
    ballast: tuple[tuple[Fraction, Fraction], ...]
    """Mass and number of fixings of each piece."""


def values_of(car: Car) -> Values:
    """The values of a car that has been loaded."""

    def fact(name: str) -> Fraction:
        return Fraction(car.value(name))

    weights = car.weights()
    tyres = {
        (which, axle): fact(f"tyres.{which}.{axle}.mass")
        for which in ("dry", "wet")
        for axle in ("front", "rear")
    }
    front, rear = (2 * (tyres["wet", axle] - tyres["dry", axle]) for axle in ("front", "rear"))
    wear = {
        wheel: fact(f"wear.{wheel}") for wheel in ("front_left", "front_right", "rear_left", "rear_right")
    }
    wheelbase = (fact("dimensions.wheelbase_left") + fact("dimensions.wheelbase_right")) / 2
    track = fact("dimensions.front_width_over_tyres") - fact("tyres.dry.front.section")
    assert track == fact("dimensions.rear_width_over_tyres") - fact("tyres.dry.rear.section"), (
        "one track only"
    )
    fuel_rear, driver_rear = (fact(f"{what}.at.behind_front_axle") / wheelbase for what in ("fuel", "driver"))
    fuel_left, driver_left = (
        F(1, 2) + fact(f"{what}.at.left_of_centre") / track for what in ("fuel", "driver")
    )
    ballast = car.lists["ballast"]
    return Values(
        capacity=fact("engine.capacity"),
        total=Fraction(weights.weight("total")),  # type: ignore[arg-type]
        left=Fraction(weights.weight("left")),  # type: ignore[arg-type]
        rear=Fraction(weights.weight("rear")),  # type: ignore[arg-type]
        fuel=fact("weighing.fuel"),
        tank=fact("fuel.capacity"),
        unusable=fact("fuel.unusable"),
        density=fact("fuel.density"),
        fuel_rear=fuel_rear,
        fuel_left=fuel_left,
        driver=fact("driver.mass"),
        driver_rear=driver_rear,
        driver_left=driver_left,
        wear=(
            sum(wear.values(), F(0)),
            wear["rear_left"] + wear["rear_right"],
            wear["front_left"] + wear["rear_left"],
        ),
        wet=(front + rear, rear, (front + rear) / 2),
        widths=(fact("dimensions.front_width_over_tyres"), fact("dimensions.rear_width_over_tyres")),
        wheelbases=(fact("dimensions.wheelbase_left"), fact("dimensions.wheelbase_right")),
        ballast=tuple((Fraction(b.value("mass")), Fraction(b.value("fixings"))) for b in ballast),
    )


def _states(v: Values, drivers: tuple[int, ...]) -> Iterator[tuple[Fraction, Fraction, Fraction]]:
    """Total, rear and left in every corner of fuel, driver, tyres and wear."""
    for fuel, driver, wet, worn in product((v.unusable, v.tank), drivers, (0, 1), (0, 1)):
        burnt = (fuel - v.fuel) * v.density
        total = v.total + burnt + driver * v.driver + wet * v.wet[0] - worn * v.wear[0]
        rear = (
            v.rear
            + burnt * v.fuel_rear
            + driver * v.driver * v.driver_rear
            + wet * v.wet[1]
            - worn * v.wear[1]
        )
        left = (
            v.left
            + burnt * v.fuel_left
            + driver * v.driver * v.driver_left
            + wet * v.wet[2]
            - worn * v.wear[2]
        )
        yield total, rear, left


def judge(v: Values) -> dict[str, bool]:
    """Clauses 2.1, 3.1 to 3.4, 3.6, 3.7 and 4.1 to 4.3."""
    minimum = 560 if v.capacity <= 1_300_000 else 585 if v.capacity <= 1_600_000 else 610
    everywhere = list(_states(v, (0, 1)))
    return {
        "2.1": v.capacity <= 1_725_000,
        "3.1": all(total >= minimum for total, _, _ in _states(v, (0,))),
        "3.2": all(total >= 655 for total, _, _ in _states(v, (1,))),
        "3.3": all(left / total <= F(53, 100) for total, _, left in everywhere),
        "3.4": all(F(475, 1000) <= rear / total <= F(505, 1000) for total, rear, _ in everywhere),
        "3.6": sum(mass for mass, _ in v.ballast) <= 26,
        "3.7": all(mass <= F(19, 2) and bolts >= (3 if mass > 6 else 2) for mass, bolts in v.ballast),
        "4.1": all(width <= 1775 for width in v.widths),
        "4.2": abs(v.widths[0] - v.widths[1]) <= 25,
        "4.3": all(abs(base - 2205) <= 15 for base in v.wheelbases)
        and abs(v.wheelbases[0] - v.wheelbases[1]) <= 12,
    }
