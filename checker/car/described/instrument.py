"""What gear can tell: how fine it shows, how far it may be out, and how long its calibration lasts."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from fractions import Fraction

from checker.car.described.accuracy_classes import AccuracyClass
from checker.quantities.kind import Kind
from checker.reading.quick_dataclasses import KW_ONLY, dataclass, field

ZERO = Fraction(0)


@dataclass(frozen=True, slots=True)
class Permissible:
    """The largest error that a maker, a certificate or a standard allows: one of these."""

    amount: Fraction = ZERO
    """The same everywhere, in base units."""
    share: Fraction = ZERO
    """Of the value shown."""
    accuracy: AccuracyClass | None = None

    def at(self, value: Fraction) -> Fraction:
        """Half-width of the error allowed at a value, in base units."""
        if self.accuracy is not None:
            return self.accuracy.permissible_kg(value)
        return self.amount + self.share * abs(value)


@dataclass(frozen=True, slots=True)
class Instrument:
    """One instrument, or one set of pads. Base units of whatever it measures."""

    name: str
    resolution: Fraction = ZERO
    """One step of the display."""
    permissible_error: Permissible = field(default_factory=Permissible)
    """Of each pad by itself, where it is a set of pads."""
    uncertainty: Fraction = ZERO
    """Standard uncertainty that a certificate states, of each pad by itself."""
    _: KW_ONLY
    common_error: Fraction = ZERO
    """Half-width, as a share of what is shown, of an error that all pads of the set have in common."""
    offsets: Mapping[str, Fraction] = field(default_factory=dict)
    """What is to be added to the reading of each pad."""
    kind: Kind | None = None
    calibrated: date | None = None
    """Day of the last calibration."""
    calibrated_until: date | None = None
    """Last day that the calibration is good for."""
    error_stated: bool = False
    """Whether its permissible error or uncertainty is stated, be it as nothing."""

    @property
    def tells_error(self) -> bool:
        """Whether it is known how far it may be out; how fine it shows says nothing of that."""
        return self.error_stated or self.permissible_error != Permissible() or bool(self.uncertainty)


@dataclass(frozen=True, slots=True)
class Assumptions:
    """What a pack takes for granted of a weighing where nobody states it; never nothing."""

    floor_out_of_level_deg: Fraction = Fraction(1, 10)
    """Half-width: the floor under the pads is level to within this, across and along."""
    centre_of_gravity_height_mm: Fraction = Fraction(350)
    track_mm: Fraction = Fraction(1200)
    """A low one, where the car's is not known: the narrower, the more a floor out of level does."""
    wheelbase_mm: Fraction = Fraction(1800)
    """A short one, where the car's is not known."""
    weighed_with: str = ""
    """The pack's own instrument that single wheels are weighed with where none is stated; "" for none."""
