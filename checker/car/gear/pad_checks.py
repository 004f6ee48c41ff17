"""Checks of the pads before and after a session: what each shows with nothing on it and under a known weight.

    checks:
      - {instrument: club pads, when: 2026-05-03 08:40, zero: {front_left: 0 kg, ...},
         test_weight: 20 kg, shown: {front_left: 20.0 kg, ...}}

A pad that shows more or less than it may is out of order from its last good check to its next one.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from fractions import Fraction

from checker.car.described.instrument import ZERO, Instrument
from checker.car.described.standard import measured
from checker.car.gear.times import Moment, read_moment
from checker.car.reading.mistakes import Reader, name_of
from checker.car.reading.values import read_instrument_name, read_value
from checker.reading.problems import Path, Span
from checker.reading.quick_dataclasses import dataclass, replace

_SHOWN = measured("shown", "kg", positive=False, low=-500, high=5000)
_WEIGHT = measured("test_weight", "kg", low=Fraction(1, 2), high=2000)
_KEYS = ("instrument", "when", "zero", "test_weight", "shown")


@dataclass(frozen=True, slots=True)
class PadCheck:
    """What a set of pads showed when it was checked."""

    instrument: str
    when: Moment
    zero_kg: Mapping[str, Fraction]
    """By pad, with nothing on it."""
    test_weight_kg: Fraction
    shown_kg: Mapping[str, Fraction]
    """By pad, under the test weight."""
    span: Span

    @property
    def pads(self) -> tuple[str, ...]:
        return tuple(dict.fromkeys((*self.zero_kg, *self.shown_kg)))

    def of(self, pads: Collection[str]) -> PadCheck:
        """What it says of these pads alone."""
        every = self.zero_kg, self.shown_kg
        zero, shown = ({pad: kg for pad, kg in of.items() if pad in pads} for of in every)
        return replace(self, zero_kg=zero, shown_kg=shown)

    def errors(self, pad: str) -> Iterator[tuple[Fraction, Fraction]]:
        """Pairs of the load and how much too much the pad showed."""
        if pad in self.zero_kg:
            yield ZERO, self.zero_kg[pad]
        if pad in self.shown_kg:
            yield self.test_weight_kg, self.shown_kg[pad] - self.test_weight_kg

    def is_out(self, pad: str, gear: Instrument) -> bool:
        """Whether the pad shows more or less than it may; half a step of the display is rounding."""
        slack = 2 * gear.uncertainty + gear.resolution / 2
        return any(
            abs(error) > gear.permissible_error.at(load) + gear.common_error * load + slack
            for load, error in self.errors(pad)
        )

    def error_at(self, pad: str, load_kg: Fraction) -> Fraction:
        """The error that the check makes one expect under a load: its zero, and its slope where that is known."""
        zero = self.zero_kg.get(pad, ZERO)
        if pad not in self.shown_kg:
            return zero
        slope = (self.shown_kg[pad] - self.test_weight_kg - zero) / self.test_weight_kg
        return zero + slope * load_kg


@dataclass(frozen=True, slots=True)
class OutOfOrder:
    """A pad that failed a check, and the time for which it is not to be trusted."""

    pad: str
    check: PadCheck
    since: Moment | None
    """Its last good check; None: there is none."""
    until: Moment | None
    """Its next good check; None: there is none yet."""

    def covers(self, when: Moment | None) -> bool:
        """Whether a weighing then, or at a time not told, may have been made with the pad out of order."""
        if when is None:
            return True
        after = self.since is None or not when.surely_before(self.since)
        before = self.until is None or not self.until.surely_before(when)
        return after and before


def out_of_order(checks: Sequence[PadCheck], gear: Instrument) -> tuple[OutOfOrder, ...]:
    """Every pad of an instrument that failed a check, each time that it did."""
    own = sorted(
        (check for check in checks if check.instrument == gear.name),
        key=lambda check: (check.when.day, -1 if check.when.minute is None else check.when.minute),
    )
    found: list[OutOfOrder] = []
    for place, check in enumerate(own):
        for pad in check.pads:
            if not check.is_out(pad, gear):
                continue
            good = [other for other in own if pad in other.pads and not other.is_out(pad, gear)]
            since = [other.when for other in good if own.index(other) < place]
            until = [other.when for other in good if own.index(other) > place]
            found.append(OutOfOrder(pad, check, since[-1] if since else None, until[0] if until else None))
    return tuple(found)


def common_factor(
    checks: Sequence[PadCheck], gear: Instrument, under_car: Collection[str]
) -> tuple[Fraction, tuple[str, ...]] | None:
    """By what part all pads of an instrument show too much (below 0: too little), where they do by one same factor.

    Args:
        checks: Of any gear.
        under_car: Those of them that the car stood on.

    Returns:
        The mean, and the pads; None where they differ, or where what is stated of the set explains it.
    """
    points: dict[str, dict[Fraction, Fraction]] = {}
    for check in checks:
        if check.instrument == gear.name:
            for pad in check.pads:
                points.setdefault(pad, {}).update((kg, kg + error) for kg, error in check.errors(pad))
    return factor_of(points, gear, under_car)


def factor_of(
    shown_kg: Mapping[str, Mapping[Fraction, Fraction]], gear: Instrument, under_car: Collection[str] = ()
) -> tuple[Fraction, tuple[str, ...]] | None:
    """The factor that all pads of a set share, from what each showed under which loads.

    No swap of pads shows that. Each pad's slope is that between its least and its greatest load; it is known to a step
    of the display over what lies between. Where all that stood under the car were checked, these are looked at, be it
    one plate under each axle in turn; else three pads or more of the set that agree so well, for that is no chance.
    """
    slopes: dict[str, tuple[Fraction, Fraction]] = {}
    for pad, shown in shown_kg.items():
        least, most = min(shown), max(shown)
        if most > least:
            slope = (shown[most] - shown[least]) / (most - least) - 1
            slopes[pad] = (slope, gear.resolution / (most - least))
    if under_car and slopes.keys() >= set(under_car):
        slopes = {pad: slope for pad, slope in slopes.items() if pad in under_car}
    elif len(slopes) < _ENOUGH_PADS:
        return None
    mean = sum((slope for slope, _ in slopes.values()), Fraction(0)) / len(slopes)
    known = max(step for _, step in slopes.values())
    explained = abs(mean) <= gear.common_error + known
    alike = all(abs(slope - mean) <= known for slope, _ in slopes.values())
    return (mean, tuple(slopes)) if alike and not explained else None


_ENOUGH_PADS = 3


def read_checks(reader: Reader) -> tuple[PadCheck, ...]:
    given = reader.listed("checks", wanted="a list of checks")
    read = [_read_check(reader, ("checks", at)) for at in range(len(given))]
    return tuple(check for check in read if check is not None)


def _read_check(reader: Reader, path: Path) -> PadCheck | None:
    wanted = "a check as {instrument: club pads, when: 2026-05-03 08:40, zero: {...}}"
    data = reader.mapping(*path, wanted=wanted)
    if not reader.known_keys(_KEYS, *path, what="a check") or not data:
        return None
    if "zero" not in data and "shown" not in data:
        message = f"{name_of(path)} does not say what the pads showed"
        reader.problem(214, message, *path, hint="add zero: {pad: 0 kg, ...}, or test_weight: and shown:")
        return None
    if ("test_weight" in data) != ("shown" in data):
        message = f"{name_of(path)} needs test_weight and shown together"
        reader.problem(214, message, *path, hint="state the weight put on, and what each pad showed under it")
        return None
    instrument = read_instrument_name(reader, (*path, "instrument"))
    when = read_moment(reader, *path, "when", needed=True)
    zero, shown = (_read_shown(reader, (*path, key)) for key in ("zero", "shown"))
    weight = read_value(reader, _WEIGHT, (*path, "test_weight")) if "test_weight" in data else None
    if instrument is None or when is None or zero is None or shown is None:
        return None
    if "shown" in data and weight is None:
        return None
    kg = weight.value if weight else ZERO
    return PadCheck(instrument, when, zero, kg, shown, reader.document.span(path))


def _read_shown(reader: Reader, path: Path) -> dict[str, Fraction] | None:
    """What each pad showed, in kg; {} where nothing is stated."""
    found: dict[str, Fraction] = {}
    for pad in reader.mapping(*path, wanted="what each pad showed, as {front_left: 0 kg, ...},"):
        stated = read_value(reader, _SHOWN, (*path, pad))
        if stated is None:
            return None
        found[pad] = stated.value
    return found
