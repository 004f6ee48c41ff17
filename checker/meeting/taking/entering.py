"""Enters cars: from declarations one by one, from a folder of them, or from a list in a table.

A declaration that cannot be read, or is of another formula, is told with its mistakes and not entered; the others are.
Bytes are kept in the record as they came, so that nobody can say later that another file was handed in.
"""

from __future__ import annotations

import os
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path

from checker.car.declaration.loading import load_car
from checker.meeting.record.car_contents import Entered, Withdrawn
from checker.meeting.record.contents import Content
from checker.meeting.record.day import Day
from checker.meeting.record.refusal import problem, refusal
from checker.meeting.record.rows import digest_of
from checker.meeting.session.judging import OFFICIAL
from checker.meeting.session.session import Meeting
from checker.meeting.tables.given import GivenFile
from checker.meeting.tables.mapping import TableMapping
from checker.meeting.taking.entry_lists import Handed, read_entry_list
from checker.quantities.folding import fold
from checker.reading.file_bytes import read_bytes
from checker.reading.problems import InputError, Problem
from checker.reading.quick_dataclasses import dataclass, replace
from checker.reading.strict_yaml import parse_document

HANDED_IN_LATER = "its declaration was handed in after the list"


@dataclass(frozen=True, slots=True)
class Answer:
    """What became of one declaration."""

    file: str
    car: str = ""
    name: str = ""
    replaced: bool = False
    problems: tuple[Problem, ...] = ()
    """Why it was not entered; none where it was."""


def handed_in(
    meeting: Meeting,
    places: Sequence[str | os.PathLike[str]],
    late: bool = False,
    mapping: TableMapping | None = None,
) -> list[Handed]:
    """The declarations at these places: files, folders of them, or a table of entries.

    Args:
        mapping: What the headings of a table mean; see `read_entry_list`.

    Raises:
        InputError: MT110 nothing is there, MT3xx the table cannot be read.
    """
    found: list[Handed] = []
    for place in places:
        path = Path(place)
        if path.is_dir():
            files = sorted(
                file for file in path.iterdir() if file.suffix in (".yaml", ".yml") and file.is_file()
            )
            if not files:
                raise refusal(
                    "MT110", f"the folder '{place}' holds no declaration", "declarations end in .yaml"
                )
            found += [Handed(str(file), late) for file in files]
        elif path.suffix.lower() in (".csv", ".tsv", ".txt", ".xlsx", ".xls", ".ods"):
            found += _listed(meeting, path, late, mapping)
        else:
            found.append(Handed(str(place), late))
    return found


def _listed(meeting: Meeting, path: Path, late: bool, mapping: TableMapping | None) -> Iterator[Handed]:
    """What a list on disk names; its declarations stand beside it."""
    return read_entry_list(
        meeting, GivenFile.read(path), late, mapping, lambda name, _: Handed(str(path.parent / name))
    )


@dataclass(frozen=True, slots=True)
class _Sound:
    """A declaration that can be entered."""

    data: bytes
    content: Entered


def enter(meeting: Meeting, handed: Sequence[Handed], by: str, reason: str = "") -> list[Answer]:
    """Enter cars; those that can be are, in one go, and each is answered for.

    Args:
        meeting: Open for work.
        handed: The declarations.
        by: Initials of the official.
        reason: Why declarations may take the place of earlier ones, or withdrawn cars are back; "" where they may not.

    Raises:
        InputError: MT201, MT202, MT104 to MT107: then none was entered.
    """
    read = [_read(meeting, one) for one in handed]
    answers: list[Answer] = []

    def decide(day: Day) -> list[Content]:
        answers.clear()
        accepted: dict[str, Entered] = {}
        for one in read:
            answer = _placed(day, one.content, accepted, reason) if isinstance(one, _Sound) else one
            answers.append(answer)
            if isinstance(one, _Sound) and not answer.problems:
                accepted[fold(answer.car)] = replace(
                    one.content, reason=(reason or HANDED_IN_LATER) if answer.replaced else ""
                )
        return list(accepted.values())

    meeting.record(by, decide, [one.data for one in read if isinstance(one, _Sound)])
    return answers


def _read(meeting: Meeting, handed: Handed) -> _Sound | Answer:
    """A declaration that the pack can judge, or why it cannot."""
    try:
        data = read_bytes(handed.file, "CD") if handed.data is None else handed.data
        car = load_car(parse_document(data, handed.file, "CD"), meeting.pack.vocabulary, audience=OFFICIAL)
    except InputError as error:
        return Answer(handed.file, handed.car, problems=error.problems)
    if handed.car and fold(handed.car) != fold(car.number):
        message = f"the list says car {handed.car}, the declaration is of car {car.number}"
        found = problem("MT303", message, "correct the list, or hand in the other file", handed.span)
        return Answer(handed.file, handed.car, problems=(found,))
    content = Entered(
        car.number,
        car.name,
        digest_of(data),
        os.path.basename(handed.file),
        handed.late,
        listed=handed.listed,
    )
    return _Sound(data, content)


def _placed(day: Day, content: Entered, accepted: Mapping[str, Entered], reason: str) -> Answer:
    """Whether the car may be entered as the record stands, with those accepted before it."""
    answer = Answer(content.file, content.car, content.name)
    twin = accepted.get(fold(content.car))
    if twin is not None:
        message = f"car {content.car} is in two files, {twin.file} and {content.file}"
        return replace(answer, problems=(problem("MT204", message, "hand in the one that counts"),))
    car = day.car(content.car)
    if car is None:
        return answer
    if reason.strip() or (car.entered.content.listed and not content.listed and not car.withdrawn):
        return replace(answer, replaced=True)
    if car.withdrawn:
        found = problem("MT205", f"car {car.number} has withdrawn: {car.withdrawn}", "say why it is back")
    elif car.entered.content.declaration == content.declaration:
        found = problem("MT204", f"car {car.number} is entered already, with this very file")
    else:
        message = f"car {car.number} is entered already, with another declaration"
        found = problem("MT204", message, "say why this one takes its place, or measure what differs")
    return replace(answer, problems=(found,))


def withdraw(meeting: Meeting, car: str, reason: str, by: str) -> None:
    """A car does not take part any more.

    Raises:
        InputError: MT203, MT205, MT206.
    """

    def decide(_: Day) -> list[Content]:
        entered = meeting.car(car, taking_part=True)
        return [Withdrawn(entered.number, reason.strip())]

    meeting.record(by, decide)
