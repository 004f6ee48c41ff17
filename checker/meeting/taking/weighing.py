"""Takes readings of the scales: one entry for each, checked against the procedure and against the car itself.

A slip is seen best before the car has left the scales. So a reading is held against what is known of the car: pads read
in the wrong places give numbers that fit much better when they are exchanged, and another car's numbers fit nowhere.
Such a reading is recorded as typed, with a warning; the official decides.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from checker.car.described.standard import WHEELS
from checker.car.gear.weighing import PADS
from checker.meeting.record.car_contents import SCRUTINEERING, Weighed
from checker.meeting.record.car_day import CarDay
from checker.meeting.record.contents import Content
from checker.meeting.record.day import Day
from checker.meeting.record.refusal import problem, refusal
from checker.meeting.session.gear import Gear, named_gear, read_mass
from checker.meeting.session.likeness import as_warning, unlike
from checker.meeting.session.named import entered_car, refuse_changed
from checker.meeting.session.procedure import PRESENTED
from checker.meeting.session.reading_rules import read_with
from checker.meeting.session.session import Meeting
from checker.meeting.session.weighing_rules import (
    DRIVER,
    WEAR,
    corrected_weighing,
    litres,
    one_of,
    refuse_no_shape,
    refuse_too_many,
    refuse_weighing,
)
from checker.meeting.tables.scale_reading import ScaleReading
from checker.quantities.folding import fold
from checker.reading.problems import Problem
from checker.reading.quick_dataclasses import dataclass, replace


@dataclass(frozen=True, slots=True)
class Settled:
    """A reading as it is recorded, with everything that was left open, and what looks wrong with it."""

    content: Weighed
    warnings: tuple[Problem, ...]
    number: int = 0
    """Of its entry, once it is recorded."""


def weigh(meeting: Meeting, reading: ScaleReading, by: str, *, seen: int | None = None) -> Settled:
    """Record one reading; on disk when this returns.

    Args:
        meeting: Open for work.
        reading: What was read.
        by: Initials of the official.
        seen: The last entry that the official's screen knew; None where it was decided without one.

    Raises:
        InputError: MT203 to MT212, MT218, RDxxx: then nothing was recorded.
    """
    settled: list[Settled] = []

    def decide(day: Day) -> list[Content]:
        if seen is not None:
            refuse_changed(day, reading.car, seen, lambda content: isinstance(content, Weighed))
        settled[:] = [settle(meeting, day, reading)]
        return [settled[0].content]

    added = meeting.record(by, decide)
    return replace(settled[0], number=added[0].number)


def settle(meeting: Meeting, day: Day, reading: ScaleReading) -> Settled:
    """A reading as it will be recorded; nothing is recorded yet.

    Raises:
        InputError: It does not fit the procedure, the car or the readings before it.
    """
    car = entered_car(day, reading.car, taking_part=True)
    gear = named_gear(meeting.gear, reading.gear) if reading.gear else meeting.scales
    loads = {name: read_mass(reading.loads[name], gear) for name in refuse_no_shape(dict(reading.loads))}
    before = car.weighings(reading.occasion)
    corrected = None
    if reading.corrects:
        corrected = corrected_weighing(day, car, reading.corrects, reading.occasion, reading.reason)
    else:
        refuse_too_many(meeting, day, car, reading.occasion, reading.again)
    first = not before or bool(reading.again)
    model = corrected.content if corrected is not None else None if first else before[-1].content
    weighed = _filled(meeting, car, reading, loads, gear, model, len(before))
    refuse_weighing(meeting, day, weighed)
    read = read_with(meeting, day, car, weighed)
    others = [record for record in before if record.number != reading.corrects]
    doubtful = unlike(meeting, car, weighed, read, [] if reading.again else others)
    return Settled(weighed, (*not_as_presented(meeting, weighed), *map(as_warning, doubtful)))


def refuse_state(
    meeting: Meeting, car: CarDay, occasion: str, state: Mapping[str, str], again: str = ""
) -> None:
    """Refuse fuel, tyres and the like that the car cannot have, before any load is read.

    Raises:
        InputError: MT210, RDxxx.
    """
    told: dict[str, Any] = {**state, "fuel": litres(state["fuel"])}
    weighed = Weighed(car=car.number, occasion=occasion, loads={}, gear="", pads="", again=again, **told)
    read_with(meeting, meeting.day, car, weighed)


# -- what was read -------------------------------------------------------------------------------------------


def _filled(
    meeting: Meeting,
    car: CarDay,
    reading: ScaleReading,
    loads: dict[str, str],
    gear: Gear | None,
    model: Weighed | None,
    before: int,
) -> Weighed:
    """The reading with what was left open: as before, as presented, or as declared."""
    taken = assumed_state(meeting, car, model)
    state = {key: getattr(reading, key) or taken[key] for key in PRESENTED}
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
        pads=one_of(pads, PADS, "how the pads stand") if pads else "",
        fuel=litres(state["fuel"]),
        driver=one_of(state["driver"], DRIVER, "where the driver is"),
        tyres=state["tyres"],
        wear=one_of(state["wear"], WEAR, "the wear"),
        again=reading.again or (model.again if model and reading.corrects else ""),
        source=reading.source,
        confirmed=reading.confirmed.strip(),
        taken=reading.taken or (model.taken if model and reading.corrects else ""),
        corrects=reading.corrects,
        reason=reading.reason.strip(),
    )


def assumed_state(meeting: Meeting, car: CarDay, before: Weighed | None) -> dict[str, str]:
    """Fuel, driver, tyres and wear as they are taken where a reading does not say: as in the reading before of the same
    set, as cars are presented, or as declared; fuel is never taken from the declaration."""
    if before is not None:
        return {key: getattr(before, key) for key in PRESENTED}
    presented, declared = meeting.procedure.presented, meeting.declaration(car)
    taken = {
        key: presented.get(key, "") or str(declared.get(("weighing", key)) or "")
        for key in ("driver", "tyres", "wear")
    }
    return {"fuel": presented.get("fuel", ""), **taken, "wear": taken["wear"] or "new"}


def _pads_due(meeting: Meeting, before: int, again: bool) -> str:
    return PADS[0] if again or not before else meeting.procedure.pads


# -- against the procedure -----------------------------------------------------------------------------------


def not_as_presented(meeting: Meeting, weighed: Weighed) -> tuple[Problem, ...]:
    """What a car on the scales was not like that the procedure has cars presented with."""
    if weighed.occasion != SCRUTINEERING:
        return ()
    return tuple(
        problem("MT210", f"{key} is {given}; cars are presented with {key} {wanted}", warning=True)
        for key, wanted in meeting.procedure.presented.items()
        if (given := getattr(weighed, key)) and fold(given) != fold(wanted)
    )
