"""What may be recorded of a car beside its weighings: facts measured and announced, and notes.

The same rules hold when it is taken and when its record is verified.
"""

from __future__ import annotations

from checker.meeting.record.car_contents import TOPICS, Measured, Noted
from checker.meeting.record.contents import Announced
from checker.meeting.record.day import Day
from checker.meeting.record.refusal import refusal
from checker.meeting.session.basis import Basis
from checker.meeting.session.gear import named_gear
from checker.meeting.session.named import correctable, entered_car, refuse_no_clause
from checker.meeting.session.stating import gauge_size, refuse_organiser, refuse_others, target_of
from checker.quantities.folding import fold
from checker.reading.nearest import did_you_mean

SEAL_STATES = ("fitted", "intact", "broken")
DEFECT_STATES = ("open", "mended")


def refuse_measured(basis: Basis, day: Day, measured: Measured) -> None:
    """Refuse a fact that may not be recorded; whether the pack can read its value is another question.

    Raises:
        InputError: MT203, MT205 to MT209, MT211.
    """
    car = entered_car(day, measured.car, taking_part=True)
    target = target_of(measured.fact, basis.pack.vocabulary, new_entry=True)
    refuse_organiser(target)
    if measured.corrects:
        content = correctable(day, measured.corrects, measured.reason).content
        same = isinstance(content, Measured) and content.fact == target.name
        if not (same and isinstance(content, Measured) and fold(content.car) == fold(car.number)):
            what = f"measurement of {target.name} on car {car.number}"
            raise refusal("MT207", f"entry {measured.corrects} is no {what}")
    if not measured.value.strip():
        raise refusal("MT209", f"{target.name} is given no value")
    if measured.gauge:
        gauge_size(target, measured.value, measured.gauge, basis.pack.vocabulary.currency)
    if measured.gear:
        named_gear(basis.gear, measured.gear)


def refuse_announced(basis: Basis, day: Day, announced: Announced) -> None:
    """Refuse what the organiser cannot state; whether the pack can read its value is another question.

    Raises:
        InputError: MT203, MT208.
    """
    target = target_of(announced.fact, basis.pack.vocabulary)
    success = basis.procedure.success
    if success is None or target.name not in (success.place, success.carried_over):
        refuse_others(target)
    if announced.car:
        entered_car(day, announced.car)


def refuse_noted(basis: Basis, day: Day, noted: Noted) -> None:
    """Refuse a note that is not clear; which parts a car has is another question.

    Raises:
        InputError: MT203, MT205 to MT207, MT209, MT212.
    """
    car = entered_car(day, noted.car, taking_part=True)
    if noted.corrects:
        content = correctable(day, noted.corrects, noted.reason).content
        if not isinstance(content, Noted) or fold(content.car) != fold(car.number):
            raise refusal("MT207", f"entry {noted.corrects} is no note on car {car.number}")
    if noted.topic not in TOPICS:
        raise refusal("MT209", f"'{noted.topic}' is no kind of note", did_you_mean(noted.topic, TOPICS))
    if noted.clause and not noted.carried:  # what is carried over may be about a clause of last year's rules
        refuse_no_clause(basis.pack, noted.clause)
    if noted.topic == "seen":
        if not noted.clause:
            raise refusal("MT212", "which clause was looked at is not said")
        return
    if noted.topic == "lost":
        if not noted.part:
            raise refusal("MT209", "which part was lost is not said")
        return
    if not noted.text.strip():
        raise refusal("MT209", f"the {noted.topic} is not described", "say what was seen, in a few words")
    states = {"seal": SEAL_STATES, "defect": DEFECT_STATES}.get(noted.topic, ("",))
    if noted.state not in states:
        hint = f"one of: {', '.join(states)}"
        raise refusal("MT209", f"a {noted.topic} cannot be '{noted.state}'", hint)
    if noted.topic == "seal" and not noted.part:
        raise refusal("MT209", "where the seal is, is not said", "name its place, for instance sump")
