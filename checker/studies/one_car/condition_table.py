"""A car in every condition: what it weighs in each corner, where it stops being legal, and what a kilogram does where.

Everything is exact: between two corners that differ only in fuel the weights run straight, so the crossings are roots,
not samples. What the rules say comes from the clauses themselves, each with its own conditions.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from checker.car.car import Car
from checker.car.described.stated import ACROSS, ALONG
from checker.car.described.vocabulary import Condition
from checker.car.scene import Scene
from checker.car.weights.differences import spot_of
from checker.car.weights.fuel import layers
from checker.car.weights.geometry import Amount, Spot
from checker.car.weights.states import BUILT_IN, fuel_legs, state_of
from checker.car.weights.weights import State
from checker.kinds.contract.check import Check, Combining
from checker.kinds.frame.crossing import crossing_between
from checker.kinds.frame.framed import Framed
from checker.kinds.judging.assessment import (
    FAIL,
    NOT_APPLICABLE,
    NOT_SHOWN,
    TOO_CLOSE,
    Assessment,
    Crossing,
    DecisionRule,
)
from checker.pack.model import Clause
from checker.quantities.kind import Unknown
from checker.verdict.decision import rule_for
from checker.verdict.inspection import Inspection

NAMES = ("total", "inside", "outside", "front", "rear")
"""The weights that are shown, and (but for the total) their percentages."""

WORN = Fraction(1)


@dataclass(frozen=True, slots=True)
class Corner:
    """The car in one state."""

    state: State
    kg: dict[str, Amount]
    """By `NAMES`."""
    shares: dict[str, Amount]
    """Parts of the total, as ratios."""


@dataclass(frozen=True, slots=True)
class Turn:
    """Where a clause stops holding as fuel is used, all else alike."""

    clause: Clause
    crossing: Crossing
    state: State
    """The rest of the state: driver, tyres, wear; its fuel says nothing."""
    failing: Assessment
    """What the clause comes to at the end where it fails."""


@dataclass(frozen=True, slots=True)
class Finish:
    """The least fuel to come home with on one set of tyres, worn."""

    tyres: str | None
    """None: those that the car was weighed on."""
    fuel_mm3: Fraction | None
    """None: no amount is enough."""
    clause: Clause | None
    """The clause that asks for it; None where the unusable rest is enough."""


@dataclass(frozen=True, slots=True)
class Effect:
    """What one kilogram more at a place does to the car as it was weighed."""

    place: str
    inside: Amount
    """Change of the inside percentage, as a ratio."""
    rear: Amount


@dataclass(frozen=True, slots=True)
class ConditionTable:
    """A car in every condition."""

    inspection: Inspection
    corners: tuple[Corner, ...]
    turns: tuple[Turn, ...]
    finishes: tuple[Finish, ...]
    effects: tuple[Effect, ...]
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
    following = tuple(condition_checks(inspection))
    return ConditionTable(
        inspection,
        tuple(corner(car, state) for state in car.states(any_condition(car))),
        tuple(_turns(inspection, following)),
        tuple(_finishes(inspection, following)),
        tuple(effects_of(car)),
        tuple(dict.fromkeys(clause.number for clause, _ in following)),
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


# -- clauses that depend on the condition ------------------------------------------------------------


def condition_checks(inspection: Inspection) -> Iterator[tuple[Clause, Framed]]:
    """Checks that must hold in a range of conditions, with their clauses."""
    for outcome in inspection.outcomes:
        if outcome.check is not None and outcome.outcome != NOT_APPLICABLE:
            for framed in _ranging(outcome.check):
                yield outcome.clause, framed


def _ranging(check: Check) -> Iterator[Framed]:
    """The check itself, or those of its parts that must all hold, where they range over conditions."""
    if isinstance(check, Framed) and check.conditions:
        if any(not condition.is_single for condition in check.conditions):
            yield check
    elif isinstance(check, Framed) or check.combines is Combining.ALL:
        for branch in check.branches():
            yield from _ranging(branch)


def exact_rule(inspection: Inspection) -> DecisionRule:
    """The exact limit alone divides: crossings are those of the car as it was weighed."""
    from dataclasses import replace

    return replace(rule_for(inspection.audience, inspection.pack.decision), exact=True)


def _turns(inspection: Inspection, following: tuple[tuple[Clause, Framed], ...]) -> Iterator[Turn]:
    scene, rule = Scene(inspection.car), exact_rule(inspection)
    for clause, framed in following:
        for condition in framed.conditions:
            for low, high in fuel_legs(inspection.car, condition):
                crossing = crossing_between(framed, low, high, scene, rule)
                if crossing is None:
                    continue
                end = low if crossing.fails == "below" else high
                failing = framed.in_one_state(scene.in_state(end), rule)
                yield Turn(clause, crossing, state_of(None, low.driver, low.tyres, low.wear), failing)


# -- the least fuel to finish with -------------------------------------------------------------------


def _finishes(inspection: Inspection, following: tuple[tuple[Clause, Framed], ...]) -> Iterator[Finish]:
    """For each set of tyres, worn: the least fuel from which on every clause holds."""
    car = inspection.car
    for tyres in car.tyre_sets or (None,):
        least = car.value("fuel.unusable")
        if isinstance(least, Unknown):
            return
        found = Finish(tyres, least, None)
        for clause, framed in following:
            needed = _needed(inspection, framed, tyres)
            if needed is None:
                found = Finish(tyres, None, clause)
                break
            if found.fuel_mm3 is not None and needed > found.fuel_mm3:
                found = Finish(tyres, needed, clause)
        yield found


def _needed(inspection: Inspection, framed: Framed, tyres: str | None) -> Fraction | None:
    """The least fuel with which one check holds, with these tyres and worn; None where none is enough."""
    scene, rule = Scene(inspection.car), exact_rule(inspection)
    needed = Fraction(0)
    for condition in framed.conditions:
        legs = [
            leg
            for leg in fuel_legs(inspection.car, condition)
            if leg[0].tyres in (None, tyres) and leg[0].wear in (None, WORN)
        ]
        for driver in dict.fromkeys(leg[0].driver for leg in legs):
            along = [leg for leg in legs if leg[0].driver == driver]
            margin = framed.in_one_state(scene.in_state(along[0][0]), rule).margin_value
            if margin is None or margin >= 0:
                continue
            turns = [crossing_between(framed, low, high, scene, rule) for low, high in along]
            first = next((turn for turn in turns if turn is not None and turn.fails == "below"), None)
            if first is None:
                return None
            needed = max(needed, first.fuel_mm3)
    return needed


# -- what a kilogram does ----------------------------------------------------------------------------


def effects_of(car: Car) -> Iterator[Effect]:
    """One kilogram more at each place that is known; what lies at one place stands once."""
    total, inside, rear = (car.weights().weight(name) for name in ("total", "inside", "rear"))
    seen: set[tuple[Amount, Amount]] = set()
    for place, spot in _places(car):
        if isinstance(spot.along, Unknown) or isinstance(spot.across, Unknown):
            continue
        if (spot.along, spot.across) in seen:
            continue
        seen.add((spot.along, spot.across))
        to_rear, to_left = car.geometry.shares(spot)
        to_inside = to_left
        if not isinstance(to_left, Unknown) and car.vocabulary.inside == "right":
            to_inside = 1 - to_left
        yield Effect(place, _gained(inside, to_inside, total), _gained(rear, to_rear, total))


def _gained(part: Amount, share: Amount, total: Amount) -> Amount:
    """What a part of the total gains in its percentage by one kilogram of which it takes a share."""
    known = [value for value in (part, share, total) if not isinstance(value, Unknown)]
    if len(known) < 3:
        return next(value for value in (part, share, total) if isinstance(value, Unknown))
    part_kg, part_of_it, total_kg = known
    return (part_kg + part_of_it) / (total_kg + 1) - part_kg / total_kg


def _places(car: Car) -> Iterator[tuple[str, Spot]]:
    """Every known place with its name: the tank, the driver, ballast, components, fluids."""
    tank = layers(car)
    for number, layer in enumerate(tank):
        yield "fuel" if len(tank) == 1 else f"fuel, layer {number + 1}", layer.spot
    yield "driver", Spot(car.value(f"driver.{ALONG}"), car.value(f"driver.{ACROSS}"))
    for name in car.fluids:
        yield name, Spot(car.value(f"fluids.{name}.{ALONG}"), car.value(f"fluids.{name}.{ACROSS}"))
    for list_name in ("ballast", "components"):
        for entry in car.every_entry(list_name):
            if ALONG in entry.fields or ACROSS in entry.fields:
                yield entry.label, spot_of(car, entry)
