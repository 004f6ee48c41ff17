"""What differs between the weighing and another state of the car, in kg on each axle and each side.
Fuel, driver, fluids and ballast act at their places, by the lever rules. Tyres and their wear act at the contact
centres themselves, so they need no levers. An unknown touches only what depends on it: with the tank's place
unknown, the total is still known. What does not change is not asked for.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from typing import TYPE_CHECKING, Any

from checker.car.described.standard import WHEELS
from checker.car.described.stated import Entry
from checker.car.weights.fuel import density, layers
from checker.car.weights.fuel import uses as uses_of_fuel
from checker.car.weights.geometry import ROLL_SPLIT, Amount, Spot, where_known
from checker.quantities.display import show
from checker.quantities.folding import fold
from checker.quantities.kind import Unknown
from checker.quantities.units import parse_unit

if TYPE_CHECKING:
    from checker.car.car import Car
    from checker.car.weights.weights import State

LITRE = parse_unit("L", None)


@dataclass(frozen=True, slots=True)
class Change:
    """One thing that is otherwise than it was at the weighing."""

    words: str
    """As in "fuel from 6 L to 0 L"."""
    kg: Mapping[str, Amount]
    """What it adds to total, front, rear, left and right."""
    uses: tuple[str, ...]
    """Names of all that it was worked out from."""


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
        (_ballast, "ballast", car.weighing.without or None),
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
            uses.update((*change.uses, ROLL_SPLIT))
    return Changes(tuple(found), frozenset(uses))


def _fuel(car: Car, wanted: Amount) -> Change | None:
    weighed = car.value("weighing.fuel")
    if not isinstance(wanted, Unknown) and wanted == weighed:
        return None
    per_mm3 = density(car)
    added = [
        (
            where_known(
                lambda to, of, kg: (to - of) * kg, tank.part_of(wanted), tank.part_of(weighed), per_mm3
            ),
            tank.spot,
        )
        for tank in layers(car)
    ]
    words = f"fuel from {litres(weighed) or 'an unknown amount'} to {litres(wanted) or 'a full tank'}"
    return _at_spots(car, words, added, ("weighing.fuel", *uses_of_fuel(car)))


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
    places = ("driver.at.behind_front_axle", "driver.at.left_of_centre")
    spot = Spot(*(car.value(name) for name in places))
    return _at_spots(car, f"driver {wanted}", [(mass, spot)], ("weighing.driver", "driver.mass", *places))


def _ballast(car: Car, labels: tuple[str, ...]) -> Change:
    """Ballast that was not on the car when it was weighed is on it in every other state."""
    wanted = {fold(label) for label in labels}
    pieces = [piece for piece in car.every_entry("ballast") if fold(piece.label) in wanted]
    added = [
        (where_known(lambda kg, n=piece.standing: kg * n, piece.value("mass")), spot_of(piece))
        for piece in pieces
    ]
    words = f"{', '.join(piece.label for piece in pieces)} on the car"
    return _at_spots(car, words, added, ("ballast", "ballast.mass"))


def spot_of(entry: Entry) -> Spot:
    """Where an entry sits; unknown as far as that is not stated."""
    along = entry.place.behind_front_axle if entry.place else None
    across = entry.place.left_of_centre if entry.place else None
    return Spot(
        Unknown(absent=(f"{entry.label}: at.behind_front_axle",)) if along is None else along.value,
        Unknown(absent=(f"{entry.label}: at.left_of_centre",)) if across is None else across.value,
    )


def _at_spots(car: Car, words: str, added: Iterable[tuple[Amount, Spot]], uses: tuple[str, ...]) -> Change:
    """The change by masses that are added at their spots."""
    totals, rears, lefts = [], [], []
    for mass, spot in added:
        if mass == 0:
            continue
        to_rear, to_left = car.geometry.shares(spot)
        totals.append(mass)
        rears.append(where_known(lambda mass, share: mass * share, mass, to_rear))
        lefts.append(where_known(lambda mass, share: mass * share, mass, to_left))
    total, rear, left = _sum(totals), _sum(rears), _sum(lefts)
    kg = {
        "total": total,
        "front": where_known(lambda mass, rear: mass - rear, total, rear),
        "rear": rear,
        "left": left,
        "right": where_known(lambda mass, left: mass - left, total, left),
    }
    return Change(words, kg, (*uses, *car.geometry.uses))


def _sum(amounts: list[Amount]) -> Amount:
    return amounts[0] if len(amounts) == 1 else where_known(lambda *of: sum(of, Fraction(0)), *amounts)


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
    at_wheels = {
        name: where_known(lambda *of: sum(of, Fraction(0)), *(lost[wheel] for wheel in WHEELS if on(wheel)))
        for name, on in _ON.items()
    }
    uses = ("weighing.wear", *(f"wear.{wheel}" for wheel in WHEELS))
    words = f"tyres and brakes {wear_in_words(wanted)}"
    if not car.fluids:
        return Change(words, at_wheels, uses)
    used = [
        (
            where_known(
                lambda amount, _: (worn - wanted) * amount, car.value(f"fluids.{name}.lost"), weighed
            ),
            spot,
        )
        for name, spot in ((name, _fluid_spot(car, name)) for name in car.fluids)
    ]
    names = tuple(f"fluids.{name}.{key}" for name in car.fluids for key in FLUID_KEYS)
    fluids = _at_spots(car, words, used, names)
    both = {
        name: where_known(lambda wheels, fluids: wheels + fluids, at_wheels[name], fluids.kg[name])
        for name in at_wheels
    }
    return Change(f"{words}, fluids used with them", both, (*uses, *fluids.uses))


FLUID_KEYS = ("lost", "at.behind_front_axle", "at.left_of_centre")


def _fluid_spot(car: Car, name: str) -> Spot:
    return Spot(*(car.value(f"fluids.{name}.{key}") for key in FLUID_KEYS[1:]))


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
