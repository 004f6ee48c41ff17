"""Whether what is recorded can be read with the car's own file and the frozen pack."""

from __future__ import annotations

from collections.abc import Mapping

from checker.car.car import Car
from checker.car.declaration.loading import load_car
from checker.meeting.record.car_contents import SCRUTINEERING, Entered, Measured, Noted, Weighed
from checker.meeting.record.car_day import CarDay
from checker.meeting.record.contents import Announced
from checker.meeting.record.day import Day
from checker.meeting.record.refusal import refusal
from checker.meeting.session.basis import Basis
from checker.meeting.session.judging import OFFICIAL
from checker.meeting.session.named import entered_car
from checker.meeting.session.stating import plain_value
from checker.quantities.folding import fold
from checker.reading.nearest import did_you_mean
from checker.reading.strict_yaml import parse_document
from checker.reading.values import Plain


def read_whole(basis: Basis, day: Day) -> None:
    """Read every car as it stands, which entry by entry would take too long.

    Raises:
        InputError: CDxxx and RDxxx: a declaration or a reading that could not have been taken.
    """
    for car in day.cars.values():
        read_declared(basis, car.entered.content)
        for occasion in car.occasions() or (SCRUTINEERING,):
            readings = basis.judge.readings(day, car, occasion)
            basis.judge.readable(basis.declaration(car), readings)


def read_declared(basis: Basis, content: Entered) -> None:
    """Read a declaration, which must be of the car that is entered with it."""
    document = parse_document(basis.file(content.declaration), content.file, "CD")
    declared = load_car(document, basis.pack.vocabulary, audience=OFFICIAL)
    if (declared.number, declared.name) != (content.car, content.name):
        message = f"the declaration is of car {declared.number} {declared.name}"
        raise refusal("MT203", f"{message}, not of {content.car} {content.name}")


def read_announced(basis: Basis, day: Day, content: Announced) -> None:
    """Read it with some car's declaration, as it will be read with every one."""
    cars = [day.car(content.car)] if content.car else list(day.cars.values())[:1]
    for car in cars:
        assert car is not None
        readings = basis.judge.readings(day, car, car.latest_occasion())
        section, _, key = content.fact.partition(".")
        fact = basis.pack.vocabulary.facts[content.fact]
        readings[section] = {**readings.get(section, {}), key: plain_value(fact, content.value)}
        basis.judge.readable(basis.declaration(car), readings)


def refuse_no_part(basis: Basis, day: Day, noted: Noted) -> None:
    """Refuse the loss of a part that the car does not declare."""
    car = entered_car(day, noted.car)
    declared = basis.judge.declared(basis.declaration(car))
    names = [e.label for name in ("components", "ballast") for e in declared.every_entry(name)]
    if fold(noted.part) not in {fold(name) for name in names}:
        hint = did_you_mean(noted.part, names) or "name it as the declaration does"
        raise refusal("MT208", f"car {car.number} has no part '{noted.part}'", hint)


def read_with(basis: Basis, day: Day, car: CarDay, content: Weighed | Measured) -> Car:
    """The car as it is read with one more record.

    Raises:
        InputError: CDxxx and RDxxx: the car's file and the pack do not take it.
    """
    readings: Mapping[str, Plain] = basis.judge.readings(
        day, car.trial(day.number + 1, content), content.occasion
    )
    return basis.judge.readable(basis.declaration(car), readings)
