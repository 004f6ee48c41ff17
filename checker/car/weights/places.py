"""Where things sit, for the levers: told from the front axle or from the rear one."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from fractions import Fraction
from typing import Any, Protocol

from checker.car.described.asking import Stating
from checker.car.described.stated import ACROSS, ALONG, FROM_REAR, Entry, Stated
from checker.car.weights.geometry import Spot
from checker.quantities.kind import Unknown


class OfEntries(Protocol):
    """What the place of an entry is asked of."""

    def field(self, entry: Entry, name: str) -> Any: ...
    def every_entry(self, list_name: str) -> tuple[Entry, ...]: ...


def spot_at(of: Stating, owner: str) -> Spot:
    """The place stated under a name such as "fuel.at"; unknown as far as it is not stated."""
    along, across, from_rear = (f"{owner}.{key.removeprefix('at.')}" for key in (ALONG, ACROSS, FROM_REAR))
    if of.stated(along) is None and of.stated(from_rear) is not None:
        return Spot(of.value(from_rear), of.value(across), Fraction(1))
    return Spot(of.value(along), of.value(across))


def spot_of(of: OfEntries, entry: Entry) -> Spot:
    """Where an entry sits; unknown as far as that is not stated."""
    across = of.field(entry, ACROSS)
    if entry.stated(ALONG) is None:
        from_rear = of.field(entry, FROM_REAR)
        if not isinstance(from_rear, Unknown):
            return Spot(from_rear, across, Fraction(1))
    return Spot(of.field(entry, ALONG), across)


def spot_told(fields: Mapping[str, Stated]) -> Spot:
    """The place among the fields of something that is not on the car, of which all is told."""
    across = fields[ACROSS].value
    if ALONG in fields:
        return Spot(fields[ALONG].value, across)
    return Spot(fields[FROM_REAR].value, across, Fraction(1))


def rests_on(car: OfEntries, names: Collection[str]) -> set[str]:
    """Names, with what the places among them rest on: a place counts with the wheelbase from the other axle."""
    found = set(names)
    for name in names:
        list_name, _, key = name.partition(".")
        other = {ALONG: FROM_REAR, FROM_REAR: ALONG}.get(key)
        if other and any(entry.stated(other) is not None for entry in car.every_entry(list_name)):
            found |= {f"{list_name}.{other}", "dimensions.wheelbase_left", "dimensions.wheelbase_right"}
    return found


def is_placed(entry: Entry) -> bool:
    """Whether anything is stated of where it sits."""
    return any(key in entry.fields for key in (ALONG, FROM_REAR, ACROSS))
