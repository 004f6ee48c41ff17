"""What is to be noticed of the gear that a car was weighed and measured with, and what its weighing rests on."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from datetime import date
from fractions import Fraction

from checker.car.car import Car
from checker.car.described.instrument import Instrument
from checker.car.described.standard import AXLES, WHEELS
from checker.car.errors.floor import assumed_slope
from checker.car.errors.weighing import repeated
from checker.car.gear.pad_checks import PadCheck, common_factor
from checker.car.gear.pad_doubts import carried
from checker.car.gear.pads import arranged
from checker.car.gear.weighing import Weighing
from checker.car.premises import GearTaken, OfGear, Premise, Taken, TakenAs
from checker.car.reading.mistakes import codes_of
from checker.car.remarks import Notice, Noticed, Remarked
from checker.car.weights.centre_of_gravity import HEIGHT
from checker.quantities.amount import Amount, kilograms, millimetres
from checker.quantities.kind import PERCENT, Unknown
from checker.quantities.units import parse_unit

GEAR = 221
"""The number of these findings in `checker.car.reading.mistakes.CODES`."""


def gear_findings(car: Car) -> Iterator[Remarked]:
    """Pads out of order, calibration out of date and loads beyond what the gear is made for."""
    code, place, gear = codes_of(car.weighing.origin).of(GEAR), car.weighing.place, car.gear
    yield from (Remarked(code, doubt.reason, place) for doubt in car.pad_doubts)
    yield from (Remarked(code, notice, place) for notice in _calibration(car))
    if gear is None:
        return
    pads = car.weighing.pads
    common = common_factor(car.checks, gear, pads)
    if common is not None:
        yield Remarked(code, same_factor(gear.name, *common), place)
    unknown = tuple(pad for pad in gear.offsets if pad and pad not in pads)
    if unknown:
        notice = Notice(what=Noticed.OFFSETS_OF_NO_PAD, name=gear.name, names=unknown, others=pads)
        yield Remarked(code, notice, place)
    checked = {pad for check in car.checks if check.instrument == gear.name for pad in check.pads}
    stray = tuple(sorted(checked - set(pads)))
    if stray and not checked.issuperset(pads):
        notice = Notice(what=Noticed.CHECKS_OF_NO_PAD, name=gear.name, names=stray, others=pads)
        yield Remarked(code, notice, place)
    accuracy = gear.permissible_error.accuracy
    every = (stated.value for reading in car.weighing.readings for stated in reading.loads.values())
    heaviest = max(every, default=None)
    if accuracy and heaviest is not None and heaviest > accuracy.most_kg:
        load = kilograms(heaviest)
        notice = Notice(what=Noticed.BEYOND_CLASS, name=gear.name, amount=load, accuracy=accuracy)
        yield Remarked(code, notice, place)


def same_factor(name: str, part: Fraction, pads: tuple[str, ...]) -> Notice:
    """That pads of that gear all show too much, or too little, by the same part."""
    share = Amount(part, PERCENT, parse_unit("%", None))
    return Notice(what=Noticed.SAME_FACTOR, name=name, amount=share, names=pads)


def _calibration(car: Car) -> Iterator[Notice]:
    """Gear that was used after its calibration had run out, or before it was calibrated."""
    stated = car.stated("event.date")
    day = stated.value if stated else None
    if not isinstance(day, date):
        return
    fields = (s for every in car.lists.values() for entry in every for s in entry.fields.values())
    used = {s.instrument for s in (*car.facts.values(), *car.structure.values(), *fields)}
    for name in dict.fromkeys((car.weighing.instrument, *sorted(used))):
        gear = car.instrument(name)
        if gear is None:
            continue
        first, last = gear.calibrated, gear.calibrated_until
        if last is not None and last < day:
            yield Notice(what=Noticed.CALIBRATION_OVER, name=gear.name, days=(last, day))
        elif first is not None and first > day:
            yield Notice(what=Noticed.NOT_YET_CALIBRATED, name=gear.name, days=(first, day))


def weighing_premises(car: Car, findings: Iterable[Remarked]) -> Iterator[Premise]:
    """What the weighing rests on: findings of the gear, offsets, and what is taken for granted."""
    gear = car.gear
    yield from (found.remark for found in findings)
    if gear is None or not car.weighing.readings:
        return
    if any(doubt.half_widths_kg for doubt in car.pad_doubts):
        yield GearTaken(gear.name, OfGear.DOUBT_WIDENS)
    if gear.offsets:
        yield GearTaken(gear.name, OfGear.CORRECTED)
    yield from _of_pads(car.weighing, gear, car.checks)
    yield from _of_floor(car, gear)


def _of_pads(weighing: Weighing, gear: Instrument, checks: Sequence[PadCheck]) -> Iterator[Premise]:
    """What neither swapping nor few readings can show."""
    if gear.tells_error and not gear.common_error:
        yield GearTaken(gear.name, OfGear.NO_COMMON_ERROR)
    stood = [(len(set(r.pads.values())), len(r.loads)) for r in weighing.readings]
    plates, loads = min(stood)
    if plates < loads:
        how = OfGear.ONE_PLATE if plates == 1 else OfGear.PADS_IN_TURN
        yield GearTaken(gear.name, how, weighing.shape)
    elif loads == len(AXLES) and any(r.pads == arranged(weighing.shape) for r in weighing.readings):
        yield GearTaken(gear.name, OfGear.PLATES_APART, weighing.shape)
    if repeated(weighing) == 1:
        yield GearTaken(gear.name, OfGear.TWO_WEIGHINGS)
    yield from _light_checks(weighing, gear, checks)


def _light_checks(weighing: Weighing, gear: Instrument, checks: Sequence[PadCheck]) -> Iterator[Premise]:
    """Test weights that prove a pad where it was tested, and not where it was used."""
    tested: dict[str, Fraction] = {}
    for check in checks:
        if check.instrument == gear.name:
            for pad in check.shown_kg:
                tested[pad] = max(check.test_weight_kg, tested.get(pad, check.test_weight_kg))
    bore = {pad: max(carried(weighing, pad)) for pad in weighing.pads if pad in tested}
    worst = min(bore, key=lambda pad: tested[pad] / bore[pad], default="")
    if worst and tested[worst] < bore[worst] / 2:
        light = kilograms(tested[worst]), kilograms(bore[worst])
        yield GearTaken(gear.name, OfGear.TESTED_TOO_LIGHT, (worst,), tested=light)


def _of_floor(car: Car, gear: Instrument) -> Iterator[TakenAs]:
    weighing = car.weighing
    if weighing.shape == ("total",):
        return
    if weighing.floor.across is None or weighing.floor.along is None:
        yield TakenAs(assumed_slope(car).written, gear.name, Taken.FLOOR)
    assumed, base = car.vocabulary.assumptions, car.geometry.wheelbase
    shape = set(weighing.shape)
    unknown = [track for track in car.geometry.tracks.values() if isinstance(track, Unknown)]
    if unknown and shape & {*WHEELS, "left"}:
        yield TakenAs(millimetres(assumed.track_mm), what=Taken.TRACK)
    if isinstance(base, Unknown) and shape & {*WHEELS, "front"}:
        yield TakenAs(millimetres(assumed.wheelbase_mm), what=Taken.WHEELBASE)
    if car.structure.get(HEIGHT) is None and car.measured_height is None:
        yield TakenAs(millimetres(car.centre_of_gravity_height), HEIGHT)
