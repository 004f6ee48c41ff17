"""All that a car's numbers may be wrong by, found by what it moves."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from functools import partial

from checker.car.car import Car
from checker.car.errors.sources import ErrorSource, roll_source, sources_of_fact, sources_of_field
from checker.car.errors.weighing import weighing_sources


def sources_of(car: Car, names: Collection[str], bound: Iterable[str] = ()) -> tuple[ErrorSource, ...]:
    """The sources of error that move any of these: see `ErrorSource.moves`.

    Args:
        names: What is asked for; the fields of a list's entries all count where the list itself is among them.
        bound: Paths of the entries whose fields count in any case.
    """
    every, paths = frozenset(names), frozenset(("", *bound))
    return car.once((sources_of, every, paths), lambda: _sources_of(car, every, paths), any_day=True)


def _sources_of(car: Car, names: frozenset[str], paths: frozenset[str]) -> tuple[ErrorSource, ...]:
    found: dict[_Place, ErrorSource] = {}
    for name in names:
        whole = name.partition(".")[0] in names
        every = car.of_errors.once((sources_of, name), partial(tuple, (name,)), partial(_moving, car, name))
        for place, source in every:
            if whole or source.lever.entry in paths:
                found[place] = source
    return tuple(found[place] for place in sorted(found))


_Place = tuple[int, ...]
"""Where a source stands among all."""


def _moving(car: Car, name: str) -> list[tuple[_Place, ErrorSource]]:
    """Those that move one thing; to make them all takes far longer."""
    places = car.once(
        _moving, lambda: {one: at for at, one in enumerate((*car.facts, *car.structure))}, any_day=True
    )
    found: list[tuple[_Place, ErrorSource]] = []
    if name in places:
        found += [((0, places[name], at), one) for at, one in enumerate(sources_of_fact(car, name))]
    list_name, _, field = name.partition(".")
    for at, entry in enumerate(car.every_entry(list_name) if list_name in car.vocabulary.lists else ()):
        if field in entry.fields:
            made = enumerate(sources_of_field(car, entry, field))
            place = (1, list(car.vocabulary.lists).index(list_name), at, list(entry.fields).index(field))
            found += [((*place, part), one) for part, one in made]
    return found + car.once(weighing_sources, partial(_of_weighing, car), any_day=True).get(name, [])


def _of_weighing(car: Car) -> dict[str, list[tuple[_Place, ErrorSource]]]:
    """What springs and the weighing are out by, by what it moves."""
    found: dict[str, list[tuple[_Place, ErrorSource]]] = {}
    for at, one in enumerate((*roll_source(car), *weighing_sources(car))):
        found.setdefault(one.moves, []).append(((2, at), one))
    return found
