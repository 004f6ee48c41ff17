"""Which weighings may be recorded: how often, in which state, on which gear, and in which form.

The same rules hold when a weighing is taken and when its record is verified.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from checker.car.described.standard import WHEELS
from checker.car.gear.weighing import PADS, SHAPES
from checker.meeting.record.car_contents import SCRUTINEERING, Weighed
from checker.meeting.record.car_day import CarDay, Record
from checker.meeting.record.day import Day
from checker.meeting.record.refusal import refusal
from checker.meeting.session.basis import Basis
from checker.meeting.session.gear import is_doubted, named_gear, read_mass
from checker.meeting.session.judging import NO
from checker.meeting.session.named import correctable, entered_car
from checker.meeting.session.procedure import AFTER_A_FAIL, NEVER, PRESENTED
from checker.quantities.folding import fold
from checker.quantities.literal import parse_quantity
from checker.quantities.misread import LiteralError
from checker.quantities.units import parse_unit
from checker.reading.nearest import did_you_mean

LITRE = parse_unit("L", None)
DRIVER, WEAR = ("out", "aboard"), ("new", "worn")


def refuse_weighing(basis: Basis, day: Day, weighed: Weighed) -> None:
    """Refuse a weighing that may not be recorded; whether the car's file takes it is another question.

    Raises:
        InputError: MT203, MT205 to MT207, MT209 to MT211, MT309.
    """
    car = entered_car(day, weighed.car, taking_part=True)
    before = car.weighings(weighed.occasion)
    if weighed.corrects:
        corrected_weighing(day, car, weighed.corrects, weighed.occasion, weighed.reason)
    else:
        refuse_too_many(basis, day, car, weighed.occasion, weighed.again)
    _refuse_form(basis, weighed)
    if not weighed.corrects and before and not weighed.again:
        _refuse_other_state(weighed, before[0].content)


def refuse_too_many(basis: Basis, day: Day, car: CarDay, occasion: str, again: str) -> None:
    """Refuse one weighing more than the procedure has, or a re-weighing that it does not allow.

    Raises:
        InputError: MT210, MT309.
    """
    procedure = basis.procedure
    before = car.weighings(occasion)
    if not again:
        due = procedure.weighings_on(occasion == SCRUTINEERING)
        if len(before) >= due:
            times = {1: "once", 2: "twice"}.get(due, f"{due} times")
            hint = "correct the reading that was wrong, or weigh again with a reason: --again REASON"
            raise refusal("MT309", f"car {car.number} has been weighed {times} at {occasion}", hint)
        return
    if not before:
        message = f"car {car.number} has not been weighed at {occasion}"
        raise refusal("MT210", message, "leave --again away")
    if is_doubted(day, before):
        return  # weighed on gear that failed its check: nobody's re-weighing is used up
    judged = day.last_judged(car)
    if judged is not None and judged.doubt:
        return  # the weighings do not go together, which is nobody's re-weighing either
    if any(fold(again) == fold(incident) for incident in procedure.incidents):
        return
    if procedure.reweigh == NEVER:
        hint = "correct a reading that was written down wrongly"
        raise refusal("MT210", "the procedure allows no re-weighing", hint)
    if procedure.reweigh == AFTER_A_FAIL and (judged is None or judged.complies != NO):
        message = f"car {car.number} does not fail; the procedure allows re-weighing {AFTER_A_FAIL} only"
        others = ", ".join(procedure.incidents)
        raise refusal("MT210", message, f"or, as the reason, after one of: {others}" if others else "")
    most = procedure.reweigh_at_most
    earlier = car.sets(occasion)[:-1]
    incidents = {fold(incident) for incident in procedure.incidents}
    asked = sum(
        1
        for weighings, next_ones in zip(earlier, car.sets(occasion)[1:], strict=False)
        if not is_doubted(day, weighings) and fold(next_ones[0].content.again) not in incidents
    )
    if most is not None and asked >= most:
        message = f"car {car.number} has been re-weighed {asked} times; the procedure allows {most}"
        raise refusal("MT210", message)


def corrected_weighing(day: Day, car: CarDay, number: int, occasion: str, reason: str) -> Record[Weighed]:
    """The weighing that a correction stands in place of.

    Raises:
        InputError: MT206, MT207.
    """
    record: Any = correctable(day, number, reason)
    if not isinstance(record.content, Weighed) or fold(record.content.car) != fold(car.number):
        raise refusal("MT207", f"entry {number} is no weighing of car {car.number}")
    if record.content.occasion != occasion:
        message = f"entry {number} was made at {record.content.occasion}"
        raise refusal("MT207", message, "a correction belongs to the same occasion")
    found: Record[Weighed] = record
    return found


def _refuse_form(basis: Basis, weighed: Weighed) -> None:
    """What is no load, no fuel, no word that says how the car stood."""
    if not weighed.occasion.strip():
        raise refusal("MT210", "on which occasion the car was weighed is not stated")
    gear = named_gear(basis.gear, weighed.gear) if weighed.gear else None
    refuse_no_shape(weighed.loads)
    for load in weighed.loads.values():
        read_mass(load, gear)
    litres(weighed.fuel)
    for text, words, what in (
        (weighed.driver, DRIVER, "where the driver is"),
        (weighed.wear, WEAR, "the wear"),
    ):
        one_of(text, words, what)
    if weighed.pads or set(weighed.loads) == set(WHEELS):
        one_of(weighed.pads, PADS, "how the pads stand")


def refuse_no_shape(loads: Sequence[str] | dict[str, str]) -> tuple[str, ...]:
    """The names of loads in their usual order.

    Raises:
        InputError: MT210, they make no weighing.
    """
    for shape in SHAPES:
        if set(loads) == set(shape):
            return tuple(shape)
    known = [name for shape in SHAPES for name in shape]
    for name in loads:
        if name not in known:
            hint = did_you_mean(name, known) or f"known: {', '.join(known)}"
            raise refusal("MT210", f"there is no load '{name}'", hint)
    hint = "give one set: the four wheels, or front and rear, or left and right, or total"
    raise refusal("MT210", f"these loads make no weighing: {', '.join(loads) or 'none'}", hint)


def litres(text: str) -> str:
    """Fuel on board as it is recorded.

    Raises:
        InputError: MT209, it is no volume or has no unit.
    """
    written = " ".join(text.split())
    if written.replace(".", "", 1).replace(",", "", 1).isdigit():
        raise refusal(
            "MT209", f"the fuel on board, '{text}', has no unit", f"write {written.replace(',', '.')} L"
        )
    try:
        parse_quantity(written, LITRE.kind, None)
    except LiteralError as error:
        raise refusal("MT209", f"the fuel on board, '{text}': {error.message}", error.hint) from None
    return written


def one_of(given: str, words: Sequence[str], what: str) -> str:
    """The word that is meant.

    Raises:
        InputError: MT210, it is none of them.
    """
    for word in words:
        if fold(given) == word:
            return word
    hint = did_you_mean(given, words) or f"one of: {', '.join(words)}"
    message = f"{what} is not stated" if not given else f"{what} cannot be '{given}'"
    raise refusal("MT210", message, hint)


def _refuse_other_state(weighed: Weighed, first: Weighed) -> None:
    """Repeats of one weighing are of one car in one state, on one gear."""
    for what in (*PRESENTED, "gear", "loads"):
        both = (getattr(weighed, what), getattr(first, what))
        now, then = both if what != "loads" else map(", ".join, both)
        if fold(now) != fold(then):
            hint = "repeat it as the first was made, or begin anew with --again REASON"
            raise refusal("MT210", f"{what} {now} in this weighing, {then} in the one it repeats", hint)
