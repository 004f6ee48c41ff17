"""Takes what officials measure, read and see on a car: facts of the pack, gauges, clauses looked at, defects, seals."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any

from checker.meeting.record.contents import SCRUTINEERING, TOPICS, Announced, Content, Measured, Noted
from checker.meeting.record.day import CarDay, Day
from checker.meeting.record.refusal import refusal
from checker.meeting.session.gear import named_gear
from checker.meeting.session.session import Meeting
from checker.meeting.session.stating import (
    Target,
    gauge_size,
    plain_value,
    refuse_organiser,
    refuse_others,
    target_of,
)
from checker.meeting.taking.correcting import correctable, placeless, trial_of
from checker.quantities.folding import fold
from checker.reading.nearest import did_you_mean
from checker.reading.problems import InputError

SEAL_STATES = ("fitted", "intact", "broken")
DEFECT_STATES = ("open", "mended")


@dataclass(frozen=True, slots=True)
class Finding:
    """One fact as an official gives it."""

    car: str
    fact: str
    """`section.fact`, or `list.entry.field`."""
    value: str
    """The value, or the size of the gauge."""
    occasion: str = SCRUTINEERING
    gear: str = ""
    """What it was measured with; "" for what the pack says."""
    gauge: str = ""
    """"go" or "no-go" where a gauge was put to it."""
    new_entry: bool = False
    """The entry is not in the declaration; it was found on the car."""
    corrects: int = 0
    reason: str = ""


def measure(meeting: Meeting, findings: Sequence[Finding], by: str) -> list[int]:
    """Record facts, all or none; on disk when this returns.

    Returns:
        The numbers of their entries.

    Raises:
        InputError: MT203 to MT211, RDxxx: then none was recorded.
    """

    def decide(day: Day) -> list[Content]:
        contents: list[Content] = []
        for finding in findings:
            car = _with(day, meeting.car(finding.car, taking_part=True), contents)
            contents.append(_settled(meeting, day, car, finding))
        return contents

    return [entry.number for entry in meeting.record(by, decide)]


def _with(day: Day, car: CarDay, contents: list[Content]) -> CarDay:
    """The car with what is recorded in the same go."""
    for content in contents:
        if fold(getattr(content, "car", "")) == fold(car.number):
            car = trial_of(day, car, content)
    return car


def _settled(meeting: Meeting, day: Day, car: CarDay, finding: Finding) -> Measured:
    declared = meeting.judge.declared(meeting.declaration(car))
    target = target_of(finding.fact, meeting.pack.vocabulary, declared, new_entry=finding.new_entry)
    refuse_organiser(target)
    if finding.corrects:
        _refuse_other(day, car, target, finding)
    value = " ".join(finding.value.split())
    if not value:
        raise refusal("MT209", f"{target.name} is given no value")
    if finding.gauge:
        gauge_size(target, value, finding.gauge, meeting.pack.vocabulary.currency)
    gear = named_gear(meeting.gear, finding.gear).name if finding.gear else ""
    measured = Measured(
        car.number,
        finding.occasion,
        target.name,
        value,
        gear,
        finding.gauge,
        finding.corrects,
        finding.reason.strip(),
    )
    trial = trial_of(day, car, measured)
    try:
        meeting.judge.car(meeting.declaration(car), meeting.judge.readings(day, trial, finding.occasion))
    except InputError as error:
        raise placeless(error) from None
    return measured


def _refuse_other(day: Day, car: CarDay, target: Target, finding: Finding) -> None:
    record = correctable(day, finding.corrects, finding.reason)
    content: Any = record.content
    if (
        not isinstance(content, Measured)
        or content.fact != target.name
        or fold(content.car) != fold(car.number)
    ):
        raise refusal(
            "MT207", f"entry {finding.corrects} is no measurement of {target.name} on car {car.number}"
        )


def announce(meeting: Meeting, fact: str, value: str, by: str, *, car: str = "", source: str = "") -> int:
    """Record what the organiser states, for one car or for all; on disk when this returns.

    Returns:
        The number of its entry.

    Raises:
        InputError: MT203, MT208, MT209, RDxxx.
    """

    def decide(day: Day) -> list[Content]:
        return [announced(meeting, day, fact, value, car, source)]

    return meeting.record(by, decide)[0].number


def announced(meeting: Meeting, day: Day, fact: str, value: str, car: str, source: str) -> Announced:
    """What the organiser states, once it is seen that the pack takes it."""
    target = target_of(fact, meeting.pack.vocabulary)
    refuse_others(target)
    number = meeting.car(car).number if car else ""
    content = Announced(target.name, " ".join(value.split()), number, source)
    _refuse_unreadable(meeting, day, content)
    return content


def _refuse_unreadable(meeting: Meeting, day: Day, content: Announced) -> None:
    """Read it with some car's declaration, as it will be read with every one."""
    cars = [day.car(content.car)] if content.car else list(day.cars.values())[:1]
    for car in cars:
        if car is None:
            continue
        readings = meeting.judge.readings(day, car, SCRUTINEERING)
        section, _, key = content.fact.partition(".")
        fact = meeting.pack.vocabulary.facts[content.fact]
        readings[section] = {**readings.get(section, {}), key: plain_value(fact, content.value)}
        try:
            meeting.judge.car(meeting.declaration(car), readings)
        except InputError as error:
            raise placeless(error) from None


# -- what is no fact of the pack -----------------------------------------------------------------------------


def note(meeting: Meeting, notes: Sequence[Noted], by: str) -> list[int]:
    """Record clauses looked at, defects, seals, samples, lost parts or remarks, all or none; on disk when this returns.

    Returns:
        The numbers of their entries.

    Raises:
        InputError: MT203, MT205 to MT209, MT212: then none was recorded.
    """

    def decide(day: Day) -> list[Content]:
        return [_clear(meeting, day, noted) for noted in notes]

    return [entry.number for entry in meeting.record(by, decide)]


def _clear(meeting: Meeting, day: Day, noted: Noted) -> Noted:
    """A note as it is recorded."""
    car = meeting.car(noted.car, taking_part=True)
    _refuse_unclear(meeting, car, noted)
    if noted.corrects:
        content = correctable(day, noted.corrects, noted.reason).content
        if not isinstance(content, Noted) or fold(content.car) != fold(car.number):
            raise refusal("MT207", f"entry {noted.corrects} is no note on car {car.number}")
    return replace(noted, car=car.number, text=" ".join(noted.text.split()))


def _refuse_unclear(meeting: Meeting, car: CarDay, noted: Noted) -> None:
    if noted.topic not in TOPICS:
        raise refusal("MT209", f"'{noted.topic}' is no kind of note", did_you_mean(noted.topic, TOPICS))
    if noted.clause:
        refuse_no_clause(meeting, noted.clause)
    if noted.topic == "seen":
        if not noted.clause:
            raise refusal("MT212", "which clause was looked at is not said")
        return
    if noted.topic == "lost":
        _refuse_no_part(meeting, car, noted.part)
        return
    if not noted.text.strip():
        raise refusal("MT209", f"the {noted.topic} is not described", "say what was seen, in a few words")
    states = {"seal": SEAL_STATES, "defect": DEFECT_STATES}.get(noted.topic, ("",))
    if noted.state not in states:
        hint = f"one of: {', '.join(states)}"
        raise refusal("MT209", f"a {noted.topic} cannot be '{noted.state}'", hint)
    if noted.topic == "seal" and not noted.part:
        raise refusal("MT209", "where the seal is, is not said", "name its place, for instance sump")


def _refuse_no_part(meeting: Meeting, car: CarDay, part: str) -> None:
    declared = meeting.judge.declared(meeting.declaration(car))
    names = [e.label for name in ("components", "ballast") for e in declared.every_entry(name)]
    if fold(part) not in {fold(name) for name in names}:
        hint = did_you_mean(part, names) or "name it as the declaration does"
        raise refusal("MT208", f"car {car.number} has no part '{part}'", hint)


def refuse_no_clause(meeting: Meeting, number: str) -> None:
    """Refuse the number of a clause that the pack does not have.

    Raises:
        InputError: MT212.
    """
    clauses = meeting.pack.clauses
    if number not in clauses:
        hint = (
            did_you_mean(number, clauses) or f"clauses run from {next(iter(clauses))} to {list(clauses)[-1]}"
        )
        raise refusal("MT212", f"the pack has no clause {number}", hint)
