"""What is to be said of the gear that a car was weighed and measured with, before anybody trusts the numbers."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from checker.car.car import Car
from checker.car.described.stated import READINGS
from checker.car.errors.weighing import assumed_slope
from checker.car.weights.centre_of_gravity import HEIGHT
from checker.quantities.display import show
from checker.quantities.units import parse_unit
from checker.reading.problems import Problem

GEAR = 221
"""The number of these findings in `checker.car.reading.mistakes.CODES`."""

_KG = parse_unit("kg", None)


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
    if car.pad_doubts:
        yield f"{gear.name}: pads that are in doubt are taken to be out by as much as they differ"
    if gear.offsets:
        yield f"{gear.name}: the readings are corrected by the offsets that are stated for it"
    if car.weighing.shape == ("total",):
        return
    floor = car.weighing.floor
    if floor.across is None or floor.along is None:
        level = assumed_slope(car).written
        yield f"the floor under {gear.name} is taken as level to within {level}, as it is not stated"
    if car.structure.get(HEIGHT) is None and car.measured_height is None:
        height = show(car.centre_of_gravity_height, parse_unit("mm", None))
        yield f"centre_of_gravity.height is taken as {height}, as it is not stated"
