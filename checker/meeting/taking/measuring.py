"""Takes what officials measure, read and see on a car: facts of the pack, gauges, clauses looked at, defects, seals."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial

from checker.meeting.record.car_contents import SCRUTINEERING, Measured, Noted
from checker.meeting.record.contents import Announced, Content
from checker.meeting.record.day import Day
from checker.meeting.session.gear import named_gear
from checker.meeting.session.named import entered_car, refuse_changed
from checker.meeting.session.session import Meeting
from checker.meeting.session.stating import target_of
from checker.quantities.folding import fold
from checker.reading.quick_dataclasses import KW_ONLY, dataclass, replace


@dataclass(frozen=True, slots=True)
class Finding:
    """One fact as an official gives it."""

    car: str
    fact: str
    """`section.fact`, or `list.entry.field`."""
    value: str
    """The value, or the size of the gauge."""
    occasion: str = SCRUTINEERING
    _: KW_ONLY
    gear: str = ""
    """What it was measured with; "" for what the pack says."""
    gauge: str = ""
    """"go" or "no-go" where a gauge was put to it."""
    new_entry: bool = False
    """The entry is not in the declaration; it was found on the car."""
    corrects: int = 0
    reason: str = ""


def measure(meeting: Meeting, findings: Sequence[Finding], by: str, *, seen: int | None = None) -> list[int]:
    """Record facts, all or none; on disk when this returns. `seen` is as for `checker.meeting.taking.weighing.weigh`.

    Returns:
        The numbers of their entries.

    Raises:
        InputError: MT203 to MT211, RDxxx: then none was recorded.
    """

    def decide(day: Day) -> list[Content]:
        for finding in findings if seen is not None else ():
            refuse_changed(day, finding.car, seen or 0, partial(_same_fact, finding.fact))
        return [_named(meeting, day, finding) for finding in findings]

    return [entry.number for entry in meeting.record(by, decide)]


def _same_fact(fact: str, content: Content) -> bool:
    return isinstance(content, Measured) and fold(content.fact) == fold(fact)


def _named(meeting: Meeting, day: Day, finding: Finding) -> Measured:
    """A fact with everything named as the pack, the entry and the declaration name it."""
    car = entered_car(day, finding.car, taking_part=True)
    declared = meeting.judge.declared(meeting.declaration(car))
    target = target_of(finding.fact, meeting.pack.vocabulary, declared, new_entry=finding.new_entry)
    return Measured(
        car.number,
        finding.occasion,
        target.name,
        " ".join(finding.value.split()),
        gear=named_gear(meeting.gear, finding.gear).name if finding.gear else "",
        gauge=finding.gauge,
        corrects=finding.corrects,
        reason=finding.reason.strip(),
    )


def announce(meeting: Meeting, fact: str, value: str, by: str, *, car: str = "", source: str = "") -> int:
    """Record what the organiser states, for one car or for all; on disk when this returns.

    Returns:
        The number of its entry.

    Raises:
        InputError: MT203, MT208, MT209, RDxxx.
    """

    def decide(day: Day) -> list[Content]:
        name = target_of(fact, meeting.pack.vocabulary).name
        number = entered_car(day, car).number if car else ""
        return [Announced(name, " ".join(value.split()), number, source)]

    return meeting.record(by, decide)[0].number


# -- what is no fact of the pack -----------------------------------------------------------------------------


def note(meeting: Meeting, notes: Sequence[Noted], by: str) -> list[int]:
    """Record clauses looked at, defects, seals, samples, lost parts or remarks, all or none; on disk when this returns.

    Returns:
        The numbers of their entries.

    Raises:
        InputError: MT203, MT205 to MT209, MT212: then none was recorded.
    """

    def decide(day: Day) -> list[Content]:
        return [
            replace(
                noted,
                car=entered_car(day, noted.car, taking_part=True).number,
                text=" ".join(noted.text.split()),
            )
            for noted in notes
        ]

    return [entry.number for entry in meeting.record(by, decide)]
