"""What would make a source of error smaller, as data; in a cure, how far it is to go.

A cure is asked for the share of its standard uncertainty that a source may keep; where nobody could get so far, there
is none. Nothing here is a sentence or rounded: `checker.report` alone knows words, units shown and rounding.
"""

from __future__ import annotations

from collections.abc import Callable
from enum import StrEnum
from fractions import Fraction

from checker.quantities.amount import Amount, millimetres
from checker.quantities.kind import NUMBER
from checker.quantities.units import Unit
from checker.reading.quick_dataclasses import dataclass


class How(StrEnum):
    """What there is to do about an error."""

    WEIGH_AGAIN = "weigh_again"
    """So many times more, or, where no number is given, at least once."""
    WEIGH_AGAIN_OR_FINER = "weigh_again_or_finer"
    FINER_PADS = "finer_pads"
    BETTER_OR_SWAPPED_PADS = "better_or_swapped_pads"
    ADJUST_THE_SET = "adjust_the_set"
    ONE_PLANE = "one_plane"
    """Bring the pads into one plane."""
    LEVEL = "level"
    """Level the pads, to within the amount."""
    USE_GEAR = "use_gear"
    """Gear that is good to the amount."""
    MEASURE_FINER = "measure_finer"
    """With other gear; good to the amount, where one is given."""
    FIND_CLOSER = "find_closer"
    """What nobody has measured."""
    CORRECT_READING = "correct_reading"
    """The reading of that number, which was perhaps typed wrong."""


@dataclass(frozen=True, slots=True)
class Remedy:
    """One thing that makes an error smaller."""

    how: How
    what: str = ""
    """What is measured, by its name, the gear to use, or which way the pads are levelled."""
    to: Amount | None = None
    """What it may be out by at most, exact."""
    times: int = 0
    """How often; of a reading, its number from 1."""


Cure = Callable[[Fraction], Remedy | None]

MOST_READINGS = 10
"""Nobody weighs a car more often."""
FINEST = Fraction(1, 5)
"""Nobody gets gear that is good to less than this share of what there is."""
LEVEL_MM = Fraction(1, 2)
"""Nobody levels pads to less."""
EACH_OTHER = "with each other"
"""Which way pads are levelled that stand out of one plane."""


def more_readings(times: int) -> Cure:
    """The spread of a mean of so many readings shrinks with the root of their number."""

    def cure(share: Fraction) -> Remedy | None:
        needed = -(-times // (share * share)) if share else MOST_READINGS + 1
        more = int(needed) - times
        return Remedy(How.WEIGH_AGAIN, times=more) if needed <= MOST_READINGS and more > 0 else None

    return cure


def better_gear(what: str, half_width: Fraction, unit: Unit | None, how: How = How.USE_GEAR) -> Cure:
    """Gear whose error is so much smaller; `what` is what to use, as in "pads", or what was measured."""

    def cure(share: Fraction) -> Remedy | None:
        to = Amount(half_width * share, unit.kind if unit else NUMBER, unit)
        return Remedy(how, what, to) if share >= FINEST else None

    return cure


def level_pads(direction: str, mm: Fraction) -> Cure:
    """Pads levelled to half a millimetre at best."""

    def cure(share: Fraction) -> Remedy | None:
        return levelled(direction, mm * share) if mm * share >= LEVEL_MM else None

    return cure


def levelled(direction: str, mm: Fraction) -> Remedy:
    """Level the pads to a difference in height, or as well as anybody can."""
    return Remedy(How.LEVEL, direction, millimetres(max(mm, LEVEL_MM)))
