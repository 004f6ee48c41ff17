"""What officials measured of one car, written as the readings file that the rest of the program reads.

The record is thus judged in exactly the way that `checker inspect --readings` judges a file, and a protest bundle can
carry that very file.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from checker.car.described.standard import WHEELS
from checker.car.described.vocabulary import Vocabulary
from checker.meeting.record.car_contents import Measured, Weighed
from checker.meeting.record.car_day import CarDay, Record
from checker.meeting.record.day import Day
from checker.meeting.session.procedure import LAST, PRESENTED, Procedure
from checker.meeting.session.stating import near_and_far, plain_value, target_of
from checker.reading.printer import to_yaml
from checker.reading.values import Plain

NEAR, FAR = 0, 1
"""Which end of what a gauge tells a readings file states."""


def readings_of(
    day: Day,
    car: CarDay,
    occasion: str,
    vocabulary: Vocabulary,
    procedure: Procedure,
    far: str = "",
) -> dict[str, Plain]:
    """The readings of a car as plain data.

    Args:
        day: The state of the day.
        car: One of its cars.
        occasion: Whose weighing counts.
        vocabulary: Of the pack.
        procedure: Says which weighings of a set count.
        far: The one gauged fact that is put at the far end of what its gauge tells; "" for none.
    """
    data: dict[str, Plain] = {
        "formula": vocabulary.pack,
        "car": {"number": car.number},
        "event": {"date": day.opened.content.on},
    }
    weighings = car.weighings(occasion)
    if weighings:
        data["weighing"] = _weighing([record.content for record in weighings], procedure)
    for fact, announced in day.announced_for(car.number).items():
        _put(data, vocabulary, fact, plain_value(target_of(fact, vocabulary).fact, announced.content.value))
    for fact, measured in car.facts().items():
        _put(data, vocabulary, fact, _value(measured, vocabulary, FAR if fact == far else NEAR))
    return data


def gauged(car: CarDay) -> tuple[str, ...]:
    """The facts that were told by a gauge."""
    return tuple(fact for fact, record in car.facts().items() if record.content.gauge)


def as_file(data: Mapping[str, Plain]) -> bytes:
    """Readings as the bytes of a YAML file."""
    return to_yaml(dict(data)).encode()


def _weighing(weighings: Sequence[Weighed], procedure: Procedure) -> dict[str, Plain]:
    counting = weighings[-1:] if procedure.counts == LAST else weighings
    state = counting[-1]
    section: dict[str, Plain] = {"instrument": state.gear} if state.gear else {}
    said = {key: getattr(state, key) for key in PRESENTED}
    section |= {key: text for key, text in said.items() if text}
    if not state.loads:  # nothing is read yet; its state is looked at beforehand
        return section
    section["readings"] = [
        {**weighing.loads, **({"pads": weighing.pads} if set(weighing.loads) == set(WHEELS) else {})}
        for weighing in counting
    ]
    return section


def _value(measured: Record[Measured], vocabulary: Vocabulary, end: int) -> Any:
    content = measured.content
    target = target_of(content.fact, vocabulary, new_entry=True)
    if content.gauge:
        return near_and_far(target, content.value, content.gauge, vocabulary.currency)[end]
    value = plain_value(target.fact, content.value)
    return {"value": value, "with": content.gear} if content.gear else value


def _put(data: dict[str, Any], vocabulary: Vocabulary, name: str, value: Any) -> None:
    target = target_of(name, vocabulary, new_entry=True)
    if not target.list_name:
        section, _, key = name.partition(".")
        data.setdefault(section, {})[key] = value
        return
    known_by = vocabulary.lists[target.list_name].known_by
    _, _, field = name.rpartition(".")
    entries = data.setdefault(target.list_name, [])
    for entry in entries:
        if entry[known_by] == target.entry:
            entry[field] = value
            return
    entries.append({known_by: target.entry, field: value})
