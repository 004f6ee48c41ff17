"""What differs between the weighing and another state of the car, in kg on each axle and each side.
Fuel and driver act at their places, by the lever rules. Tyres and their wear act at the contact centres
themselves, so they need no levers. An unknown touches only what depends on it: with the tank's place
unknown, the total is still known. What does not change is not asked for.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from typing import TYPE_CHECKING, Any

from checker.car.levers import HALF, contact_track, left_share, left_share_of_car, mean_wheelbase, rear_share
from checker.car.standard import AXLES, WHEELS
from checker.quantities.display import show
from checker.quantities.kind import Unknown, unite
from checker.quantities.units import parse_unit
from checker.quantities.words import fold

if TYPE_CHECKING:
    from checker.car.car import Car
    from checker.car.weights import State

Amount = Fraction | Unknown

LITRE = parse_unit("L", None)

LEVERS = ("wheelbase_left", "wheelbase_right", "front_width_over_tyres", "rear_width_over_tyres")
"""Dimensions that the levers are made of."""


@dataclass(frozen=True, slots=True)
class Change:
    """One thing that is otherwise than it was at the weighing."""

    words: str
    """As in "fuel from 6 L to 0 L"."""
    kg: Mapping[str, Amount]
    """What it adds to total, front, rear, left and right."""
    uses: tuple[str, ...]
    """Names of all that it was worked out from."""


def where_known(compute: Callable[..., Fraction], *values: Any) -> Amount:
    """The result, or one `Unknown` that lacks all that the values lack."""
    unknown = [value for value in values if isinstance(value, Unknown)]
    return unite(unknown) if unknown else compute(*values)


class Geometry:
    """The levers of one car in mm: mean wheelbase, and each axle's track between contact centres."""

    __slots__ = ("_car", "_shares", "front_track", "rear_track", "uses", "wheelbase")

    def __init__(self, car: Car) -> None:
        self.wheelbase = where_known(
            mean_wheelbase, car.value("dimensions.wheelbase_left"), car.value("dimensions.wheelbase_right")
        )
        self.front_track = _track(car, "front")
        self.rear_track = _track(car, "rear")
        self.uses = (
            *(f"dimensions.{name}" for name in LEVERS),
            "weighing.tyres",
            *(f"tyres.{name}.{axle}.section" for name in car.tyre_sets for axle in AXLES),
        )
        """Names of all that the levers are worked out from."""
        self._car = car
        self._shares: dict[str, tuple[Amount, Amount]] = {}

    def shares(self, section: str) -> tuple[Amount, Amount]:
        """The parts of the fuel's or the driver's mass that fall on the rear axle and on the left side."""
        if section not in self._shares:
            along = self._car.value(f"{section}.at.behind_front_axle")
            across = self._car.value(f"{section}.at.left_of_centre")
            to_rear = Fraction(0) if along == 0 else where_known(rear_share, along, self.wheelbase)
            self._shares[section] = (to_rear, self._left_share(to_rear, across))
        return self._shares[section]

    def _left_share(self, to_rear: Amount, across: Amount) -> Amount:
        """The part on the left side; asks only for the levers that matter at that place."""
        if across == 0:
            return HALF
        tracks_are_equal = not isinstance(self.front_track, Unknown) and self.front_track == self.rear_track
        if tracks_are_equal or to_rear == 0:
            return where_known(left_share, across, self.front_track)
        if to_rear == 1:
            return where_known(left_share, across, self.rear_track)
        return where_known(left_share_of_car, to_rear, across, self.front_track, self.rear_track)


def _track(car: Car, axle: str) -> Amount:
    return where_known(
        contact_track, car.value(f"dimensions.{axle}_width_over_tyres"), _section_measured(car, axle)
    )


def _section_measured(car: Car, axle: str) -> Amount:
    """The section of the tyres that were on the axle when measured; that of every set, if all are alike."""
    if not car.tyre_sets:
        return Unknown(absent=("tyres",))
    fitted = car.value("weighing.tyres")
    if isinstance(fitted, Unknown):
        sections = {car.value(f"tyres.{name}.{axle}.section") for name in car.tyre_sets}
        alike = sections.pop()
        return fitted if sections or isinstance(alike, Unknown) else alike
    section: Amount = car.value(f"tyres.{car.tyre_set(fitted)}.{axle}.section")
    return section


@dataclass(frozen=True, slots=True)
class Changes:
    """All that differs from the weighing in one state."""

    changes: tuple[Change, ...]
    uses: frozenset[str]
    """Names of all that decides whether something differs, and by how much."""


def changes(car: Car, state: State) -> Changes:
    """All that differs from the weighing in that state; each change is worked out once for a car."""
    makers: tuple[tuple[Callable[[Car, Any], Change | None], str, Any], ...] = (
        (_fuel, "weighing.fuel", state.fuel),
        (_driver, "weighing.driver", state.driver),
        (_tyres, "weighing.tyres", state.tyres),
        (_wear, "weighing.wear", state.wear),
    )
    found: list[Change] = []
    uses: set[str] = set()
    for maker, decides, wanted in makers:
        if wanted is None:
            continue
        if (maker, wanted) not in car.changes:
            car.changes[maker, wanted] = maker(car, wanted)
        change = car.changes[maker, wanted]
        uses.add(decides)
        if change is not None:
            found.append(change)
            uses.update(change.uses)
    return Changes(tuple(found), frozenset(uses))


def _fuel(car: Car, wanted: Amount) -> Change | None:
    weighed = car.value("weighing.fuel")
    if not isinstance(wanted, Unknown) and wanted == weighed:
        return None
    mass = where_known(
        lambda to, of, density: (to - of) * density, wanted, weighed, car.value("fuel.density")
    )
    words = f"fuel from {litres(weighed) or 'an unknown amount'} to {litres(wanted) or 'a full tank'}"
    return _at_place(car, words, mass, "fuel", ("weighing.fuel", "fuel.density"))


@lru_cache(maxsize=256)
def litres(amount: Amount) -> str:
    """An amount of fuel as shown in reports; "" for an unknown one."""
    return "" if isinstance(amount, Unknown) else show(amount, LITRE)


def _driver(car: Car, wanted: str) -> Change | None:
    weighed = car.value("weighing.driver")
    if wanted == weighed:
        return None
    sign = 1 if wanted == "aboard" else -1
    mass = where_known(lambda mass, _: sign * mass, car.value("driver.mass"), weighed)
    return _at_place(car, f"driver {wanted}", mass, "driver", ("weighing.driver", "driver.mass"))


def _at_place(car: Car, words: str, mass: Amount, section: str, uses: tuple[str, ...]) -> Change:
    """The change by a mass that is added at the place of the fuel or the driver."""
    to_rear, to_left = car.geometry.shares(section)
    rear = where_known(lambda mass, share: mass * share, mass, to_rear)
    left = where_known(lambda mass, share: mass * share, mass, to_left)
    kg = {
        "total": mass,
        "front": where_known(lambda mass, rear: mass - rear, mass, rear),
        "rear": rear,
        "left": left,
        "right": where_known(lambda mass, left: mass - left, mass, left),
    }
    place = (f"{section}.at.behind_front_axle", f"{section}.at.left_of_centre")
    return Change(words, kg, (*uses, *place, *car.geometry.uses))


def _tyres(car: Car, wanted: str | Unknown) -> Change | None:
    fitted = car.value("weighing.tyres")
    if isinstance(wanted, str) and isinstance(fitted, str) and fold(wanted) == fold(fitted):
        return None
    names = [f"tyres.{car.tyre_set(name) or name}" for name in (wanted, fitted) if isinstance(name, str)]
    unknown = [name for name in (wanted, fitted) if isinstance(name, Unknown)]
    axles: dict[str, Amount] = {}
    for axle in ("front", "rear"):
        masses = unknown or [car.value(f"{name}.{axle}.mass") for name in names]
        axles[axle] = where_known(lambda to, of: 2 * (to - of), *masses)
    total = where_known(lambda front, rear: front + rear, axles["front"], axles["rear"])
    half = where_known(lambda total: total / 2, total)
    words = f"{wanted} tyres" if isinstance(wanted, str) else "other tyres"
    uses = ("weighing.tyres", *(f"{name}.{axle}.mass" for name in names for axle in axles))
    return Change(words, {"total": total, **axles, "left": half, "right": half}, uses)


def _wear(car: Car, wanted: Fraction) -> Change | None:
    weighed = car.value("weighing.wear")
    worn = Fraction(int(weighed == "worn"))
    if not isinstance(weighed, Unknown) and wanted == worn:
        return None
    lost = {
        wheel: where_known(lambda amount, _: (worn - wanted) * amount, car.value(f"wear.{wheel}"), weighed)
        for wheel in WHEELS
    }
    kg = {
        name: where_known(lambda *of: sum(of, Fraction(0)), *(lost[wheel] for wheel in WHEELS if on(wheel)))
        for name, on in _ON.items()
    }
    words = f"tyres and brakes {wear_in_words(wanted)}"
    return Change(words, kg, ("weighing.wear", *(f"wear.{wheel}" for wheel in WHEELS)))


_ON: dict[str, Callable[[str], bool]] = {
    "total": lambda wheel: True,  # noqa: ARG005
    "front": lambda wheel: wheel.startswith("front"),
    "rear": lambda wheel: wheel.startswith("rear"),
    "left": lambda wheel: wheel.endswith("left"),
    "right": lambda wheel: wheel.endswith("right"),
}


def wear_in_words(wear: Fraction) -> str:
    """ "new", "worn", or how far between."""
    if wear in (0, 1):
        return "worn" if wear else "new"
    return f"{show(wear, parse_unit('%', None))} worn"
