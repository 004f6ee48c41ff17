"""Where what officials measured is not what the entrant declared, by more than the gear can explain."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import Any

from checker.car.car import Car
from checker.car.described.instrument import ZERO
from checker.car.described.stated import READINGS, Stated
from checker.car.described.vocabulary import ENTRANT, FactType
from checker.meeting.record.car_contents import Measured
from checker.meeting.record.car_day import CarDay
from checker.meeting.session.gear import KILOGRAM, Gear
from checker.meeting.session.likeness import expected_weights
from checker.meeting.session.session import Meeting
from checker.meeting.session.stating import GO, gauge_words
from checker.quantities.display import show, show_value
from checker.quantities.folding import fold
from checker.quantities.kind import Kind, Unknown
from checker.quantities.literal import parse_quantity
from checker.quantities.units import Unit
from checker.reading.quick_dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class NotAsDeclared:
    """One fact that is not as declared."""

    name: str
    """The fact, or `list.entry.field`, or `weight.total` and the like."""
    declared: str
    measured: str
    beyond: str = ""
    """What the gear explains; "" for what is no amount."""


def differences(meeting: Meeting, car: CarDay, measured: Car) -> list[NotAsDeclared]:
    """Every fact that officials found otherwise, in the order of the pack.

    Args:
        meeting: The meeting.
        car: The car as the record has it.
        measured: The same car as it is judged, readings over declaration.
    """
    declared = meeting.judge.declared(meeting.declaration(car))
    gear = meeting.gear
    found = list(_weights(declared, measured, gear))
    gauges = {name: record.content for name, record in car.facts().items() if record.content.gauge}
    for name, fact in measured.vocabulary.facts.items():
        if name in gauges:
            found += _beyond(declared.facts.get(name), fact, gauges[name])
        elif not name.startswith("weighing.") and fact.stated_by == ENTRANT:
            found += _one(name, fact.kind, declared.facts.get(name), measured.facts.get(name), gear)
    for list_name, its_list in measured.vocabulary.lists.items():
        before = {fold(entry.label): entry for entry in declared.every_entry(list_name)}
        for entry in measured.every_entry(list_name):
            twin = before.get(fold(entry.label))
            for field, stated in entry.fields.items():
                its = its_list.fields.get(field)
                if its is None:
                    continue  # where it sits
                name = f"{list_name}.{entry.label}.{field}"
                if name in gauges:
                    declared_field = twin.fields.get(field) if twin else None
                    found += _beyond(declared_field, its, gauges[name])
                    continue
                found += _one(name, its.kind, twin.fields.get(field) if twin else None, stated, gear)
    return found


def _one(
    name: str, kind: Kind, declared: Stated | None, measured: Stated | None, gear: dict[str, Gear]
) -> Iterator[NotAsDeclared]:
    if declared is None or measured is None or measured.origin != READINGS:
        return
    was, now = _values(declared), _values(measured)
    allowance = _allowance(measured, now, gear)
    if len(was) == len(now) and all(_same(a, b, allowance) for a, b in zip(was, now, strict=True)):
        return
    explained = show(allowance, measured.unit.step) if allowance and measured.unit else ""
    yield NotAsDeclared(name, _shown(was, kind, declared.unit), _shown(now, kind, measured.unit), explained)


def _beyond(declared: Stated | None, fact: FactType, gauged: Measured) -> Iterator[NotAsDeclared]:
    """A declared value that lies on the other side of a gauge."""
    if declared is None:
        return
    size = parse_quantity(gauged.value, fact.kind, None).value
    went = gauged.gauge == GO
    if any((value < size) if went else (value > size) for value in _values(declared)):
        shown = _shown(_values(declared), fact.kind, declared.unit)
        yield NotAsDeclared(gauged.fact, shown, gauge_words(gauged.value, gauged.gauge))


def _values(stated: Stated) -> tuple[Any, ...]:
    return stated.value if isinstance(stated.value, tuple) else (stated.value,)


def _same(was: object, now: object, allowance: Fraction) -> bool:
    if isinstance(was, Fraction) and isinstance(now, Fraction):
        return abs(was - now) <= allowance
    if isinstance(was, str) and isinstance(now, str):
        return fold(was) == fold(now)
    return bool(was == now)


def _allowance(measured: Stated, values: tuple[object, ...], gear: dict[str, Gear]) -> Fraction:
    instrument = gear.get(measured.instrument)
    if measured.uncertainty is not None:
        return 2 * measured.uncertainty
    amounts = [value for value in values if isinstance(value, Fraction)]
    return max((instrument.allowance(value) for value in amounts), default=ZERO) if instrument else ZERO


def _shown(values: tuple[object, ...], kind: Kind, unit: Unit | None) -> str:
    return ", ".join(show_value(value, kind, unit) for value in values) or "none"


def _weights(declared: Car, measured: Car, gear: dict[str, Gear]) -> Iterator[NotAsDeclared]:
    """Weights against what the declaration says for the state that the car stood in."""
    loads_read = [load for reading in measured.weighing.readings for load in reading.loads.values()]
    if not loads_read or loads_read[0].origin != READINGS:
        return
    expected = expected_weights(declared, measured)
    its_gear = gear.get(measured.weighing.instrument)
    loads = measured.weighing.loads()
    for name, said in expected.items():
        found = measured.weights().weight(name)
        if isinstance(found, Unknown):
            continue
        counted = [load for place, load in loads.items() if name in ("total", *place.split("_"))]
        allowance = its_gear.allowance(*counted) if its_gear else ZERO
        if abs(found - said) > allowance:
            texts = (show(said, KILOGRAM), show(found, KILOGRAM), show(allowance, KILOGRAM))
            yield NotAsDeclared(f"weight.{name}", *texts)
