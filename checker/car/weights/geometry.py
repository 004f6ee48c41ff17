"""The levers of one car: mean wheelbase, each axle's track between contact centres, and where its middle lies.

The track is the width over the tyres less half of each section, less what the camber takes away between hub height,
where the width is measured, and the ground. Where the tracks differ, what an item off the centre line puts on each side
depends on how the car's springs and bars share the roll between the axles; each axle is then given its own track, and
how far that may be wrong is carried as a source of error.
"""

from __future__ import annotations

from fractions import Fraction

from checker.car.described.asking import Described
from checker.car.described.standard import AXLES
from checker.car.weights.levers import (
    HALF,
    contact_track,
    left_share,
    left_share_of_car,
    mean_wheelbase,
    rear_share,
)
from checker.car.weights.tyres import of_tyre
from checker.quantities.kind import Unknown, where_known
from checker.reading.quick_dataclasses import dataclass

MaybeFraction = Fraction | Unknown


@dataclass(frozen=True, slots=True)
class Spot:
    """Where a mass acts."""

    along: MaybeFraction
    """mm behind the front axle, or behind what `wheelbases` says."""
    across: MaybeFraction
    """mm left of the car's centre line."""
    wheelbases: Fraction = Fraction(0)
    """How many wheelbases behind the front axle `along` counts from: 0 the front axle, 1 the rear one."""

    def behind(self, axle: int, wheelbase: MaybeFraction) -> MaybeFraction:
        """mm behind the front axle (0) or the rear one (1)."""
        between = self.wheelbases - axle
        if not between:
            return self.along
        return where_known(lambda along, base: along + between * base, self.along, wheelbase)


class Geometry:
    """The levers of one car in mm."""

    __slots__ = ("_shares", "offsets", "roll", "tracks", "wheelbase")

    def __init__(self, car: Described) -> None:
        self.wheelbase: MaybeFraction = where_known(
            mean_wheelbase, car.value("dimensions.wheelbase_left"), car.value("dimensions.wheelbase_right")
        )
        self.tracks: dict[str, MaybeFraction] = {axle: _track(car, axle) for axle in AXLES}
        """Between contact centres, by axle."""
        self.offsets: dict[str, Fraction] = {axle: _offset(car, axle) for axle in AXLES}
        """How far the centre line lies left of the middle between the contact centres, by axle."""
        self.roll = car.roll_split
        self._shares: dict[Spot, tuple[MaybeFraction, MaybeFraction]] = {}

    def shares(self, spot: Spot) -> tuple[MaybeFraction, MaybeFraction]:
        """The parts of a mass at that spot that fall on the rear axle and on the left side."""
        if spot not in self._shares:
            to_rear: MaybeFraction = spot.wheelbases
            if spot.along != 0:
                to_rear = where_known(
                    lambda along, base: spot.wheelbases + rear_share(along, base), spot.along, self.wheelbase
                )
            self._shares[spot] = (to_rear, self._left_share(to_rear, spot.across))
        return self._shares[spot]

    def _left_share(self, to_rear: MaybeFraction, across: MaybeFraction) -> MaybeFraction:
        """The part on the left side; asks only for the levers that matter at that spot."""
        front, rear = (self.share_of_axle(axle, across) for axle in AXLES)
        if front == rear or (to_rear == 0 and not self.roll):
            return front
        if to_rear == 1 and not self.roll:
            return rear
        split = where_known(lambda part: part + self.roll, to_rear)
        return where_known(left_share_of_car, split, front, rear)

    def share_of_axle(self, axle: str, across: MaybeFraction) -> MaybeFraction:
        """The part of what falls on an axle, at that place across, that its left wheel carries."""
        from_middle = where_known(lambda y: y + self.offsets[axle], across)
        return HALF if from_middle == 0 else where_known(left_share, from_middle, self.tracks[axle])


def _offset(car: Described, axle: str) -> Fraction:
    """How far the car's centre line lies left of the middle between the contact centres."""
    stated = car.stated(f"dimensions.{axle}_centre_line_offset")
    return Fraction(0) if stated is None else stated.value


def _track(car: Described, axle: str) -> MaybeFraction:
    width = car.value(f"dimensions.{axle}_width_over_tyres")
    section = measured_tyres(car, axle, "section")
    camber = car.stated(f"dimensions.{axle}_camber")
    if camber is None or camber.value == 0:
        return where_known(contact_track, width, section)
    return where_known(contact_track, width, section, camber.value, measured_tyres(car, axle, "radius"))


def measured_tyres(car: Described, axle: str, what: str) -> MaybeFraction:
    """The mean of both tyres that were on the axle when measured; that of every set, if all are alike."""
    if not car.tyre_sets:
        return Unknown(absent=("tyres",))
    fitted = car.value("weighing.tyres")
    if isinstance(fitted, Unknown):
        measures = {_mean(car, name, axle, what) for name in car.tyre_sets}
        alike = measures.pop()
        return fitted if measures or isinstance(alike, Unknown) else alike
    return _mean(car, car.tyre_set(fitted) or fitted, axle, what)


def _mean(car: Described, tyre_set: str, axle: str, what: str) -> MaybeFraction:
    both = (of_tyre(car, tyre_set, f"{axle}_{side}", what) for side in ("left", "right"))
    return where_known(lambda left, right: (left + right) / 2, *both)
