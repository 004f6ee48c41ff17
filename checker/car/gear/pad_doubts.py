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
from dataclasses import dataclass
from fractions import Fraction
from itertools import combinations

from checker.car.described.instrument import Instrument
from checker.car.described.standard import WHEELS
from checker.car.gear.pad_checks import PadCheck, out_of_order
from checker.car.gear.weighing import Weighing
from checker.quantities.display import show
from checker.quantities.elementary import sqrt
from checker.quantities.rounding import round_to
from checker.quantities.units import parse_unit

COVERAGE = 2
_KG = parse_unit("kg", None)


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
    def is_explained(self) -> bool:
        return self.kg <= self.allowed_kg

    @property
    def is_certain(self) -> bool:
        """Whether no two pads in order can differ so."""
        return self.kg > self.most_kg


@dataclass(frozen=True, slots=True)
class PadDoubt:
    """Pads that are not to be trusted as stated."""

    half_widths_kg: Mapping[str, Fraction]
    """What each of them may be out by instead of what is stated; {} where they are perhaps in order."""
    message: str
    hint: str


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
        stated = sum(
            (_half_width(weighing, gear, pad) ** 2 / 3 + gear.uncertainty**2 for pad in (a, b)), Fraction(0)
        )
        allowed = COVERAGE * sqrt(stated + rounding)
        most = sum(
            (_half_width(weighing, gear, p) + COVERAGE * gear.uncertainty for p in (a, b)), gear.resolution
        )
        more, less = (a, b) if difference >= 0 else (b, a)
        found.append(PadDifference(more, less, abs(difference), allowed, most))
    return tuple(found)


def _under(weighing: Weighing, load: str, a: str, b: str) -> tuple[Fraction, Fraction] | None:
    """Mean of pad `a` less mean of pad `b` under one wheel, and 1/n + 1/m of the readings behind it."""
    by_pad = {
        pad: [r.loads[load].value for r in weighing.readings if r.pad_under(load) == pad] for pad in (a, b)
    }
    if not all(by_pad.values()):
        return None
    means = [sum(values, Fraction(0)) / len(values) for values in by_pad.values()]
    return means[0] - means[1], sum((Fraction(1, len(values)) for values in by_pad.values()), Fraction(0))


def _half_width(weighing: Weighing, gear: Instrument, pad: str) -> Fraction:
    """The stated error of a pad at the greatest load that it carried."""
    return max(gear.permissible_error.at(load) for load in carried(weighing, pad))


def carried(weighing: Weighing, pad: str) -> list[Fraction]:
    """The loads that a pad showed."""
    return [s.value for r in weighing.readings for load, s in r.loads.items() if r.pad_under(load) == pad]


def doubts(weighing: Weighing, gear: Instrument, checks: Sequence[PadCheck]) -> tuple[PadDoubt, ...]:
    """All doubts about the pads of a weighing."""
    return (*_by_swapping(weighing, gear), *_by_checks(weighing, gear, checks))


def _by_swapping(weighing: Weighing, gear: Instrument) -> list[PadDoubt]:
    beyond = [d for d in differences(weighing, gear) if not d.is_explained]
    asked = _asked_first(weighing, gear)
    if not beyond:
        return [PadDoubt({}, f"{gear.name}: {asked}", "correct the reading if so")] if asked else []
    certain = [d for d in beyond if d.is_certain]
    widths: dict[str, Fraction] = {}
    for difference in certain:
        for pad in (difference.more, difference.less):
            widths[pad] = max(widths.get(pad, Fraction(0)), difference.kg)
    told = "; ".join(
        f"the {_named(d.more)} pad shows {_kg(d.kg)} more than the {_named(d.less)} pad under the same wheel,"
        f" and their stated errors explain {_kg(d.most_kg if d.is_certain else d.allowed_kg)}"
        f"{'' if d.is_certain else f', at the very most {_kg(d.most_kg)}'}"
        for d in certain or beyond
    )
    culprit = set.intersection(*({d.more, d.less} for d in certain)) if len(certain) > 1 else set()
    which = f"the {_named(culprit.pop())} pad" if len(culprit) == 1 else "one of them"
    verdict = f"{which} is out of order" if certain else "perhaps one of them is out of order"
    hint = "weigh again on good pads, or find the one that is out with a test weight"
    if not certain:
        hint = "a car set down differently shows the same: roll it off and on again, or try a test weight"
    message = f"{asked}; else {told}: {verdict}" if asked else f"{told}: {verdict}"
    return [PadDoubt(widths, f"{gear.name}: {message}", hint)]


EXCHANGES: Mapping[str, tuple[str, ...]] = {
    "left and right": ("front_right", "front_left", "rear_right", "rear_left"),
    "both diagonals": ("rear_right", "rear_left", "front_right", "front_left"),
}
"""Where each of `WHEELS` would have been written, by somebody who writes by pad after a swap."""

FAR_OFF = Fraction(1, 20)
"""A load that differs by more than this part from what the wheel showed before is asked about. Common practice, no
source."""


def _asked_first(weighing: Weighing, gear: Instrument) -> str:
    """What may have been typed wrong in a reading, before any pad is blamed; "" where nothing looks so."""
    if weighing.shape != WHEELS:
        return ""
    first, *others = weighing.loads(0), *(weighing.loads(n) for n in range(1, len(weighing.readings)))
    widest = max(_half_width(weighing, gear, pad) for pad in weighing.pads)
    most = 2 * (widest + COVERAGE * gear.uncertainty) + gear.resolution
    for number, loads in enumerate(others, 2):
        if _apart(first, loads) <= most:
            continue
        for what, wheels in EXCHANGES.items():
            if _apart(first, {wheel: loads[at] for wheel, at in zip(WHEELS, wheels, strict=True)}) <= most:
                return (
                    f"are {what} exchanged in reading {number}, as if it had been entered by pad and not by wheel?"
                    f" Exchanged, it repeats the first to within {_kg(most)}"
                )
        for wheel, kg in loads.items():
            if abs(kg - first[wheel]) > FAR_OFF * max(kg, first[wheel]):
                return (
                    f"was every digit typed of the {_named(wheel)} load of reading {number}? It is {_kg(kg)}, and"
                    f" {_kg(first[wheel])} in the first"
                )
    return ""


def _apart(one: Mapping[str, Fraction], other: Mapping[str, Fraction]) -> Fraction:
    return max(abs(one[load] - other[load]) for load in one)


def _by_checks(weighing: Weighing, gear: Instrument, checks: Sequence[PadCheck]) -> list[PadDoubt]:
    found: list[PadDoubt] = []
    for out in out_of_order(checks, gear):
        if out.pad not in weighing.pads or not out.covers(weighing.when):
            continue
        load, error = max(out.check.errors(out.pad), key=lambda pair: abs(pair[1]))
        width = max(abs(out.check.error_at(out.pad, load)) for load in carried(weighing, out.pad))
        at = f"under {_kg(load)}" if load else "with nothing on it"
        more = "too much" if error > 0 else "too little"
        message = (
            f"{gear.name}: the {_named(out.pad)} pad showed {_kg(abs(error))} {more} {at} on {out.check.when.words},"
            f" more than it may: it is out of order {out.span_of_time}"
        )
        found.append(PadDoubt({out.pad: max(width, abs(error))}, message, "weigh again on good pads"))
    return found


def half_widths(weighing: Weighing, gear: Instrument, found: Sequence[PadDoubt]) -> dict[str, Fraction]:
    """Half-width of the error of every pad: as stated, or more where it is in doubt."""
    widths = {pad: _half_width(weighing, gear, pad) for pad in weighing.pads}
    for doubt in found:
        for pad, width in doubt.half_widths_kg.items():
            widths[pad] = max(widths[pad], width)
    return widths


def _named(pad: str) -> str:
    return pad.replace("_", " ")


def _kg(amount: Fraction) -> str:
    return show(round_to(amount, Fraction(1, 100), "half_even"), _KG)
