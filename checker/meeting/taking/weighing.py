"""Takes readings of the scales: one entry for each, checked against the procedure and against the car itself.

A slip is seen best before the car has left the scales. So a reading is held against what is known of the car: pads read
in the wrong places give numbers that fit much better when they are exchanged, and another car's numbers fit nowhere.
Such a reading is recorded as typed, with a warning; the official decides.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from checker.car.described.standard import WHEELS
from checker.car.gear.weighing import PADS, SHAPES
from checker.meeting.record.contents import SCRUTINEERING, Content, Weighed
from checker.meeting.record.day import CarDay, Day, Record
from checker.meeting.record.refusal import problem, refusal
from checker.meeting.session.gear import Gear, is_doubted, named_gear, read_mass
from checker.meeting.session.likeness import unlike
from checker.meeting.session.procedure import AFTER_A_FAIL, NEVER
from checker.meeting.session.session import Meeting, entered_car
from checker.meeting.taking.correcting import correctable, placeless, trial_of
from checker.quantities.folding import fold
from checker.quantities.literal import LiteralError, parse_quantity
from checker.quantities.units import parse_unit
from checker.reading.nearest import did_you_mean
from checker.reading.problems import InputError, Problem

LITRE = parse_unit("L", None)
DRIVER, WEAR = ("out", "aboard"), ("new", "worn")


@dataclass(frozen=True, slots=True)
class Reading:
    """A reading as an official gives it; what is "" is as for the car's last reading, or as the procedure says."""

    car: str
    loads: Mapping[str, str]
    """By wheel, axle or side, or `total`: as the display shows it, or with a unit."""
    occasion: str = SCRUTINEERING
    gear: str = ""
    pads: str = ""
    fuel: str = ""
    driver: str = ""
    tyres: str = ""
    wear: str = ""
    again: str = ""
    """Why the car is weighed anew."""
    source: str = ""
    corrects: int = 0
    reason: str = ""


@dataclass(frozen=True, slots=True)
class Settled:
    """A reading as it is recorded, with everything that was left open, and what looks wrong with it."""

    content: Weighed
    warnings: tuple[Problem, ...]
    number: int = 0
    """Of its entry, once it is recorded."""


def weigh(meeting: Meeting, reading: Reading, by: str) -> Settled:
    """Record one reading; on disk when this returns.

    Raises:
        InputError: MT203 to MT212, RDxxx: then nothing was recorded.
    """
    settled: list[Settled] = []

    def decide(day: Day) -> list[Content]:
        settled[:] = [settle(meeting, day, reading)]
        return [settled[0].content]

    added = meeting.record(by, decide)
    return replace(settled[0], number=added[0].number)


def settle(meeting: Meeting, day: Day, reading: Reading) -> Settled:
    """A reading as it will be recorded; nothing is recorded yet.

    Raises:
        InputError: It does not fit the procedure, the car or the readings before it.
    """
    car = entered_car(day, reading.car, taking_part=True)
    gear = named_gear(meeting.gear, reading.gear) if reading.gear else meeting.scales
    loads = _loads(reading.loads, gear)
    before = car.weighings(reading.occasion)
    corrected = _corrected(day, car, reading) if reading.corrects else None
    if corrected is None:
        refuse_too_many(meeting, day, car, reading, before)
    first = not before or bool(reading.again)
    model = corrected.content if corrected is not None else None if first else before[-1].content
    weighed = _filled(meeting, car, reading, loads, gear, model, len(before))
    if corrected is None and not first:
        _refuse_other_state(weighed, before[0].content)
    trial = trial_of(day, car, weighed)
    try:
        read = meeting.judge.car(
            meeting.declaration(car), meeting.judge.readings(day, trial, weighed.occasion)
        )
    except InputError as error:
        raise placeless(error) from None
    others = [record for record in before if record.number != reading.corrects]
    doubtful = unlike(meeting, car, weighed, read, [] if reading.again else others)
    return Settled(weighed, (*_not_as_presented(meeting, weighed), *doubtful))


# -- what was read -------------------------------------------------------------------------------------------


def _loads(given: Mapping[str, str], gear: Gear | None) -> dict[str, str]:
    for shape in SHAPES:
        if set(given) == set(shape):
            return {name: read_mass(given[name], gear) for name in shape}
    known = [name for shape in SHAPES for name in shape]
    for name in given:
        if name not in known:
            raise refusal(
                "MT210",
                f"there is no load '{name}'",
                did_you_mean(name, known) or f"known: {', '.join(known)}",
            )
    hint = "give one set: the four wheels, or front and rear, or left and right, or total"
    raise refusal("MT210", f"these loads make no weighing: {', '.join(given) or 'none'}", hint)


def _filled(
    meeting: Meeting,
    car: CarDay,
    reading: Reading,
    loads: dict[str, str],
    gear: Gear | None,
    model: Weighed | None,
    before: int,
) -> Weighed:
    """The reading with what was left open: as before, as presented, or as declared."""
    taken = assumed_state(meeting, car, model)
    given = {"fuel": reading.fuel, "driver": reading.driver, "tyres": reading.tyres, "wear": reading.wear}
    state = {key: text or taken[key] for key, text in given.items()}
    if not state["fuel"]:
        hint = "dip the tank or read the gauge, and give the litres: --fuel '6 L'"
        raise refusal("MT210", "the fuel on board is not stated", hint)
    wheels = set(loads) == set(WHEELS)
    pads = reading.pads
    if not pads and wheels:
        pads = model.pads if model and reading.corrects else _pads_due(meeting, before, bool(reading.again))
    return Weighed(
        car=car.number,
        occasion=reading.occasion,
        loads=loads,
        gear=gear.name if gear else "",
        pads=_word(pads, PADS, "how the pads stand") if pads else "",
        fuel=_litres(state["fuel"]),
        driver=_word(state["driver"], DRIVER, "where the driver is"),
        tyres=state["tyres"],
        wear=_word(state["wear"], WEAR, "the wear"),
        again=reading.again or (model.again if model and reading.corrects else ""),
        source=reading.source,
        corrects=reading.corrects,
        reason=reading.reason.strip(),
    )


def assumed_state(meeting: Meeting, car: CarDay, before: Weighed | None) -> dict[str, str]:
    """Fuel, driver, tyres and wear as they are taken where a reading does not say: as in the reading before of the same
    set, as cars are presented, or as declared; fuel is never taken from the declaration."""
    if before is not None:
        return {key: getattr(before, key) for key in ("fuel", "driver", "tyres", "wear")}
    presented, declared = meeting.procedure.presented, meeting.declaration(car)
    taken = {
        key: presented.get(key, "") or str(declared.get(("weighing", key)) or "")
        for key in ("driver", "tyres", "wear")
    }
    return {"fuel": presented.get("fuel", ""), **taken, "wear": taken["wear"] or "new"}


def _pads_due(meeting: Meeting, before: int, again: bool) -> str:
    return PADS[0] if again or not before else meeting.procedure.pads


def _litres(text: str) -> str:
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


def _word(given: str, words: Sequence[str], what: str) -> str:
    for word in words:
        if fold(given) == word:
            return word
    hint = did_you_mean(given, words) or f"one of: {', '.join(words)}"
    message = f"{what} is not stated" if not given else f"{what} cannot be '{given}'"
    raise refusal("MT210", message, hint)


# -- against the procedure -----------------------------------------------------------------------------------


def _corrected(day: Day, car: CarDay, reading: Reading) -> Record[Weighed]:
    record: Any = correctable(day, reading.corrects, reading.reason)
    if not isinstance(record.content, Weighed) or fold(record.content.car) != fold(car.number):
        raise refusal("MT207", f"entry {reading.corrects} is no weighing of car {car.number}")
    if record.content.occasion != reading.occasion:
        message = f"entry {reading.corrects} was made at {record.content.occasion}"
        raise refusal("MT207", message, "a correction belongs to the same occasion")
    found: Record[Weighed] = record
    return found


def refuse_too_many(
    meeting: Meeting, day: Day, car: CarDay, reading: Reading, before: Sequence[Record[Weighed]]
) -> None:
    procedure = meeting.procedure
    if not reading.again:
        due = procedure.weighings_on(reading.occasion == SCRUTINEERING)
        if len(before) >= due:
            times = {1: "once", 2: "twice"}.get(due, f"{due} times")
            hint = "correct the reading that was wrong, or weigh again with a reason: --again REASON"
            raise refusal("MT309", f"car {car.number} has been weighed {times} at {reading.occasion}", hint)
        return
    if not before:
        message = f"car {car.number} has not been weighed at {reading.occasion}"
        raise refusal("MT210", message, "leave --again away")
    if is_doubted(day, before):
        return  # weighed on gear that failed its check: nobody's re-weighing is used up
    if procedure.reweigh == NEVER:
        hint = "correct a reading that was written down wrongly"
        raise refusal("MT210", "the procedure allows no re-weighing", hint)
    judged = meeting.last_judged(car)
    if procedure.reweigh == AFTER_A_FAIL and (judged is None or judged.complies != "no"):
        message = f"car {car.number} does not fail; the procedure allows re-weighing {AFTER_A_FAIL} only"
        raise refusal("MT210", message)
    most = procedure.reweigh_at_most
    earlier = car.sets(reading.occasion)[:-1]
    asked = sum(1 for weighings in earlier if not is_doubted(day, weighings))
    if most is not None and asked >= most:
        message = f"car {car.number} has been re-weighed {asked} times; the procedure allows {most}"
        raise refusal("MT210", message)


def _refuse_other_state(weighed: Weighed, first: Weighed) -> None:
    """Repeats of one weighing are of one car in one state, on one gear."""
    for what, now, then in (
        ("fuel", weighed.fuel, first.fuel),
        ("driver", weighed.driver, first.driver),
        ("tyres", weighed.tyres, first.tyres),
        ("wear", weighed.wear, first.wear),
        ("gear", weighed.gear, first.gear),
        ("loads", ", ".join(weighed.loads), ", ".join(first.loads)),
    ):
        if fold(now) != fold(then):
            hint = "repeat it as the first was made, or begin anew with --again REASON"
            raise refusal("MT210", f"{what} {now} in this weighing, {then} in the one it repeats", hint)


def _not_as_presented(meeting: Meeting, weighed: Weighed) -> list[Problem]:
    if weighed.occasion != SCRUTINEERING:
        return []
    return [
        problem("MT210", f"{key} is {given}; cars are presented with {key} {wanted}", warning=True)
        for key, wanted in meeting.procedure.presented.items()
        if (given := getattr(weighed, key)) and fold(given) != fold(wanted)
    ]
