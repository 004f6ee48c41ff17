"""What a what-if changes of the car that was weighed.

What was on the car when it was weighed is taken off at its place, and what is on it now is added at its own, by the
lever rules; so a what-if car is as the car would be, had it been declared and weighed that way. What the car's own file
does not state, and the what-if does, was so when it was weighed: it is news of the car, not another car.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from fractions import Fraction
from typing import Any

from checker.car.described.asking import Described
from checker.car.described.standard import WHEELS
from checker.car.described.stated import ACROSS, ALONG, FROM_REAR, Entry, Stated, told_otherwise
from checker.car.reasons import NotOfCar
from checker.car.weights.differences import Kg, at_spots, at_wheels
from checker.car.weights.fuel import density, layers
from checker.car.weights.geometry import MaybeFraction, Spot
from checker.car.weights.places import spot_at, spot_of
from checker.car.weights.tyres import of_tyre
from checker.quantities.amount import Statement, kilograms
from checker.quantities.folding import fold
from checker.quantities.kind import Unknown, where_known
from checker.reading.quick_dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Content:
    """One thing that was on the car's wheels when it was weighed."""

    name: str
    given: tuple[Any, ...]
    """All that tells what it weighs and where it acts: two that are alike in this are the same."""
    mass: MaybeFraction
    kg: Callable[[], Kg]
    whole: str = ""
    """Name of what it is a part of, whose mass contains its own."""


def altered(car: Described) -> tuple[tuple[Statement, Kg], ...]:
    """What it is, and what it adds, for each thing that is otherwise than on the car that was weighed."""
    if car.weighed_as is None:
        return ()
    was = {content.name: content for content in _contents(_Before(car, car.weighed_as), car)}
    now = {content.name: content for content in _contents(car, car)}
    differs = [
        name
        for name in {**was, **now}
        if name not in was or name not in now or was[name].given != now[name].given
    ]
    return tuple(
        (_words(name, was.get(name), now.get(name)), _added(was.get(name), now.get(name)))
        for name in differs
        if (now.get(name) or was[name]).whole not in differs
    )


def _words(name: str, before: Content | None, after: Content | None) -> Statement:
    if before is None or after is None:
        return (f"{name} added" if before is None else f"{name} taken out",)
    if before.mass == after.mass or isinstance(before.mass, Unknown) or isinstance(after.mass, Unknown):
        return (f"{name} moved or otherwise",)
    return (f"{name} from ", kilograms(before.mass), " to ", kilograms(after.mass))


def _added(before: Content | None, after: Content | None) -> Kg:
    gains, loses = after.kg() if after else {}, before.kg() if before else {}
    zero = Fraction(0)
    return {
        name: where_known(lambda a, b: a - b, gains.get(name, zero), loses.get(name, zero))
        for name in (gains or loses)
    }


class _Before:
    """The car that was weighed, in the state in which it was; what its file does not state is as it is now."""

    def __init__(self, car: Described, was: Described) -> None:
        self._car, self._was = car, was
        has_tank = was.tank_levels or any(was.stated(f"fuel.{key}") for key in (ALONG, FROM_REAR, ACROSS))
        self.tank_levels = was.tank_levels if has_tank else car.tank_levels
        self.tyre_sets, self.fluids = was.tyre_sets, was.fluids
        self._twins = {
            (list_name, entry.label): entry
            for list_name in car.lists_with_mass
            for entry in reversed(car.every_entry(list_name))
        }

    def stated(self, name: str) -> Stated | None:
        own = None if name.startswith("weighing.") else self._was.stated(name)
        if own is None and any(self._was.stated(other) is not None for other in told_otherwise(name)):
            return None
        return own or self._car.stated(name)

    def value(self, name: str) -> Any:
        stated = self.stated(name)
        return Unknown(absent=(name,)) if stated is None else stated.value

    def every_entry(self, list_name: str) -> tuple[Entry, ...]:
        return self._was.every_entry(list_name)

    def field(self, entry: Entry, name: str) -> Any:
        value = entry.value(name)
        twin = self._twins.get((entry.list_name, entry.label))
        return value if twin is None or not isinstance(value, Unknown) else self._car.field(twin, name)


Source = Described | _Before


def _contents(of: Source, car: Described) -> Iterator[Content]:
    """All that makes up the weighing, as `of` has it, by the levers of `car`."""

    def at(name: str, mass: MaybeFraction, spot: Spot, *given: object) -> Content:
        return Content(name, (*given, spot), mass, lambda: at_spots(car, [(mass, spot)]))

    aboard, per_mm3 = of.value("weighing.fuel"), density(of)
    tank = [(layer.part_of(aboard), layer.spot) for layer in layers(of)]
    fuel = [(where_known(lambda mm3, kg: mm3 * kg, part, per_mm3), spot) for part, spot in tank]
    mass = where_known(lambda mm3, kg: mm3 * kg, aboard, per_mm3)
    yield Content("the fuel on board", (per_mm3, *tank), mass, lambda: at_spots(car, fuel))
    weighed = of.value("weighing.driver")
    if weighed != "out":
        driver = of.value("driver.mass")
        mass = where_known(lambda kg, _: kg, driver, weighed)
        yield at("the driver", mass, spot_at(of, "driver.at"), driver)
    yield _tyres(of)
    if of.value("weighing.wear") == "worn":
        lost = {wheel: where_known(lambda kg: -kg, of.value(f"wear.{wheel}")) for wheel in WHEELS}
        total = where_known(lambda *kg: sum(kg, Fraction(0)), *lost.values())
        yield Content("the wear", tuple(lost.values()), total, lambda: at_wheels(lost))
        for name in of.fluids:
            gone = where_known(lambda kg: -kg, of.value(f"fluids.{name}.lost"))
            yield at(f"the {name}", gone, spot_at(of, f"fluids.{name}.at"), gone)
    left_off = {fold(label) for label in car.left_off}
    for list_name in car.lists_with_mass:
        for name, entry in _named(of, list_name):
            if list_name == "ballast" and fold(entry.label) in left_off:
                continue
            each, times, whole = of.field(entry, "mass"), entry.standing, _whole(of, entry)
            place = spot_of(of, entry)
            if whole:
                kg: MaybeFraction = Unknown.because(NotOfCar.PART_OF, name, whole)
            else:
                kg = where_known(lambda kg, times=times: kg * times, each)
            content = at(name, kg, place, each, times)
            yield Content(name, content.given, kg, content.kg, whole)


def _tyres(of: Source) -> Content:
    """The tyres that were fitted; where that is not known, any change to any set makes the weights unknown."""
    fitted = of.value("weighing.tyres")
    sets = of.tyre_sets if isinstance(fitted, Unknown) else (fitted,)
    given = {(name, wheel): of_tyre(of, name, wheel, "mass") for name in sets for wheel in WHEELS}
    on = {wheel: fitted if isinstance(fitted, Unknown) else given[fitted, wheel] for wheel in WHEELS}
    total = where_known(lambda *kg: sum(kg, Fraction(0)), *on.values())
    return Content("the tyres", tuple(given.items()), total, lambda: at_wheels(on))


def _named(car: Source, list_name: str) -> Iterator[tuple[str, Entry]]:
    """Entries with their parts, each by a name that tells it from the others."""
    seen: dict[str, int] = {}
    for entry in car.every_entry(list_name):
        times = seen[entry.label] = seen.get(entry.label, 0) + 1
        yield f"{list_name} {entry.label}" + (f" ({times})" if times > 1 else ""), entry


def _whole(of: Source, entry: Entry) -> str:
    """Name of the entry that this is a part of and whose mass contains its own; "" where there is none."""
    above = entry.parent
    while above is not None:
        if not isinstance(of.field(above, "mass"), Unknown):
            return f"{above.list_name} {above.label}"
        above = above.parent
    return ""
