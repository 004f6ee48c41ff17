"""What an act moves, as an axis along which a car can be changed either way, and the car with that done to it."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from fractions import Fraction

from checker.car.car import Car
from checker.kinds.judging.acts import Act, Do

Axis = tuple[str, ...]
"""What can be moved either way: ("move", "left") and ("move", "front") from the other side or end; ("add", "total") and
the like; a fact by its name, or a field by its list, the path of its entry and its name."""


def axis_of(act: Act, car: Car) -> Axis | None:
    """What an act moves; None where it is nothing that can be done to a car as data."""
    if act.amount is None or not isinstance(act.amount.value, Fraction):
        return None
    if act.do is Do.MOVE:
        ends = {_named(act.start, car), _named(act.end, car)}
        return next((("move", end) for end in ("left", "front") if end in ends), None)
    if act.do is Do.SHIFT_LOAD:
        return ("cross",)
    if act.target and act.do not in (Do.PROVIDE, Do.GIVE_UP):
        return act.target
    if act.do in (Do.ADD, Do.REMOVE) and not act.what:
        place = _named(act.end.replace(" ", "_") or "total", car)
        loads = car.loads(None)
        return ("add", place) if place == "total" or _under(place, loads) else None
    return None


def act_rises(act: Act, axis: Axis, car: Car) -> bool:
    """Which way along its axis an act goes."""
    if act.do is Do.MOVE:
        return _named(act.end, car) == axis[1]
    if act.do is Do.SHIFT_LOAD:
        return act.end.startswith("front outside")
    return act.do in (Do.ADD, Do.RAISE, Do.SPEND_MORE)


def _named(place: str, car: Car) -> str:
    """A side by left or right."""
    outside = "right" if car.inside == "left" else "left"
    return place.replace("inside", car.inside).replace("outside", outside)


def _under(place: str, loads: Collection[str]) -> list[str]:
    """The loads that were read which stand at a place."""
    return [load for load in loads if set(place.split("_")) <= set(load.split("_"))]


OPPOSITE = {"left": "right", "front": "rear"}


def done(car: Car, amounts: Mapping[Axis, Fraction]) -> Car:
    """The car with all of this done to it: kg moved or added where it was weighed, facts and fields moved."""
    for axis, amount in amounts.items():
        if axis[0] in ("move", "add") or axis == ("cross",):
            shift = _shift(car, axis, amount)
            car = car.with_weighing(car.weighing.shifted([shift] * car.weighings))
        elif len(axis) == 1:
            car = car.with_value(axis[0], None, amount)
        else:
            list_name, path, name = axis
            car = car.with_field(list_name, path, name, None, amount)
    return car


def _shift(car: Car, axis: Axis, amount: Fraction) -> dict[str, Fraction]:
    """What each load gains as so much is moved or added."""
    if axis == ("cross",):
        across, along = ("front_outside", "rear_inside"), ("front_inside", "rear_outside")
        halves = {**dict.fromkeys(across, amount / 2), **dict.fromkeys(along, -amount / 2)}
        return {_named(wheel, car): kg for wheel, kg in halves.items()}
    shift = _shares(car, axis[1], amount)
    if axis[0] == "move":
        for load, kg in _shares(car, OPPOSITE[axis[1]], -amount).items():
            shift[load] = shift.get(load, Fraction(0)) + kg
    return shift


def _shares(car: Car, place: str, amount: Fraction) -> dict[str, Fraction]:
    """An amount spread over the loads at a place, as they bear it already."""
    loads = car.loads(None)
    at = list(loads) if place == "total" else _under(place, loads)
    whole = sum((loads[load] for load in at), Fraction(0))
    if whole <= 0:
        return {load: amount / len(at) for load in at}
    return {load: amount * loads[load] / whole for load in at}
