"""What is stated otherwise of one set-up of a car than of another."""

from __future__ import annotations

from collections.abc import Iterator

from checker.car.car import Car
from checker.car.described.stated import Stated
from checker.reading.quick_dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class SetUpDifference:
    """One thing that is stated otherwise."""

    name: str
    """"fuel.unusable"; of an entry "ballast B1: mass"."""
    before: str | None
    """As written; None where it is not stated."""
    now: str | None


def differences(before: Car, now: Car) -> tuple[SetUpDifference, ...]:
    """All that is stated otherwise, in the order of the declarations; the same amount in another unit is the same."""
    then, since = dict(_every(before)), dict(_every(now))
    return tuple(
        SetUpDifference(name, _written(then.get(name)), _written(since.get(name)))
        for name in dict.fromkeys((*since, *then))
        if _compared(then.get(name)) != _compared(since.get(name))
    )


def _every(car: Car) -> Iterator[tuple[str, Stated | str]]:
    """Everything that the files state, by a name that tells it from all else."""
    if car.weighing.instrument:
        yield "weighing.instrument", car.weighing.instrument
    if car.weighing.without:
        yield "weighing.without", ", ".join(car.weighing.without)
    for place, reading in enumerate(car.weighing.readings):
        yield from ((f"weighing.readings[{place}].{load}", stated) for load, stated in reading.loads.items())
    for name, stated in (*car.facts.items(), *car.structure.items()):
        if name != "event.date":
            yield name, stated
    for list_name in car.all_entries:
        seen: dict[str, int] = {}
        for entry in car.every_entry(list_name):
            times = seen[entry.label] = seen.get(entry.label, 0) + 1
            called = f"{list_name} {entry.label}" + (f" ({times})" if times > 1 else "")
            yield called, "there"
            if entry.count > 1:
                yield f"{called}: count", str(entry.count)
            for name, stated in entry.fields.items():
                yield f"{called}: {name.removeprefix('at.')}", stated


def _compared(stated: Stated | str | None) -> object:
    if isinstance(stated, Stated):
        return stated.value, stated.instrument, stated.uncertainty
    return stated


def _written(stated: Stated | str | None) -> str | None:
    if not isinstance(stated, Stated):
        return stated
    with_ = f" with {stated.instrument}" if stated.names_instrument else ""
    uncertain = ", uncertainty stated" if stated.uncertainty is not None else ""
    return f"{stated.written}{with_}{uncertain}"
