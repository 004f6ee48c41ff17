"""A car that has been read, for a later day, without reading its declaration again."""

from __future__ import annotations

from datetime import date

from checker.car.car import Car
from checker.car.described.stated import DAY_JUDGED
from checker.reading.document import Document


def on_later_day(car: Car, document: Document, day: date) -> Car | None:
    """The car as it would be read for a later day, but for where that day is written.

    The day a car is judged for decides, while it is read, only whether something is said to have happened after it, or
    gear was checked after it, and whether the calibration of gear has run out.

    Args:
        document: The declaration that the car was read from.

    Returns:
        None where that may be so, or the day is bounded by the pack: then it is to be read again.
    """
    stated = car.facts.get(DAY_JUDGED)
    if stated is None or not isinstance(stated.value, date) or day < stated.value:
        return None
    fact = car.vocabulary.facts.get(DAY_JUDGED)
    if fact is None or fact.low is not None or fact.high is not None:
        return None
    if document.has(("checks",)) or any(one.code.endswith("222") for one in car.warnings):
        return None
    if any(gear.calibrated or gear.calibrated_until for gear in car.instruments.values()):
        return None
    return car.on_day(day)
