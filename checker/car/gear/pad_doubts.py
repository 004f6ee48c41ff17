"""Pads that are out of order: found by a check, or by swapping them between two weighings of one car.

Under one wheel, two pads in turn show the same car; what they differ by is the difference of their errors. Where it is
more than both may be out by and a step of the display, no two pads in order can show it: one is out of order, and from
then on the difference itself stands for what they may be out by. Where it is only more than twice its standard
uncertainty, as their stated errors make it, one of them perhaps is: that is told, and what is stated still counts.

A reading that repeats another once left and right (or the diagonals) are exchanged was perhaps entered by pad and not
by wheel, which looks the same; and a load far from what the wheel showed before is a slip of typing before it is a bad
pad. Both are asked about first.

Source: the normalized error E_n of ISO/IEC 17043, which is above 1 where a difference exceeds its expanded uncertainty
with k = 2 (recalled).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction
from itertools import combinations

from checker.car.described.instrument import Instrument
from checker.car.described.standard import WHEELS
from checker.car.gear.pad_checks import OutOfOrder, PadCheck, out_of_order
from checker.car.gear.weighing import Weighing
from checker.quantities.amount import Amount, kilograms
from checker.quantities.elementary import sqrt
from checker.reading.quick_dataclasses import dataclass

COVERAGE = 2


@dataclass(frozen=True, slots=True)
class PadDifference:
    """How far one pad shows more than another under the same wheels."""

    more: str
    less: str
    kg: Fraction
    """Above 0."""
    allowed_kg: Fraction
    """Twice the standard uncertainty of the difference."""
    most_kg: Fraction
    """The most that pads in order can show: what both may be out by, and a step of the display."""

    @property
    def is_certain(self) -> bool:
        """Whether no two pads in order can differ so."""
        return self.kg > self.most_kg


@dataclass(frozen=True, slots=True)
class Exchanged:
    """A reading that repeats the first once wheels are exchanged: perhaps entered by pad and not by wheel."""

    what: str
    """One of `EXCHANGES`."""
    reading: int
    """From 1."""
    within: Amount
    """How well it repeats the first."""


@dataclass(frozen=True, slots=True)
class Mistyped:
    """A load far from what the wheel showed in the first reading."""

    load: str
    reading: int
    """From 1."""
    shown: Amount
    first: Amount


@dataclass(frozen=True, slots=True)
class PadsDiffer:
    """What two pads showed in turn under the same wheels is no good pads' difference, or was typed wrong."""

    gear: str
    differences: tuple[PadDifference, ...] = ()
    """Those that are certain, or, where none is, those that the stated errors do not explain; none where a reading is
    only asked about."""
    culprit: str = ""
    """The one pad that all certain differences have in common."""
    asked: Exchanged | Mistyped | None = None
    """What is asked about first."""

    @property
    def is_certain(self) -> bool:
        return any(difference.is_certain for difference in self.differences)


@dataclass(frozen=True, slots=True)
class PadFailedCheck:
    """A pad that a check found out of order for a time that the weighing may lie in."""

    gear: str
    out: OutOfOrder
    under: Amount
    """With what on it."""
    error: Amount
    """How much too much it showed then."""


@dataclass(frozen=True, slots=True)
class PadDoubt:
    """Pads that are not to be trusted as stated."""

    half_widths_kg: Mapping[str, Fraction]
    """What each of them may be out by instead of what is stated; {} where they are perhaps in order."""
    reason: PadsDiffer | PadFailedCheck


def differences(weighing: Weighing, gear: Instrument) -> tuple[PadDifference, ...]:
    """Every two pads that stood under the same wheel in turn, with what they differ by on average."""
    found: list[PadDifference] = []
    for a, b in combinations(weighing.pads, 2):
        under_both = [d for load in weighing.shape if (d := _under(weighing, load, a, b)) is not None]
        if not under_both:
            continue
        times = len(under_both)
        difference = sum((d for d, _ in under_both), Fraction(0)) / times
        rounding = sum((n for _, n in under_both), Fraction(0)) * gear.resolution**2 / 12 / times**2
        half_a, half_b = (_half_width(weighing, gear, pad) for pad in (a, b))
        stated = (half_a**2 + half_b**2) / 3 + 2 * gear.uncertainty**2
        allowed = COVERAGE * sqrt(stated + rounding)
        most = half_a + half_b + 2 * COVERAGE * gear.uncertainty + gear.resolution
        more, less = (a, b) if difference >= 0 else (b, a)
        found.append(PadDifference(more, less, abs(difference), allowed, most))
    return tuple(found)


def _under(weighing: Weighing, load: str, a: str, b: str) -> tuple[Fraction, Fraction] | None:
    """Mean of pad `a` less mean of pad `b` under one wheel, and 1/n + 1/m of the readings behind it."""
    by_a, by_b = (
        [r.loads[load].value for r in weighing.readings if r.pad_under(load) == pad] for pad in (a, b)
    )
    if not by_a or not by_b:
        return None
    difference = sum(by_a, Fraction(0)) / len(by_a) - sum(by_b, Fraction(0)) / len(by_b)
    return difference, Fraction(1, len(by_a)) + Fraction(1, len(by_b))


def _half_width(weighing: Weighing, gear: Instrument, pad: str) -> Fraction:
    """The stated error of a pad at the greatest load that it carried."""
    return max(gear.permissible_error.at(load) for load in carried(weighing, pad))


def carried(weighing: Weighing, pad: str) -> list[Fraction]:
    """The loads that a pad showed."""
    return [s.value for r in weighing.readings for load, s in r.loads.items() if r.pad_under(load) == pad]


def doubts(weighing: Weighing, gear: Instrument, checks: Sequence[PadCheck]) -> tuple[PadDoubt, ...]:
    return (*_by_swapping(weighing, gear), *_by_checks(weighing, gear, checks))


def _by_swapping(weighing: Weighing, gear: Instrument) -> list[PadDoubt]:
    beyond = [d for d in differences(weighing, gear) if d.kg > d.allowed_kg]
    asked = _asked_first(weighing, gear)
    if not beyond:
        return [PadDoubt({}, PadsDiffer(gear.name, asked=asked))] if asked else []
    certain = [d for d in beyond if d.is_certain]
    widths: dict[str, Fraction] = {}
    for difference in certain:
        for pad in (difference.more, difference.less):
            widths[pad] = max(widths.get(pad, Fraction(0)), difference.kg)
    common = set.intersection(*({d.more, d.less} for d in certain)) if len(certain) > 1 else set()
    culprit = common.pop() if len(common) == 1 else ""
    return [PadDoubt(widths, PadsDiffer(gear.name, tuple(certain or beyond), culprit, asked))]


EXCHANGES: Mapping[str, tuple[str, ...]] = {
    "left and right": ("front_right", "front_left", "rear_right", "rear_left"),
    "both diagonals": ("rear_right", "rear_left", "front_right", "front_left"),
}
"""Where each of `WHEELS` would have been written, by somebody who writes by pad after a swap."""

FAR_OFF = Fraction(1, 20)
"""A load that differs by more than this part from what the wheel showed before is asked about. Common practice, no
source."""


def _asked_first(weighing: Weighing, gear: Instrument) -> Exchanged | Mistyped | None:
    """What may have been typed wrong in a reading, before any pad is blamed."""
    if weighing.shape != WHEELS:
        return None
    first, *others = weighing.loads(0), *(weighing.loads(n) for n in range(1, len(weighing.readings)))
    widest = max(_half_width(weighing, gear, pad) for pad in weighing.pads)
    most = 2 * (widest + COVERAGE * gear.uncertainty) + gear.resolution
    for number, loads in enumerate(others, 2):
        if _apart(first, loads) <= most:
            continue
        for what, wheels in EXCHANGES.items():
            if _apart(first, {wheel: loads[at] for wheel, at in zip(WHEELS, wheels, strict=True)}) <= most:
                return Exchanged(what, number, kilograms(most))
        for wheel, kg in loads.items():
            if abs(kg - first[wheel]) > FAR_OFF * max(kg, first[wheel]):
                return Mistyped(wheel, number, kilograms(kg), kilograms(first[wheel]))
    return None


def _apart(one: Mapping[str, Fraction], other: Mapping[str, Fraction]) -> Fraction:
    return max(abs(one[load] - other[load]) for load in one)


def _by_checks(weighing: Weighing, gear: Instrument, checks: Sequence[PadCheck]) -> list[PadDoubt]:
    found: list[PadDoubt] = []
    for out in out_of_order(checks, gear):
        if out.pad not in weighing.pads or not out.covers(weighing.when):
            continue
        load, error = max(out.check.errors(out.pad), key=lambda pair: abs(pair[1]))
        width = max(abs(out.check.error_at(out.pad, load)) for load in carried(weighing, out.pad))
        reason = PadFailedCheck(gear.name, out, kilograms(load), kilograms(error))
        found.append(PadDoubt({out.pad: max(width, abs(error))}, reason))
    return found


def half_widths(weighing: Weighing, gear: Instrument, found: Sequence[PadDoubt]) -> dict[str, Fraction]:
    """Half-width of the error of every pad: as stated, or more where it is in doubt."""
    widths = {pad: _half_width(weighing, gear, pad) for pad in weighing.pads}
    for doubt in found:
        for pad, width in doubt.half_widths_kg.items():
            widths[pad] = max(widths[pad], width)
    return widths
