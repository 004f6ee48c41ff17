"""All that a car's numbers may be wrong by, found by what it moves."""

from __future__ import annotations

from collections.abc import Iterable

from checker.car.car import Car
from checker.car.errors.sources import ErrorSource, fact_sources, roll_source
from checker.car.errors.weighing import weighing_sources


def every_source(car: Car) -> tuple[ErrorSource, ...]:
    """Every source of error, of single measurements and of the weighing."""
    return car.once(every_source, lambda: (*fact_sources(car), *roll_source(car), *weighing_sources(car)))


def sources_of(car: Car, names: Iterable[str]) -> tuple[ErrorSource, ...]:
    """The sources of error that move any of these: see `ErrorSource.moves`."""
    sources = every_source(car)
    by_name = car.once(sources_of, lambda: _places_by_name(sources))
    places = {place for name in names for place in by_name.get(name, ())}
    return tuple(sources[place] for place in sorted(places))


def _places_by_name(sources: Iterable[ErrorSource]) -> dict[str, list[int]]:
    found: dict[str, list[int]] = {}
    for place, source in enumerate(sources):
        found.setdefault(source.moves, []).append(place)
    return found
