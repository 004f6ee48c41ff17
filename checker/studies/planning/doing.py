"""The car with options done to it, as far as its lists tell: for clauses on ballast and components."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

from checker.car.car import Car
from checker.car.declaration.facts import by_default
from checker.car.described.planning import ShelfPiece
from checker.car.described.stated import DECLARED, Entry, Stated
from checker.quantities.units import parse_unit
from checker.reading.paths import format_path
from checker.reading.quick_dataclasses import replace
from checker.studies.planning.options import Doing, Option

_KG = parse_unit("kg", None)


def with_done(car: Car, times: Mapping[Option, int]) -> Car:
    """The car with every option done so many times; its weighing is as it was."""
    every = {name: list(entries) for name, entries in car.all_entries.items()}
    for option, number in times.items():
        if not number:
            continue
        if option.doing is Doing.ADD:
            ballast = every.setdefault("ballast", [])
            ballast.append(added(car, option, number, f"ballast[{len(ballast)}]"))
        elif str(option.path[0]) in every:
            entries = every[str(option.path[0])]
            path = format_path(option.path)
            at = next((at for at, entry in enumerate(entries) if entry.path == path), None)
            if at is not None and option.place is None:
                del entries[at]
            elif at is not None and option.place is not None:
                unplaced = {k: v for k, v in entries[at].fields.items() if not k.startswith("at.")}
                entries[at] = replace(entries[at], fields={**unplaced, **option.place.fields})
    return replace(car, all_entries={name: tuple(entries) for name, entries in every.items()})


def added(car: Car, option: Option, number: int, path: str) -> Entry:
    """The entry that ballast from the shelf becomes."""
    piece, place = option.of, option.place
    assert isinstance(piece, ShelfPiece)
    assert place is not None
    kg = piece.kg * number if piece.is_stock else piece.kg
    defaults = {name: by_default(field) for name, field in car.vocabulary.lists["ballast"].fields.items()}
    fields = {name: default for name, default in defaults.items() if default is not None}
    fields |= {**piece.fields, **place.fields}
    fields["label"] = Stated(piece.label, piece.label, None, DECLARED, place=piece.span)
    fields["mass"] = Stated(Fraction(kg), "", _KG, DECLARED, place=piece.span)
    count = 1 if piece.is_stock else number
    return Entry("ballast", piece.label, path, fields, count, None, piece.span)
