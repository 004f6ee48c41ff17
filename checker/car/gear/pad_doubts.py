"""Pads that are out of order: found by a check, or by swapping them between two weighings of one car.

Under one wheel, two pads in turn show the same car; what they differ by is the difference of their errors. Where it is
more than twice its standard uncertainty, as their stated errors make it, one of them is out of order, and from then
on the difference itself stands for what they may be out by.

Source: the normalized error E_n of ISO/IEC 17043, which is above 1 where a difference exceeds its expanded uncertainty
with k = 2 (recalled).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import combinations

from checker.car.described.instrument import Instrument
from checker.car.gear.pad_checks import PadCheck, out_of_order
from checker.car.gear.weighing import Weighing
from checker.quantities.display import show
from checker.quantities.elementary import sqrt
from checker.quantities.rounding import round_to
from checker.quantities.units import parse_unit

COVERAGE = 2
_KG = parse_unit("kg", None)


@dataclass(frozen=True, slots=True)
class Difference:
    """How far one pad shows more than another under the same wheels."""

    more: str
    less: str
    kg: Fraction
    """Above 0."""
    allowed_kg: Fraction
    """Twice the standard uncertainty of the difference."""

    @property
    def is_explained(self) -> bool:
        return self.kg <= self.allowed_kg


@dataclass(frozen=True, slots=True)
class Doubt:
    """Pads that are not to be trusted as stated."""

    half_widths_kg: Mapping[str, Fraction]
    """What each of them may be out by instead of what is stated."""
    message: str
    hint: str


def differences(weighing: Weighing, gear: Instrument) -> tuple[Difference, ...]:
    """Every two pads that stood under the same wheel in turn, with what they differ by on average."""
    found: list[Difference] = []
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
        more, less = (a, b) if difference >= 0 else (b, a)
        found.append(Difference(more, less, abs(difference), allowed))
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


def doubts(weighing: Weighing, gear: Instrument, checks: Sequence[PadCheck]) -> tuple[Doubt, ...]:
    """All doubts about the pads of a weighing."""
    return (*_by_swapping(weighing, gear), *_by_checks(weighing, gear, checks))


def _by_swapping(weighing: Weighing, gear: Instrument) -> list[Doubt]:
    beyond = [d for d in differences(weighing, gear) if not d.is_explained]
    if not beyond:
        return []
    widths: dict[str, Fraction] = {}
    for difference in beyond:
        for pad in (difference.more, difference.less):
            widths[pad] = max(widths.get(pad, Fraction(0)), difference.kg)
    told = "; ".join(
        f"the {_named(d.more)} pad shows {_kg(d.kg)} more than the {_named(d.less)} pad under the same wheel,"
        f" and their stated errors explain {_kg(d.allowed_kg)}"
        for d in beyond
    )
    culprit = set.intersection(*({d.more, d.less} for d in beyond)) if len(beyond) > 1 else set()
    which = f"the {_named(culprit.pop())} pad" if len(culprit) == 1 else "one of them"
    hint = "weigh again on good pads, or find the one that is out with a test weight"
    return [Doubt(widths, f"{gear.name}: {told}: {which} is out of order", hint)]


def _by_checks(weighing: Weighing, gear: Instrument, checks: Sequence[PadCheck]) -> list[Doubt]:
    found: list[Doubt] = []
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
        found.append(Doubt({out.pad: max(width, abs(error))}, message, "weigh again on good pads"))
    return found


def half_widths(weighing: Weighing, gear: Instrument, found: Sequence[Doubt]) -> dict[str, Fraction]:
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
