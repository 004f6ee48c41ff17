"""What is to be said of the gear that a car was weighed and measured with, before anybody trusts the numbers."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date

from checker.car.car import Car
from checker.car.described.instrument import Instrument
from checker.car.described.standard import WHEELS
from checker.car.described.stated import READINGS
from checker.car.errors.weighing import assumed_slope, repeated
from checker.car.gear.pad_checks import PadCheck
from checker.car.gear.weighing import Weighing
from checker.car.weights.centre_of_gravity import HEIGHT
from checker.quantities.display import show
from checker.quantities.kind import Unknown
from checker.quantities.units import parse_unit
from checker.reading.problems import Problem

GEAR = 221
"""The number of these findings in `checker.car.reading.mistakes.CODES`."""

_KG, _MM = parse_unit("kg", None), parse_unit("mm", None)


def gear_findings(car: Car) -> Iterator[Problem]:
    """Warnings about pads out of order, calibration out of date and loads beyond what the gear is made for."""
    code = f"{'RD' if _by_official(car) else 'CD'}{GEAR}"
    span = car.weighing.span
    for doubt in car.pad_doubts:
        yield Problem(code, doubt.message, span, doubt.hint, warning=True)
    yield from _calibration(car, code)
    gear = car.gear
    if gear is None:
        return
    unknown = [pad for pad in gear.offsets if pad and pad not in car.weighing.pads]
    if unknown:
        message = f"{gear.name}: an offset is stated for {', '.join(unknown)}, which no reading names"
        yield Problem(code, message, span, f"the readings name {', '.join(car.weighing.pads)}", warning=True)
    accuracy = gear.permissible_error.accuracy
    heaviest = max(
        (kg for which in range(car.weighings) for kg in car.weighing.loads(which).values()), default=None
    )
    if accuracy and heaviest is not None and heaviest > accuracy.most_kg:
        message = (
            f"{gear.name}: a load of {show(heaviest, _KG)} is more than class {accuracy.name} with an interval of"
            f" {show(accuracy.interval_kg, _KG)} is made for, {show(accuracy.most_kg, _KG)}"
        )
        yield Problem(code, message, span, "correct the class or the interval", warning=True)


def _by_official(car: Car) -> bool:
    return any(s.origin == READINGS for r in car.weighing.readings for s in r.loads.values())


def _calibration(car: Car, code: str) -> Iterator[Problem]:
    """Gear that was used after its calibration had run out, or before it was calibrated."""
    stated = car.stated("event.date")
    day = stated.value if stated else None
    if not isinstance(day, date):
        return
    used = {s.instrument for s in (*car.facts.values(), *car.structure.values()) if s.instrument}
    used |= {
        s.instrument for every in car.lists.values() for e in every for s in e.fields.values() if s.instrument
    }
    for name in dict.fromkeys((car.weighing.instrument, *sorted(used))):
        gear = car.instrument(name) if name else None
        if gear is None:
            continue
        hint = "have it calibrated, or measure with other gear"
        if gear.calibrated_until is not None and gear.calibrated_until < day:
            last = gear.calibrated_until.isoformat()
            message = f"{gear.name}: its calibration ran out on {last}, before {day.isoformat()}"
            yield Problem(code, message, car.weighing.span, hint, warning=True)
        elif gear.calibrated is not None and gear.calibrated > day:
            message = f"{gear.name}: it was not calibrated until {gear.calibrated.isoformat()}, after {day.isoformat()}"
            yield Problem(code, message, car.weighing.span, hint, warning=True)


def weighing_assumptions(car: Car) -> Iterator[str]:
    """Sentences on what the weighing rests on, for the report: findings, offsets, and what is taken for granted."""
    gear = car.gear
    for finding in gear_findings(car):
        yield finding.message
    if gear is None or not car.weighing.readings:
        return
    if any(doubt.half_widths_kg for doubt in car.pad_doubts):
        yield f"{gear.name}: pads that are in doubt are taken to be out by as much as they differ"
    if gear.offsets:
        yield f"{gear.name}: the readings are corrected by the offsets that are stated for it"
    yield from _of_pads(car.weighing, gear, car.checks)
    yield from _of_floor(car, gear)


def _of_pads(weighing: Weighing, gear: Instrument, checks: Sequence[PadCheck]) -> Iterator[str]:
    """What neither swapping nor few readings can show."""
    if gear.tells_error and not gear.common_error:
        yield (
            f"{gear.name}: common_error is taken as none, as it is not stated; no swap shows a scale that is out by the"
            " same part on all"
        )
    under = [{r.pad_under(load) for load in r.loads} for r in weighing.readings]
    if len(weighing.shape) > 1 and any(len(pads) == 1 for pads in under):
        yield (
            f"{gear.name}: one plate stood under {' and '.join(weighing.shape)} in turn: what it is out by counts"
            f" {_TIMES[len(weighing.shape)]} in the total"
        )
    if repeated(weighing) == 1:
        yield (
            f"{gear.name}: two weighings hardly tell how they scatter, and up to 8 in 100 lie beyond where 5 should:"
            " weigh a third time"
        )
    yield from _light_checks(weighing, gear, checks)


_TIMES = {2: "twice", 4: "four times"}


def _light_checks(weighing: Weighing, gear: Instrument, checks: Sequence[PadCheck]) -> Iterator[str]:
    """Test weights that prove a pad where it was tested, and not where it was used."""
    tested = [check for check in checks if check.instrument == gear.name and check.shown_kg]
    heaviest = max(stated.value for reading in weighing.readings for stated in reading.loads.values())
    most = max((check.test_weight_kg for check in tested), default=heaviest)
    if most < heaviest / 2:
        yield (
            f"{gear.name}: a test weight of {show(most, _KG)} does not prove it at the {show(heaviest, _KG)} that it"
            " bore"
        )


def _of_floor(car: Car, gear: Instrument) -> Iterator[str]:
    weighing = car.weighing
    if weighing.shape == ("total",):
        return
    if weighing.floor.across is None or weighing.floor.along is None:
        level = assumed_slope(car).written
        yield f"the floor under {gear.name} is taken as level to within {level}, as it is not stated"
    assumed, base = car.vocabulary.assumptions, car.geometry.wheelbase
    shape = set(weighing.shape)
    unknown = [track for track in car.geometry.tracks.values() if isinstance(track, Unknown)]
    if unknown and shape & {*WHEELS, "left"}:
        yield f"the track on that floor is taken as {show(assumed.track_mm, _MM)}, a narrow one, as it is not known"
    if isinstance(base, Unknown) and shape & {*WHEELS, "front"}:
        mm = show(assumed.wheelbase_mm, _MM)
        yield f"the wheelbase on that floor is taken as {mm}, a short one, as it is not known"
    if car.structure.get(HEIGHT) is None and car.measured_height is None:
        height = show(car.centre_of_gravity_height, _MM)
        yield f"centre_of_gravity.height is taken as {height}, as it is not stated"
