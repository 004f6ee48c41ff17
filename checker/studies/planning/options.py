"""What may be done to a car, one thing at a time, with what each does to its weights.

Nothing of the physics is done again here: what a mass does at a place is asked of the car's own levers.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from enum import StrEnum
from fractions import Fraction
from functools import cached_property

from checker.car.car import Car
from checker.car.declaration.since import BESIDE_LISTS
from checker.car.described.planning import BallastPlace, Movable, Planning, Removable, ShelfPiece
from checker.car.described.stated import ABOVE, Entry
from checker.car.weights.differences import at_spots
from checker.car.weights.fuel import density
from checker.car.weights.geometry import MaybeFraction, Spot
from checker.car.weights.places import spot_at, spot_of, spot_told
from checker.car.weights.weights import State
from checker.quantities.kind import Unknown, unite, where_known
from checker.reading.paths import format_path
from checker.reading.problems import Path
from checker.reading.quick_dataclasses import KW_ONLY, dataclass
from checker.studies.planning.reasons import NotPlanned

DRIVER, TANK = BESIDE_LISTS["driver"], BESIDE_LISTS["fuel tank"]


class Doing(StrEnum):
    """What is done, in the order in which to do it."""

    TAKE_OFF = "take_off"
    MOVE = "move"
    ADD = "add"


@dataclass(frozen=True, slots=True)
class Loads:
    """What something adds, in kg."""

    total: Fraction
    rear: Fraction
    left: Fraction

    def __getitem__(self, name: str) -> Fraction:
        """Of total, front, rear, left or right."""
        if name == "front":
            return self.total - self.rear
        if name == "right":
            return self.total - self.left
        found: Fraction = getattr(self, name)
        return found


def loads_at(car: Car, masses: Iterable[tuple[MaybeFraction, Spot]]) -> Loads | Unknown:
    """What masses in kg add where they are."""
    found = at_spots(car, masses)
    known = [found[name] for name in ("total", "rear", "left")]
    lacking = [one for one in known if isinstance(one, Unknown)]
    if lacking:
        return unite(lacking)
    return Loads(*(Fraction(one) for one in known if not isinstance(one, Unknown)))


@dataclass(frozen=True, eq=False)
class Option:
    """One thing that may be done, up to so many times."""

    doing: Doing
    what: str
    """The label of the piece, or what the thing on the car is called."""
    of: ShelfPiece | Movable | Removable
    place: BallastPlace | None
    """Where it goes; None: off the car."""
    most: int
    """How often."""
    kg: Fraction
    """The mass of one, which is 0 for a driver or a tank: those weigh what the state says."""
    car: Car
    _: KW_ONLY
    share: Fraction | None = None
    """For what slides: it is done in part, from 0 to 1, between the place where it is (or one end) and `place`."""

    @property
    def path(self) -> Path:
        """Where the car's file tells of it; () for what is on the shelf."""
        return () if isinstance(self.of, ShelfPiece) else self.of.path

    @property
    def is_stock(self) -> bool:
        """It is cut to size from stock on the shelf."""
        return isinstance(self.of, ShelfPiece) and self.of.is_stock

    @property
    def slides(self) -> bool:
        return isinstance(self.of, Movable) and self.of.between is not None

    @cached_property
    def now(self) -> Spot | None:
        """Where it is; None for what is not on the car."""
        return None if isinstance(self.of, ShelfPiece) else spot_now(self.car, self.path)

    def loads(self, state: State | None) -> Loads | Unknown:
        """What one of it adds to the car's loads in a state (None: as weighed)."""
        mass = self._mass(state)
        if isinstance(mass, Unknown):
            return mass
        key = ("planning", self.path or self.what, self.place and spot_told(self.place.fields), mass)
        return self.car.once(key, lambda: self._loads(mass))

    def _loads(self, mass: Fraction) -> Loads | Unknown:
        masses: list[tuple[MaybeFraction, Spot]] = []
        if self.now is not None:
            masses.append((-mass, self.now))
        if self.place is not None:
            masses.append((mass, spot_told(self.place.fields)))
        return loads_at(self.car, masses) if mass else Loads(Fraction(0), Fraction(0), Fraction(0))

    def _mass(self, state: State | None) -> MaybeFraction:
        car = self.car
        if self.path == DRIVER:
            where = None if state is None else state.driver
            aboard = (where or car.value("weighing.driver")) == "aboard"
            return car.value("driver.mass") if aboard else Fraction(0)
        if self.path == TANK:
            fuel = car.value("weighing.fuel") if state is None or state.fuel is None else state.fuel
            return where_known(lambda mm3, kg: mm3 * kg, fuel, density(car))
        return self.kg

    @property
    def moment(self) -> Fraction | None:
        """What one of it adds to mass times height, in kg mm; None where a height is not stated."""
        heights: list[Fraction] = []
        if self.place is not None:
            stated = self.place.fields.get(ABOVE)
            if stated is None:
                return None
            heights.append(self.kg * stated.value)
        if not isinstance(self.of, ShelfPiece):
            if self.path in (DRIVER, TANK):
                return None
            stated = entry_at(self.car, self.path).stated(ABOVE)
            if stated is None:
                return None
            heights.append(-self.kg * stated.value)
        return sum(heights, Fraction(0))


@dataclass(frozen=True, slots=True)
class NotReckoned:
    """Something that may be done, and cannot be reckoned with."""

    what: str
    why: Unknown


def entry_at(car: Car, path: Path) -> Entry:
    """The entry of the car that its file tells of at `path`."""
    wanted = format_path(path)
    return next(entry for entry in car.every_entry(str(path[0])) if entry.path == wanted)


def spot_now(car: Car, path: Path) -> Spot:
    """Where the driver, the tank or an entry of the car is."""
    if path in (DRIVER, TANK):
        return spot_at(car, ".".join(map(str, path)))
    return spot_of(car, entry_at(car, path))


def options_of(car: Car, planning: Planning) -> tuple[tuple[Option, ...], tuple[NotReckoned, ...]]:
    """All that may be done, in a fixed order, and what is left out for something is not known of it."""
    found: list[Option] = []
    left: list[NotReckoned] = []
    for option in _every(car, planning):
        if isinstance(option, NotReckoned):
            left.append(option)
            continue
        lacking = option.loads(None)
        if isinstance(lacking, Unknown):
            left.append(NotReckoned(option.what, lacking))
        else:
            found.append(option)
    unique = {one.what: one for one in left}
    return tuple(found), tuple(unique.values())


def _every(car: Car, planning: Planning) -> Iterator[Option | NotReckoned]:
    for off in planning.may_come_off:
        mass = standing_mass(car, off.path)
        if isinstance(mass, Unknown):
            yield NotReckoned(off.what, mass)
        else:
            yield Option(Doing.TAKE_OFF, off.what, off, None, 1, mass, car)
    for thing in planning.movable:
        mass = Fraction(0) if thing.path in (DRIVER, TANK) else standing_mass(car, thing.path)
        if thing.path == TANK and car.tank_levels:
            yield NotReckoned(thing.what, Unknown.because(NotPlanned.BY_LEVELS))
        elif isinstance(mass, Unknown):
            yield NotReckoned(thing.what, mass)
        elif thing.between is not None and not _is_between(car, thing):
            yield NotReckoned(thing.what, Unknown.because(NotPlanned.NOT_BETWEEN))
        else:
            for place in thing.between or thing.to:
                yield Option(Doing.MOVE, thing.what, thing, place, 1, mass, car)
    for piece in planning.shelf:
        for place in planning.places:
            most = piece.count
            if place.most_kg is not None:
                most = min(most, int(place.most_kg / piece.kg))
            if place.pieces is not None and not piece.is_stock:
                most = min(most, place.pieces)
            if most:
                yield Option(Doing.ADD, piece.label, piece, place, most, piece.kg, car)


def _is_between(car: Car, thing: Movable) -> bool:
    """Whether a thing that slides sits on the line between its ends."""
    assert thing.between is not None
    spots = [spot_now(car, thing.path), *(spot_told(end.fields) for end in thing.between)]
    base = car.geometry.wheelbase
    places = [value for spot in spots for value in (spot.behind(0, base), spot.across)]
    known = [Fraction(value) for value in places if not isinstance(value, Unknown)]
    if len(known) < len(places):
        return False
    x, y, x1, y1, x2, y2 = known
    on_line = (x - x1) * (y2 - y1) == (y - y1) * (x2 - x1)
    return on_line and min(x1, x2) <= x <= max(x1, x2) and min(y1, y2) <= y <= max(y1, y2)


def standing_mass(car: Car, path: Path) -> MaybeFraction:
    """Of an entry, in kg, as often as it stands."""
    entry = entry_at(car, path)
    return where_known(lambda kg: kg * entry.standing, car.field(entry, "mass"))
