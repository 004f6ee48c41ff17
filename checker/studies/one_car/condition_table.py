"""A car in every condition: what it weighs in each corner, where it stops being legal, and what a kilogram does where.

Everything is exact: between two corners that differ only in fuel the weights run straight, so the levels at which a
clause turns are roots, not samples. What the rules say comes from the clauses themselves, each with its own conditions.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from checker.car.car import Car
from checker.car.described.vocabulary import Condition
from checker.car.weights.fuel import layers
from checker.car.weights.geometry import MaybeFraction, Spot
from checker.car.weights.places import is_placed, spot_at, spot_of
from checker.car.weights.states import BUILT_IN, state_of
from checker.car.weights.weights import State
from checker.kinds.judging.assessment import FAIL, NOT_SHOWN, TOO_CLOSE, LegalFuel
from checker.pack.model import Clause
from checker.quantities.kind import Unknown
from checker.quantities.units import parse_unit
from checker.reading.quick_dataclasses import dataclass
from checker.studies.one_car.condition_checks import condition_checks
from checker.studies.one_car.finish import Finish, finishes
from checker.studies.one_car.load_limits import LoadLimit, limits_of
from checker.verdict.inspection import Inspection

NAMES = ("total", "inside", "outside", "front", "rear")
"""The weights that are shown, and (but for the total) their percentages."""


@dataclass(frozen=True, slots=True)
class Corner:
    """The car in one state."""

    state: State
    kg: dict[str, MaybeFraction]
    """By `NAMES`."""
    shares: dict[str, MaybeFraction]
    """Parts of the total, as ratios."""


@dataclass(frozen=True, slots=True)
class KilogramEffect:
    """What one kilogram more at a place does to the car as it was weighed, and what one pound more does."""

    place: str
    inside: MaybeFraction
    """Change of the inside percentage, as a ratio."""
    rear: MaybeFraction
    inside_lb: MaybeFraction
    rear_lb: MaybeFraction


@dataclass(frozen=True, slots=True)
class ConditionTable:
    inspection: Inspection
    corners: tuple[Corner, ...]
    fuel: tuple[tuple[Clause, LegalFuel], ...]
    """With how much fuel each clause is met, for every driver, tyre set and wear that it asks for."""
    finishes: tuple[Finish, ...]
    effects: tuple[KilogramEffect, ...]
    limits: tuple[LoadLimit, ...]
    """What the rules ask of the total and of percentages by themselves."""
    bearing: tuple[str, ...]
    """Numbers of the clauses that depend on the condition."""

    @property
    def complies(self) -> bool | None:
        """Of the clauses that depend on the condition: all met, one fails (False), or something is open (None)."""
        found = {o.outcome for o in self.inspection.outcomes if o.clause.number in self.bearing and o.counts}
        if FAIL in found:
            return False
        return None if not found or found & {TOO_CLOSE, NOT_SHOWN} else True


def condition_table(inspection: Inspection) -> ConditionTable:
    """Everything that weights do in the conditions that the car's declaration allows."""
    car = inspection.car
    following = dict.fromkeys(clause.number for clause, _ in condition_checks(inspection))
    return ConditionTable(
        inspection,
        tuple(corner(car, state) for state in car.states(any_condition(car))),
        tuple((o.clause, line) for o in inspection.outcomes for line in o.legal_fuel),
        finishes(inspection),
        tuple(effects_of(car)),
        tuple(limits_of(inspection)),
        tuple(following),
    )


def any_condition(car: Car) -> Condition:
    """The widest condition: the pack's `any`."""
    return car.vocabulary.conditions.get("any", BUILT_IN["any"])


def corner(car: Car, state: State | None) -> Corner:
    """The car's weights in one state."""
    weights = car.weights(state)
    return Corner(
        state or state_of(),
        {name: weights.weight(name) for name in NAMES},
        {name: weights.percentage(name) for name in NAMES[1:]},
    )


# -- what a kilogram does ----------------------------------------------------------------------------


def effects_of(car: Car) -> Iterator[KilogramEffect]:
    """One kilogram more at each place that is known; what lies at one place stands once."""
    total, inside, rear = (car.weights().weight(name) for name in ("total", "inside", "rear"))
    seen: set[Spot] = set()
    for place, spot in _places(car):
        if isinstance(spot.along, Unknown) or isinstance(spot.across, Unknown) or spot in seen:
            continue
        seen.add(spot)
        to_rear, to_inside = car.geometry.shares(spot)
        if not isinstance(to_inside, Unknown) and car.vocabulary.inside == "right":
            to_inside = 1 - to_inside
        gained = (
            _gained(part, share, total, more_kg)
            for more_kg in (Fraction(1), _LB.factor)
            for part, share in ((inside, to_inside), (rear, to_rear))
        )
        yield KilogramEffect(place, *gained)


_LB = parse_unit("lb", None)


def _gained(
    part: MaybeFraction, share: MaybeFraction, total: MaybeFraction, more_kg: Fraction
) -> MaybeFraction:
    """What a part of the total gains in its percentage by so much more, of which it takes a share."""
    known = [value for value in (part, share, total) if not isinstance(value, Unknown)]
    if len(known) < 3:
        return next(value for value in (part, share, total) if isinstance(value, Unknown))
    part_kg, part_of_it, total_kg = known
    return (part_kg + more_kg * part_of_it) / (total_kg + more_kg) - part_kg / total_kg


def _places(car: Car) -> Iterator[tuple[str, Spot]]:
    """Every known place with its name: the tank, the driver, ballast, components, fluids."""
    tank = layers(car)
    for number, layer in enumerate(tank):
        yield "fuel" if len(tank) == 1 else f"fuel, layer {number + 1}", layer.spot
    yield "driver", spot_at(car, "driver.at")
    for name in car.fluids:
        yield name, spot_at(car, f"fluids.{name}.at")
    for list_name in ("ballast", "components"):
        for entry in car.every_entry(list_name):
            if is_placed(entry):
                yield entry.label, spot_of(car, entry)
