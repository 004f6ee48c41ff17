"""What is to be noticed of a car's weights and gear before anybody trusts the numbers, as data.

Each is a warning: which of the numbers is wrong cannot be told from here. Nothing here is a sentence or rounded;
`checker.report` alone knows words, cures in words, units shown and rounding.
"""

from __future__ import annotations

from datetime import date
from enum import StrEnum

from checker.car.described.accuracy_classes import AccuracyClass
from checker.car.gear.pad_doubts import PadFailedCheck, PadsDiffer
from checker.quantities.amount import Amount
from checker.reading.marks import Whereabouts, span_of
from checker.reading.problems import Span
from checker.reading.quick_dataclasses import dataclass


class Noticed(StrEnum):
    OFFSETS_OF_NO_PAD = "offsets_of_no_pad"
    """Gear with offsets for pads (`names`) that no reading names; those that are named are `others`."""
    CHECKS_OF_NO_PAD = "checks_of_no_pad"
    """Checks of pads (`names`) that no reading names, while some of those that are named (`others`) have none."""
    BEYOND_CLASS = "beyond_class"
    """Gear under a load (`amount`) that none of its class is made for."""
    CALIBRATION_OVER = "calibration_over"
    """Gear that was used on a day after the last of its calibration (`days`)."""
    NOT_YET_CALIBRATED = "not_yet_calibrated"
    """The other way round."""
    SAME_FACTOR = "same_factor"
    """Pads (`names`) that by their checks all show too much or too little by the same part (`amount`)."""
    BEHIND = "behind"
    """A place that lies so far (`amount`) behind the rear axle,"""
    AHEAD = "ahead"
    """ahead of the front axle,"""
    OUTSIDE = "outside"
    """or from the centre line, outside the wheels."""
    PARTS_ABOVE_WHOLE = "parts_above_whole"
    """The parts that are stated weigh more (`amount`) than the car (`whole`)."""
    NO_SUCH_HEIGHT = "no_such_height"
    """Raising an axle gives a height (`amount`) at which no centre of gravity lies."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Notice:
    what: Noticed
    name: str = ""
    """Of the gear or the place."""
    amount: Amount | None = None
    whole: Amount | None = None
    names: tuple[str, ...] = ()
    others: tuple[str, ...] = ()
    days: tuple[date, date] | None = None
    """Of the calibration, and of the car's event."""
    accuracy: AccuracyClass | None = None


Remark = Notice | PadsDiffer | PadFailedCheck


@dataclass(frozen=True, slots=True)
class Remarked:
    """A remark with its code and place."""

    code: str
    """See `checker.car.reading.mistakes.CODES`."""
    remark: Remark
    place: Whereabouts | Span | None

    @property
    def span(self) -> Span | None:
        """Where it is to be pointed to."""
        return span_of(self.place)
