"""Reads what may be added to a car, moved and taken off: `planning` in its file, or a shelf's file beside it."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from fractions import Fraction
from typing import TypeVar

from checker.car.car import Car
from checker.car.declaration.since import BESIDE_LISTS, found_on
from checker.car.declaration.structure import read_place
from checker.car.described.planning import BallastPlace, Movable, Planning, RaceFuel, Removable, ShelfPiece
from checker.car.described.standard import measured
from checker.car.described.stated import ACROSS, ALONG, DECLARED, FROM_REAR, Stated
from checker.car.described.vocabulary import FactType
from checker.car.reading.mistakes import SHELF, Reader, codes_of, name_of
from checker.car.reading.values import read_value
from checker.quantities.folding import fold
from checker.quantities.kind import NUMBER
from checker.reading.document import Document
from checker.reading.nearest import did_you_mean
from checker.reading.problems import Path, Problems
from checker.reading.quick_dataclasses import dataclass

T = TypeVar("T")

PATH: Path = ("planning",)
KEYS = ("places", "shelf", "movable", "may_come_off", "race")
MOST = 100
"""Of places, kinds of piece, movable things, and what may come off."""
_MASS = measured("mass", "kg", high=1000)
_COUNT = FactType("count", NUMBER, whole=True, high=Fraction(1000))
_PLACES = "places as [{name: left box, at: {...}, most: 10 kg}],"
_SHELF = "pieces as [{label: P1, mass: 2.5 kg, count: 2}],"
_MOVABLE = "things as [{what: battery, to: [left box]}],"
_OWN_OF_PIECE = ("mass", "count", "step", "most")
_OWN_OF_PLACE = ("name", "at", "most", "pieces")
_OF_RACE = ("fuel_per_lap", "laps", "start_at_least", "start_at_most")
_FUEL = measured("fuel", "L", high=1000)
_RACE = "a race as {fuel_per_lap: 0.2 L, laps: 40, start_at_least: 10 L, start_at_most: 20 L},"


def read_planning(reader: Reader, declared: Document, known: Planning, path: Path = PATH) -> Planning:
    """What the file says at `path`, added to what is known from the car's own file.

    Args:
        declared: The declaration, for the things on the car.
        known: What another file said before.
    """
    if path and reader.get(*path) is None:
        return known
    reader.mapping(*path, wanted=f"what may be done, under {', '.join(KEYS)},", needed=True)
    reader.known_keys(KEYS, *path, what="what may be done to a car", filled=True)
    reading = _Reading(reader, declared)
    places = (*known.places, *reading.each((*path, "places"), _PLACES, reading.place))
    _each_once(reader, "place", [place.name for place in places], (*path, "places"))
    shelf = (*known.shelf, *reading.each((*path, "shelf"), _SHELF, reading.piece))
    _each_once(reader, "piece", [piece.label for piece in shelf], (*path, "shelf"))
    _check_told_once(reader, places, shelf, path)
    by_name = {fold(place.name): place for place in places}
    read = reading.each((*path, "movable"), _MOVABLE, lambda here: reading.movable(here, by_name))
    movable = (*known.movable, *read)
    _each_once(reader, "movable thing", [one.what for one in movable], (*path, "movable"))
    off = (*known.may_come_off, *reading.each((*path, "may_come_off"), "names as [B2]", reading.removable))
    _each_once(reader, "thing that may come off", [one.what for one in off], (*path, "may_come_off"))
    return Planning(places, shelf, movable, off, _read_race(reader, (*path, "race")) or known.race)


def with_shelf(shelf: Document, declared: Document, car: Car) -> Planning:
    """What the car's file and a shelf's file say together.

    Raises:
        InputError: The shelf's file cannot be used; codes SHxxx, see `CODES`.
    """
    problems = Problems()
    names = frozenset(car.instruments)
    reader = Reader(
        shelf, codes_of(SHELF), problems, vocabulary=car.vocabulary, origin=DECLARED, instruments=names
    )
    found = read_planning(reader, declared, car.planning, ())
    problems.raise_if_any()
    return found


def _each_once(reader: Reader, what: str, names: list[str], path: Path) -> None:
    seen: set[str] = set()
    for name in names:
        if fold(name) in seen:
            reader.problem(209, f"there are two: {what} {name!r}", *path, hint="call them by different names")
        seen.add(fold(name))


def _check_told_once(
    reader: Reader, places: tuple[BallastPlace, ...], shelf: tuple[ShelfPiece, ...], path: Path
) -> None:
    """A field is told of the piece or of the place, or it would not be known which counts."""
    for piece in shelf:
        for place in places:
            for key in piece.fields.keys() & place.fields.keys():
                message = f"{key} is stated of the piece {piece.label!r} and of the place {place.name!r}"
                reader.problem(219, message, *path, "shelf", hint="state it of one of them")
                return


@dataclass(frozen=True, slots=True)
class _Reading:
    reader: Reader
    declared: Document

    def each(self, path: Path, wanted: str, read: Callable[[Path], T | None]) -> list[T]:
        """Every entry of a list that can be read."""
        number = len(self.reader.listed(*path, wanted=wanted))
        if number > MOST:
            message = f"{name_of(path)} has {number} entries; at most {MOST} are read"
            self.reader.problem(117, message, *path, hint="`count` stands for several that are alike")
            return []
        return [one for at in range(number) if (one := read((*path, at))) is not None]

    # --- places ----------------------------------------------------------------------------------------------

    def place(self, path: Path) -> BallastPlace | None:
        reader = self.reader
        if not reader.filled(*path, wanted="a place as {name: left box, at: {...}, most: 10 kg},"):
            return None
        name = reader.text(*path, "name", needed=True)
        fields = self._fields(path, _OWN_OF_PLACE, ("label", "mass"))
        where = self._at((*path, "at"), name_of(path))
        most, pieces = self._kg((*path, "most")), self._whole((*path, "pieces"))
        if where is None or not name:
            return None
        return BallastPlace(name, {**fields, **where}, most, pieces, reader.document.span(path))

    def _at(self, path: Path, what: str) -> dict[str, Stated] | None:
        """Where a place is, along and across; None where that is not all told."""
        before = len(self.reader.problems.found)
        found = read_place(self.reader, path, of_entry=True)
        if len(self.reader.problems.found) > before:
            return None
        if not ({ALONG, FROM_REAR} & found.keys() and ACROSS in found):
            hint = "add at: {behind_front_axle: 1200 mm, left_of_centre: 300 mm}"
            self.reader.problem(202, f"{what} does not say where it is, along and across", *path, hint=hint)
            return None
        return found

    # --- the shelf -------------------------------------------------------------------------------------------

    def piece(self, path: Path) -> ShelfPiece | None:
        reader = self.reader
        wanted = "a piece as {label: P1, mass: 2.5 kg}, or stock as {label: lead, step: 0.5 kg, most: 8 kg},"
        data = reader.filled(*path, wanted=wanted)
        if not data:
            return None
        label = reader.text(*path, "label", needed=True)
        fields = self._fields(path, ("label", *_OWN_OF_PIECE), ("label", "mass"))
        cut = "step" in data or "most" in data
        if ("mass" in data) == cut or (cut and "count" in data):
            message = f"{name_of(path)} is to be a piece or stock"
            reader.problem(202, message, *path, hint=f"write {wanted[:-1]}")
            return None
        span = reader.document.span(path)
        if cut:
            step, most = self._kg((*path, "step"), needed=True), self._kg((*path, "most"), needed=True)
            if step is None or most is None:
                return None
            if most < step:
                message = f"{name_of(path)} adds to nothing: most is less than one step"
                reader.problem(208, message, *path, "most")
                return None
            return ShelfPiece(label, fields, step, int(most / step), is_stock=True, span=span)
        mass, count = self._kg((*path, "mass"), needed=True), self._whole((*path, "count"))
        return None if mass is None else ShelfPiece(label, fields, mass, count or 1, span=span)

    def _kg(self, path: Path, *, needed: bool = False) -> Fraction | None:
        """A mass above nothing; None where none is stated, or a problem was noted."""
        if not self.reader.has(*path) and not needed:
            return None
        stated = read_value(self.reader, _MASS, path)
        if stated is not None and stated.value == 0:
            self.reader.problem(208, f"{name_of(path)} is {stated.written}: that adds to nothing", *path)
            return None
        return None if stated is None else Fraction(stated.value)

    def _whole(self, path: Path) -> int | None:
        stated = read_value(self.reader, _COUNT, path) if self.reader.has(*path) else None
        if stated is not None and stated.value < 1:
            message = f"{name_of(path)} is {stated.written}; it is at least 1"
            self.reader.problem(208, message, *path, hint="take the entry away if there is none")
            return None
        return None if stated is None else int(stated.value)

    def _fields(self, path: Path, own: tuple[str, ...], never: tuple[str, ...]) -> dict[str, Stated]:
        """Fields of ballast that are stated here; `own` keys are read elsewhere, and `never` is no field here."""
        reader, found = self.reader, dict[str, Stated]()
        known = {
            key: field
            for key, field in reader.vocabulary.lists["ballast"].fields.items()
            if field.formula is None and key not in never
        }
        for key in reader.mapping(*path):
            if key in own:
                continue
            if key not in known:
                reader.unknown_name("key here", (*own, *known), *path, key)
            elif (stated := read_value(reader, known[key], (*path, key))) is not None:
                found[key] = stated
        return found

    # --- what is on the car ----------------------------------------------------------------------------------

    def movable(self, path: Path, places: Mapping[str, BallastPlace]) -> Movable | None:
        reader = self.reader
        data = reader.mapping(*path, wanted="a thing as {what: battery, to: [left box]},", needed=True)
        if not reader.known_keys(("what", "to", "between"), *path, what="a movable thing", filled=True):
            return None
        found = self._on_car((*path, "what"))
        if ("to" in data) == ("between" in data):
            hint = "write to: [left box], or between: [{behind_front_axle: ...}, {...}] for what slides"
            reader.problem(202, f"{name_of(path)} does not say where it may go", *path, hint=hint)
            return None
        span, what = reader.document.span(path), reader.written(*path, "what")
        if "between" in data:
            ends = [self._end((*path, "between", at)) for at in range(len(reader.listed(*path, "between")))]
            if len(ends) != 2:
                reader.problem(202, f"{name_of((*path, 'between'))} is to be two places", *path, "between")
                return None
            first, last = ends
            if found is None or first is None or last is None:
                return None
            return Movable(what, found, (), (first, last), span)
        to = [self._named_or_own((*path, "to", at), places) for at in range(len(reader.listed(*path, "to")))]
        if not to:
            hint = "name places, or take it away"
            reader.problem(202, f"{name_of((*path, 'to'))} is empty", *path, "to", hint=hint)
        if found is None or not all(to):
            return None
        return Movable(what, found, tuple(place for place in to if place is not None), None, span)

    def _end(self, path: Path) -> BallastPlace | None:
        where = self._at(path, name_of(path))
        return None if where is None else BallastPlace("", where, span=self.reader.document.span(path))

    def _named_or_own(self, path: Path, places: Mapping[str, BallastPlace]) -> BallastPlace | None:
        data = self.reader.get(*path)
        if not isinstance(data, str):
            return self.place(path)
        if fold(data) not in places:
            names = [place.name for place in places.values()]
            hint = did_you_mean(data, names) or f"known are: {', '.join(names) or 'none'}"
            self.reader.problem(205, f"{name_of(path)}: there is no place {data!r}", *path, hint=hint)
        return places.get(fold(data))

    def removable(self, path: Path) -> Removable | None:
        found = self._on_car(path)
        if found is None:
            return None
        if found in BESIDE_LISTS.values():
            self.reader.problem(205, f"{name_of(path)}: that cannot come off", *path)
            return None
        return Removable(self.reader.written(*path), found, self.reader.document.span(path))

    def _on_car(self, path: Path) -> Path | None:
        """Where the thing that is named at `path` stands; None with a problem noted where the car has none such."""
        own = self.reader.document is self.declared  # a what-if may have taken it away
        return found_on(self.declared, self.reader, path, warning=own)


def _read_race(reader: Reader, path: Path) -> RaceFuel | None:
    """The race told of at a path; None where none is, or a problem was noted."""
    if not reader.has(*path):
        return None
    if not reader.mapping(*path, wanted=_RACE, needed=True):
        return None
    if not reader.known_keys(_OF_RACE, *path, what="a race", filled=True):
        return None
    per_lap, least, most = (_litres(reader, (*path, key)) for key in (_OF_RACE[0], *_OF_RACE[2:]))
    laps = read_value(reader, _COUNT, (*path, "laps")) if reader.has(*path, "laps") else None
    if per_lap is None or laps is None or laps.value < 1:
        message = f"{name_of(path)} does not say what a lap burns, and how many there are"
        reader.problem(202, message, *path, hint=f"write {_RACE[:-1]}")
        return None
    if least is not None and most is not None and least > most:
        reader.problem(208, f"{name_of(path)}: start_at_least is more than start_at_most", *path)
        return None
    return RaceFuel(per_lap, int(laps.value), least, most, reader.document.span(path))


def _litres(reader: Reader, path: Path) -> Fraction | None:
    stated = read_value(reader, _FUEL, path) if reader.has(*path) else None
    return None if stated is None else Fraction(stated.value)
