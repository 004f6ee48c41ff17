"""How what differs from the weighing follows each number that it is worked out from, written out by the lever rules.

A mass at `a` behind the front axle and `y` left of the centre line puts r = a / L on the rear axle and
(1 - p) f + p b on the left side: p is r with what the springs send to the rear, and f and b are the parts of each
axle's load that its left wheel carries, 1/2 + (y + o) / T. All of it is straight or a quotient in each number, so to
the other side of where the car stands it follows alike, and over a step as small as those by which values are moved
it is straight to 2 parts in 10^12, with levers of a millimetre or more. What has an edge there (a tank by levels, a
camber of 0) or rests on what is not known, is not written out: copies of the car tell it.
"""

from __future__ import annotations

from collections.abc import Callable, Container, Mapping
from fractions import Fraction
from functools import partial
from typing import Any, NamedTuple

from checker.car.car import Car
from checker.car.described.asking import ROLL_SPLIT
from checker.car.described.standard import AXLES, WHEELS
from checker.car.described.stated import ACROSS, ALONG, FROM_REAR, Entry
from checker.car.errors.slopes import Number, Slopes
from checker.car.weights import differences
from checker.car.weights.fuel import EXPANSION, STANDARD_DEGC, density
from checker.car.weights.geometry import Spot, measured_tyres
from checker.car.weights.places import spot_at, spot_of
from checker.car.weights.tyres import tyre_named
from checker.car.weights.weights import PAIRS
from checker.quantities.elementary import PI, tan
from checker.quantities.folding import fold
from checker.quantities.kind import Unknown

_LEAST_LEVER_MM = 1
_MOST_CAMBER_DEG = 45

Numbers = Mapping[str, Fraction]
"""How one number follows others, by the keys of the levers that move those."""


class _NotWritten(Exception):
    """Copies of the car tell it."""


def written_out(
    car: Car, part: tuple[Any, ...], wanted: Container[str], number: Number = float
) -> dict[str, Slopes]:
    """How a part of the weights follows its levers, as far as that is written out.

    Args:
        part: What makes it, and of what.
        wanted: Keys of levers.
        number: What is worked out in: floats, or exact numbers.
    """
    write = _BY_MAKER.get(part[0])
    if write is None:
        return {}
    writing = _Writing(car, wanted, number)
    try:
        write(writing, *part[1:])
    except (_NotWritten, OverflowError):
        return {}
    return writing.found


class _Levers(NamedTuple):
    """How the levers of a car follow what they are measured by."""

    wheelbase: Numbers
    tracks: Mapping[str, Numbers]


class _Writing:
    """The slopes of one part."""

    def __init__(self, car: Car, wanted: Container[str], number: Number) -> None:
        self.found: dict[str, Slopes] = {}
        self._car, self._wanted, self._number = car, wanted, number

    # --- what each part adds -----------------------------------------------------------------------------------

    def by_fuel_stated(self, fact: str) -> None:
        self.by_fuel(self._known(fact), {_key(fact): Fraction(1)})

    def by_fuel(self, wanted: object, follows: Numbers | None = None) -> None:
        car = self._car
        if car.tank_levels or not isinstance(wanted, Fraction):
            raise _NotWritten
        weighed, per_mm3 = self._known("weighing.fuel"), density(car)
        if isinstance(per_mm3, Unknown):
            raise _NotWritten
        mass: dict[str, Fraction] = {key: slope * per_mm3 for key, slope in (follows or {}).items()}
        for key, slope in {_key("weighing.fuel"): -per_mm3, **self._density(wanted - weighed)}.items():
            mass[key] = mass.get(key, Fraction(0)) + slope
        self._put_at("fuel.at", (wanted - weighed) * per_mm3, mass)

    def _density(self, added_mm3: Fraction) -> Numbers:
        """How the mass of so much fuel follows its density, and what that is stated at."""
        car, stated = self._car, self._known("fuel.density")
        now = car.stated("fuel.temperature")
        if now is None:
            return {_key("fuel.density"): added_mm3}
        then, expansion = car.stated("fuel.density_temperature"), car.stated("fuel.expansion")
        warmer = now.value - (STANDARD_DEGC if then is None else then.value)
        by_degree = Fraction(EXPANSION if expansion is None else expansion.value)
        return {
            _key("fuel.density"): added_mm3 * (1 - by_degree * warmer),
            _key("fuel.temperature"): -added_mm3 * stated * by_degree,
            _key("fuel.density_temperature"): added_mm3 * stated * by_degree,
            _key("fuel.expansion"): -added_mm3 * stated * warmer,
        }

    def by_driver(self, wanted: str) -> None:
        weighed = self._car.value("weighing.driver")
        if not isinstance(weighed, str):
            raise _NotWritten
        if wanted != weighed:
            sign = Fraction(1 if wanted == "aboard" else -1)
            self._put_at("driver.at", sign * self._known("driver.mass"), {_key("driver.mass"): sign})

    def by_tyres(self, wanted: object) -> None:
        car, fitted = self._car, self._car.value("weighing.tyres")
        if not isinstance(wanted, str) or not isinstance(fitted, str):
            raise _NotWritten
        if fold(wanted) == fold(fitted):
            return
        for tyre_set, sign in ((wanted, 1), (fitted, -1)):
            for wheel in WHEELS:
                name = tyre_named(car, car.tyre_set(tyre_set) or tyre_set, wheel, "mass")
                self._known(name)
                self._at_wheel(wheel, name, Fraction(sign))

    def by_wear(self, wanted: Fraction) -> None:
        weighed = self._car.value("weighing.wear")
        if not isinstance(weighed, str):
            raise _NotWritten
        gained = int(weighed == "worn") - wanted
        if not gained:
            return
        for wheel in WHEELS:
            self._known(f"wear.{wheel}")
            self._at_wheel(wheel, f"wear.{wheel}", gained)
        for fluid in self._car.fluids:
            lost = f"fluids.{fluid}.lost"
            self._put_at(f"fluids.{fluid}.at", gained * self._known(lost), {_key(lost): gained})

    def by_ballast(self, labels: tuple[str, ...]) -> None:
        wanted = {fold(label) for label in labels}
        for piece in self._car.every_entry("ballast"):
            kg, key = piece.value("mass"), partial(_key_of, piece)
            if fold(piece.label) not in wanted:
                for field in ("mass", ALONG, FROM_REAR, ACROSS):
                    self._add(key(field), (self._number(0),) * len(PAIRS))
                continue
            if not isinstance(kg, Fraction):
                raise _NotWritten
            times = Fraction(piece.standing)
            self._put(kg * times, {key("mass"): times}, spot_of(self._car, piece), key)

    # --- where it acts -----------------------------------------------------------------------------------------

    def _at_wheel(self, wheel: str, name: str, slope: Fraction) -> None:
        axle, side = wheel.split("_")
        kg, nothing = self._number(slope), self._number(0)
        self._add(_key(name), tuple(kg if at in ("total", axle, side) else nothing for at in PAIRS))

    def _put_at(self, owner: str, mass: Fraction, follows: Numbers) -> None:
        key = lambda place: _key(f"{owner}.{place.removeprefix('at.')}")  # noqa: E731
        self._put(mass, follows, spot_at(self._car, owner), key)

    def _put(self, mass: Fraction, follows: Numbers, spot: Spot, key: Callable[[str], str]) -> None:
        """A mass that follows so much, at a spot whose places have these keys."""
        geometry, number = self._car.geometry, self._number
        to_rear, to_left = geometry.shares(spot)
        if isinstance(to_rear, Unknown) or isinstance(to_left, Unknown):
            raise _NotWritten
        shares = [number(part) for part in (1, 1 - to_rear, to_rear, to_left, 1 - to_left)]
        for name, slope in follows.items():
            by = number(slope)
            self._add(name, tuple(by * part for part in shares))
        kg = number(mass)
        follow = self._car.once((_levers, number), partial(_levers, self._car, number), any_day=True)
        behind = to_rear + geometry.roll
        on_left: list[Fraction] = []
        for axle, part in zip(AXLES, (1 - behind, behind), strict=True):
            track, share = geometry.tracks[axle], geometry.share_of_axle(axle, spot.across)
            if isinstance(track, Unknown) or isinstance(share, Unknown) or track < _LEAST_LEVER_MM:
                raise _NotWritten
            on_left.append(share)
            by_place = kg * number(part) / number(track)
            for name in (key(ACROSS), _key(f"dimensions.{axle}_centre_line_offset")):
                self._lean(name, by_place)
            from_middle = number(share - Fraction(1, 2))
            for name, slope in follow.tracks[axle].items():
                self._lean(name, -by_place * from_middle * slope)
        leaning = kg * number(on_left[1] - on_left[0])
        self._lean(ROLL_SPLIT, leaning)
        base = geometry.wheelbase
        if isinstance(base, Unknown) or isinstance(spot.along, Unknown) or base < _LEAST_LEVER_MM:
            raise _NotWritten
        by_place, lever = 1 / number(base), number(-spot.along) / number(base) / number(base)
        place = FROM_REAR if spot.wheelbases else ALONG
        for name, by in (
            (key(place), by_place),
            *((one, lever * by) for one, by in follow.wheelbase.items()),
        ):
            self._add(name, (number(0), -kg * by, kg * by, leaning * by, -leaning * by))

    def _lean(self, key: str, kg: Any) -> None:
        """What goes from the right side to the left."""
        nothing = self._number(0)
        self._add(key, (nothing, nothing, nothing, kg, -kg))

    def _add(self, key: str, by: tuple[Any, ...]) -> None:
        if key in self._wanted:
            more = Slopes(by, tuple(map(abs, by)))
            mine = self.found.get(key)
            self.found[key] = more if mine is None else mine.and_with(more)

    def _known(self, name: str) -> Fraction:
        value = self._car.value(name)
        if not isinstance(value, Fraction):
            raise _NotWritten
        return value


_BY_MAKER: Mapping[Any, Callable[..., None]] = {
    differences.by_fuel_stated: _Writing.by_fuel_stated,
    differences.by_fuel: _Writing.by_fuel,
    differences.by_driver: _Writing.by_driver,
    differences.by_tyres: _Writing.by_tyres,
    differences.by_wear: _Writing.by_wear,
    differences.by_ballast: _Writing.by_ballast,
}


def _key(name: str) -> str:
    """Of the lever of a fact, or a part of the structure, of one value."""
    return f"{name}[None]"


def _key_of(entry: Entry, field: str) -> str:
    return f"{entry.path}.{field}[None]"


def _levers(car: Car, number: Number) -> _Levers:
    """In what is known on the car; a camber of 0 asks for no radius, and so is left out."""
    half = Fraction(1, 2)
    sides = ("left", "right")
    wheelbase = {_key(f"dimensions.wheelbase_{side}"): number(half) for side in sides}
    fitted, tracks = car.value("weighing.tyres"), {}
    for axle in AXLES:
        follows = {_key(f"dimensions.{axle}_width_over_tyres"): Fraction(1)}
        camber = car.stated(f"dimensions.{axle}_camber")
        of_tyres = {"section": -half}
        if camber is not None and 0 < abs(camber.value) <= _MOST_CAMBER_DEG:
            tangent, radius = tan(camber.value), measured_tyres(car, axle, "radius")
            of_tyres["radius"] = -tangent
            if isinstance(radius, Fraction):
                follows[_key(f"dimensions.{axle}_camber")] = -radius * (1 + tangent**2) * PI / 90
        for what, slope in of_tyres.items() if isinstance(fitted, str) else ():
            for side in sides:
                key = _key(tyre_named(car, car.tyre_set(fitted) or fitted, f"{axle}_{side}", what))
                follows[key] = follows.get(key, Fraction(0)) + slope
        tracks[axle] = {key: number(slope) for key, slope in follows.items()}
    return _Levers(wheelbase, tracks)
