"""All that a car's numbers may be wrong by, found by what it moves."""

from __future__ import annotations

from collections.abc import Collection, Iterable

from checker.car.car import Car
from checker.car.errors.sources import ErrorSource, fact_sources, roll_source
from checker.car.errors.weighing import weighing_sources


def every_source(car: Car) -> tuple[ErrorSource, ...]:
    """Every source of error, of single measurements and of the weighing."""

    def find() -> tuple[ErrorSource, ...]:
        return (*fact_sources(car), *roll_source(car), *weighing_sources(car))

    return car.once(every_source, find, any_day=True)


def sources_of(car: Car, names: Collection[str], bound: Iterable[str] = ()) -> tuple[ErrorSource, ...]:
    """The sources of error that move any of these: see `ErrorSource.moves`.

    Args:
        car: The car.
        names: What is asked for; the fields of a list's entries all count where the list itself is among them.
        bound: Paths of the entries whose fields count in any case.
    """
    sources = every_source(car)
    by_name, by_entry = car.once(sources_of, lambda: _places(sources), any_day=True)
    places: set[int] = set()
    for name in names:
        if name.partition(".")[0] in names:
            places.update(by_name.get(name, ()))
        else:
            for entry in ("", *bound):
                places.update(by_entry.get((name, entry), ()))
    return tuple(sources[place] for place in sorted(places))


def _places(
    sources: Iterable[ErrorSource],
) -> tuple[dict[str, list[int]], dict[tuple[str, str], list[int]]]:
    """By what they move, and by that and the entry that it is of."""
    by_name: dict[str, list[int]] = {}
    by_entry: dict[tuple[str, str], list[int]] = {}
    for place, source in enumerate(sources):
        by_name.setdefault(source.moves, []).append(place)
        by_entry.setdefault((source.moves, source.lever.entry), []).append(place)
    return by_name, by_entry
