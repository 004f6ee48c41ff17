"""All sources of error of a car, one after the other: what `sources_of` finds by what they move."""

from __future__ import annotations

from checker.car.car import Car
from checker.car.errors.sources import ErrorSource, roll_source, sources_of_fact, sources_of_field
from checker.car.errors.weighing import weighing_sources


def every_source(car: Car) -> tuple[ErrorSource, ...]:
    entries = [entry for name in car.vocabulary.lists for entry in car.every_entry(name)]
    return (
        *(one for name in (*car.facts, *car.structure) for one in sources_of_fact(car, name)),
        *(one for entry in entries for field in entry.fields for one in sources_of_field(car, entry, field)),
        *roll_source(car),
        *weighing_sources(car),
    )
