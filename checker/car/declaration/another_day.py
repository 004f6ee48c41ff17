"""A car that has been read, for a later day, without reading its declaration again."""

from __future__ import annotations

from datetime import date

from checker.car.car import Car
from checker.car.described.stated import DAY_JUDGED


def on_later_day(car: Car, day: date) -> Car | None:
    """The car as it would be read for a later day, but for where that day is written.

    The day a car is judged for decides, while it is read, only whether something is said to have happened after it, and
    whether the calibration of gear has run out.

    Returns:
        None where that may be so, or the day is bounded by the pack: then it is to be read again.
    """
    stated = car.facts.get(DAY_JUDGED)
    if stated is None or not isinstance(stated.value, date) or day < stated.value:
        return None
    fact = car.vocabulary.facts.get(DAY_JUDGED)
    if fact is None or fact.low is not None or fact.high is not None:
        return None
    if any(warning.code.endswith("222") for warning in car.warnings):
        return None
    if any(gear.calibrated or gear.calibrated_until for gear in car.instruments.values()):
        return None
    return car.on_day(day)
