"""What differs between the weighing and another state of the car, in kg on each axle and each side.
Fuel, driver, fluids and ballast act at their places, by the lever rules. Tyres and their wear act at the contact
centres themselves, so they need no levers. An unknown touches only what depends on it: with the tank's place
unknown, the total is still known. What does not change is not asked for.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from fractions import Fraction
from functools import lru_cache
from typing import Any, Protocol

from checker.car.described.asking import Described
from checker.car.described.standard import AXLES, SIDES, WHEELS
from checker.car.weights.fuel import Layer, density, layers
from checker.car.weights.geometry import Geometry, MaybeFraction, Spot
from checker.car.weights.places import spot_at, spot_of
from checker.car.weights.tyres import of_tyre
from checker.quantities.amount import Statement
from checker.quantities.display import show
from checker.quantities.folding import fold
from checker.quantities.kind import Unknown, where_known
from checker.quantities.units import parse_unit
from checker.reading.quick_dataclasses import dataclass

LITRE = parse_unit("L", None)

Kg = Mapping[str, MaybeFraction]
"""What is added to total, front, rear, left and right."""


@dataclass(frozen=True, slots=True)
class WeightChange:
    """One thing that is otherwise than it was at the weighing."""

    words: str | Statement
    """As in "fuel from 6 L to 0 L"."""
    kg: Kg
    uses: tuple[str, ...]
    """Names of all that it was worked out from."""


Maker = Callable[[Described, Any], "tuple[str, Kg] | None"]
"""From a car and what is asked for to words and kg; None where it is so already."""


class Wanted(Protocol):
    """What a state of the car asks for; None: as weighed."""

    @property
    def fuel(self) -> MaybeFraction | None: ...
    @property
    def driver(self) -> str | None: ...
    @property
    def tyres(self) -> str | Unknown | None: ...
    @property
    def wear(self) -> Fraction | None: ...
    @property
    def fuel_fact(self) -> str: ...


def changes(car: Described, state: Wanted) -> Iterator[WeightChange]:
    """All that differs from the weighing in that state; each change is worked out once for a car."""
    for maker, wanted in makers(car, state):
        change = car.worked_out(maker, wanted)
        if change.result is not None:
            yield WeightChange(*change.result, change.in_order)


def makers(car: Described, state: Wanted) -> tuple[tuple[Maker, Any], ...]:
    """What makes each change that a state asks for, and of what."""
    every: tuple[tuple[Maker, Any], ...] = (
        (by_fuel_stated, state.fuel_fact) if state.fuel_fact else (by_fuel, state.fuel),
        (by_driver, state.driver),
        (by_tyres, state.tyres),
        (by_wear, state.wear),
        (by_ballast, car.left_off or None),
    )
    return tuple(one for one in every if one[1] is not None)


def by_fuel_stated(car: Described, fact: str) -> tuple[str, Kg] | None:
    return by_fuel(car, car.value(fact))


def by_fuel(car: Described, wanted: MaybeFraction) -> tuple[str, Kg] | None:
    weighed = car.value("weighing.fuel")
    if not isinstance(wanted, Unknown) and wanted == weighed:
        return None
    per_mm3 = density(car)

    def gained(layer: Layer) -> MaybeFraction:
        after, before = layer.part_of(wanted), layer.part_of(weighed)
        return where_known(lambda to, of, kg: (to - of) * kg, after, before, per_mm3)

    added = [(gained(layer), layer.spot) for layer in layers(car)]
    stated = car.stated("weighing.fuel")
    told = "an unknown amount" if stated is None else show(weighed, stated.unit or LITRE)
    return f"fuel from {told} to {litres(wanted) or 'a full tank'}", at_spots(car, added)


@lru_cache(maxsize=256)
def litres(amount: MaybeFraction) -> str:
    """An amount of fuel as shown in reports; "" for an unknown one."""
    return "" if isinstance(amount, Unknown) else show(amount, LITRE)


def by_driver(car: Described, wanted: str) -> tuple[str, Kg] | None:
    weighed = car.value("weighing.driver")
    if wanted == weighed:
        return None
    sign = 1 if wanted == "aboard" else -1
    mass = where_known(lambda mass, _: sign * mass, car.value("driver.mass"), weighed)
    return f"driver {wanted}", at_spots(car, [(mass, spot_at(car, "driver.at"))])


def by_ballast(car: Described, labels: tuple[str, ...]) -> tuple[str, Kg]:
    """Ballast that was not on the car when it was weighed is on it in every other state."""
    wanted = {fold(label) for label in labels}
    pieces = [piece for piece in car.every_entry("ballast") if fold(piece.label) in wanted]
    added = [
        (where_known(lambda kg, n=piece.standing: kg * n, car.field(piece, "mass")), spot_of(car, piece))
        for piece in pieces
    ]
    return f"{', '.join(piece.label for piece in pieces)} on the car", at_spots(car, added)


def at_spots(car: Described, added: Iterable[tuple[MaybeFraction, Spot]]) -> Kg:
    """What masses that are added at their spots do."""
    geometry = car.worked_out(Geometry).result
    totals, rears, lefts = [], [], []
    for mass, spot in added:
        if mass == 0:
            continue
        to_rear, to_left = geometry.shares(spot)
        totals.append(mass)
        rears.append(where_known(lambda mass, share: mass * share, mass, to_rear))
        lefts.append(where_known(lambda mass, share: mass * share, mass, to_left))
    total, rear, left = _sum(totals), _sum(rears), _sum(lefts)
    return {
        "total": total,
        "front": where_known(lambda mass, rear: mass - rear, total, rear),
        "rear": rear,
        "left": left,
        "right": where_known(lambda mass, left: mass - left, total, left),
    }


def _sum(amounts: list[MaybeFraction]) -> MaybeFraction:
    return amounts[0] if len(amounts) == 1 else where_known(lambda *of: sum(of, Fraction(0)), *amounts)


def by_tyres(car: Described, wanted: str | Unknown) -> tuple[str, Kg] | None:
    fitted = car.value("weighing.tyres")
    if isinstance(wanted, str) and isinstance(fitted, str) and fold(wanted) == fold(fitted):
        return None
    names = [car.tyre_set(name) or name for name in (wanted, fitted) if isinstance(name, str)]
    unknown = [name for name in (wanted, fitted) if isinstance(name, Unknown)]
    gained: dict[str, MaybeFraction] = {}
    for wheel in WHEELS:
        masses = unknown or [of_tyre(car, name, wheel, "mass") for name in names]
        gained[wheel] = where_known(lambda to, of: to - of, *masses)
    words = f"{wanted} tyres" if isinstance(wanted, str) else "other tyres"
    return words, at_wheels(gained)


def by_wear(car: Described, wanted: Fraction) -> tuple[str, Kg] | None:
    weighed = car.value("weighing.wear")
    worn = Fraction(int(weighed == "worn"))
    if not isinstance(weighed, Unknown) and wanted == worn:
        return None

    def lost(name: str) -> MaybeFraction:
        return where_known(lambda kg, _: (worn - wanted) * kg, car.value(name), weighed)

    wheels = at_wheels({wheel: lost(f"wear.{wheel}") for wheel in WHEELS})
    words = f"tyres and brakes {wear_in_words(wanted)}"
    if not car.fluids:
        return words, wheels
    used = ((lost(f"fluids.{name}.lost"), spot_at(car, f"fluids.{name}.at")) for name in car.fluids)
    fluids = at_spots(car, used)
    both = {name: where_known(lambda on, off: on + off, wheels[name], fluids[name]) for name in wheels}
    return f"{words}, fluids used with them", both


def at_wheels(masses: Mapping[str, MaybeFraction]) -> Kg:
    """What masses at the contact centres do: they need no levers."""
    return {
        name: where_known(lambda *of: sum(of, Fraction(0)), *(masses[wheel] for wheel in wheels))
        for name, wheels in _WHEELS_OF.items()
    }


_WHEELS_OF = {"total": WHEELS} | {
    part: tuple(wheel for wheel in WHEELS if part in wheel.split("_")) for part in (*AXLES, *SIDES)
}


def wear_in_words(wear: Fraction) -> str:
    """ "new", "worn", or how far between."""
    if wear in (0, 1):
        return "worn" if wear else "new"
    return f"{show(wear, parse_unit('%', None))} worn"
