"""Reads what a race burns and with how much fuel it may be begun: `race` of what may be done to a car."""

from __future__ import annotations

from fractions import Fraction

from checker.car.described.planning import RaceFuel
from checker.car.described.standard import measured
from checker.car.described.vocabulary import FactType
from checker.car.reading.mistakes import Reader, name_of
from checker.car.reading.values import read_value
from checker.quantities.kind import NUMBER
from checker.reading.problems import Path

KEYS = ("fuel_per_lap", "laps", "start_at_least", "start_at_most")
_FUEL = measured("fuel", "L", high=1000)
_LAPS = FactType("laps", NUMBER, whole=True, high=Fraction(1000))
_WANTED = "a race as {fuel_per_lap: 0.2 L, laps: 40, start_at_least: 10 L, start_at_most: 20 L},"


def read_race(reader: Reader, path: Path) -> RaceFuel | None:
    """The race told of at a path; None where none is, or a problem was noted."""
    if not reader.has(*path):
        return None
    if not reader.mapping(*path, wanted=_WANTED, needed=True):
        return None
    if not reader.known_keys(KEYS, *path, what="a race", filled=True):
        return None
    per_lap, least, most = (_litres(reader, (*path, key)) for key in (KEYS[0], *KEYS[2:]))
    laps = read_value(reader, _LAPS, (*path, "laps")) if reader.has(*path, "laps") else None
    if per_lap is None or laps is None or laps.value < 1:
        message = f"{name_of(path)} does not say what a lap burns, and how many there are"
        reader.problem(202, message, *path, hint=f"write {_WANTED[:-1]}")
        return None
    if least is not None and most is not None and least > most:
        reader.problem(208, f"{name_of(path)}: start_at_least is more than start_at_most", *path)
        return None
    return RaceFuel(per_lap, int(laps.value), least, most, reader.document.span(path))


def _litres(reader: Reader, path: Path) -> Fraction | None:
    stated = read_value(reader, _FUEL, path) if reader.has(*path) else None
    return None if stated is None else Fraction(stated.value)
