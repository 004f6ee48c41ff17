"""Takes over from the meeting before what follows a car: open defects, broken seals, and success ballast.

Success ballast comes from a results file (place and car) and, where the club adds it up over a season, from what was
due at the meeting before; which facts of the pack take it stands in the procedure.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from checker.car.scene import Scene
from checker.meeting.record.car_contents import SCRUTINEERING, Noted
from checker.meeting.record.car_day import SINCE, CarDay
from checker.meeting.record.contents import Announced, Carried, Content
from checker.meeting.record.day import Day
from checker.meeting.record.refusal import refusal
from checker.meeting.record.rows import digest_of
from checker.meeting.session.session import Meeting
from checker.meeting.tables.given import GivenFile
from checker.meeting.tables.table import TextTable, read_table
from checker.quantities.display import show
from checker.quantities.folding import fold
from checker.reading.quick_dataclasses import dataclass, replace

COLUMNS = ("place", "car")


@dataclass(frozen=True, slots=True)
class TakenOver:
    """What was taken over."""

    notes: tuple[Noted, ...]
    announced: tuple[Announced, ...]
    not_entered: tuple[str, ...]
    """Cars of the results that are not entered here."""


def carry(meeting: Meeting, by: str, *, before: str = "", results: GivenFile | None = None) -> TakenOver:
    """Take over what follows the cars that are entered; on disk when this returns.

    Args:
        meeting: Open for work, with its cars entered.
        by: Initials of the official.
        before: The file of the meeting before; "" where there was none.
        results: A table with columns `place` and `car`, as text or as a workbook.

    Raises:
        InputError: MT213 nothing to take over from; MT101 to MT109 for the meeting before; MT250, MT252, MT3xx.
    """
    if not before and results is None:
        raise refusal(
            "MT213", "there is nothing to take over from", "name the meeting before, its results, or both"
        )
    if results is not None and meeting.procedure.success is None:
        hint = "state `success` in the procedure: which facts take place and ballast"
        raise refusal("MT250", "the procedure does not say what a place means for success ballast", hint)
    table = results.as_text() if results is not None else None
    places = read_places(read_table(table.data, table.name)) if table is not None else {}
    notes, due, head = _of_the_meeting_before(before, meeting) if before else ({}, {}, Carried("", "", ""))
    taken: list[TakenOver] = []

    def decide(day: Day) -> list[Content]:
        cars = {fold(car.number): car for car in day.cars.values() if not car.withdrawn}
        found = [note for key in cars for note in notes.get(key, ())]
        said = list(_announced(meeting, cars, places, due)) if meeting.procedure.success else []
        others = tuple(number for key, (number, _) in places.items() if key not in cars)
        taken[:] = [TakenOver(tuple(found), tuple(said), others)]
        return [
            Carried(head.on, head.hash, digest_of(table.data) if table is not None else ""),
            *found,
            *said,
        ]

    meeting.record(by, decide, [table.data] if table is not None else [])
    return taken[0]


def read_places(table: TextTable) -> dict[str, tuple[str, int]]:
    """Number and place of every car in a results table, by folded number.

    Raises:
        InputError: MT252, a place is no number or stands twice, or a car does.
    """
    columns = table.columns({name: name for name in COLUMNS}, needed=COLUMNS)
    found: dict[str, tuple[str, int]] = {}
    taken: dict[int, str] = {}
    for row in table.rows:
        number, place = row.cells[columns["car"]].strip(), row.cells[columns["place"]].strip()
        if not number or not place.isascii() or not place.isdigit() or int(place) < 1:
            span = table.span(row)
            raise refusal(
                "MT252", f"'{place}' is no place, or no car is named", "1 for the winner, 2 for ...", span
            )
        if fold(number) in found or int(place) in taken:
            what = f"car {number}" if fold(number) in found else f"place {place}"
            raise refusal(
                "MT252", f"{what} stands twice in the results", "correct the results", table.span(row)
            )
        found[fold(number)] = (number, int(place))
        taken[int(place)] = number
    return found


def _of_the_meeting_before(
    path: str, now: Meeting
) -> tuple[dict[str, list[Noted]], dict[str, Fraction], Carried]:
    """Notes and ballast due by folded number, and where they come from."""
    with Meeting.open(path, writing=False) as meeting:
        if meeting.day.opened == now.day.opened:
            hint = "name the record of the meeting before, not a copy of this one"
            raise refusal("MT213", f"'{path}' is a record of this very meeting", hint)
        notes = {key: list(_following(meeting, car)) for key, car in meeting.day.cars.items()}
        success = meeting.procedure.success
        due: dict[str, Fraction] = {}
        if success is not None and success.due:
            formula = meeting.pack.derived[success.due].expression
            for key, car in meeting.day.cars.items():
                judged = meeting.judge.car(
                    meeting.declaration(car), meeting.judge.readings(meeting.day, car, car.latest_occasion())
                )
                value = formula.evaluate(Scene(judged))
                if isinstance(value, Fraction):
                    due[key] = value
        return notes, due, Carried(meeting.day.opened.content.on, meeting.day.hash, "")


def _following(meeting: Meeting, car: CarDay) -> Iterator[Noted]:
    """What is open of it: its defects, and its broken seals."""
    on = meeting.day.opened.content.on
    for record in car.open_notes():
        note = record.content
        text = note.text if note.carried else f"{note.text}{SINCE}{on})"
        yield replace(
            note,
            car=car.number,
            occasion=SCRUTINEERING,
            text=text,
            carried=True,
            corrects=0,
            reason="",
            once="",
        )


def _announced(
    meeting: Meeting, cars: dict[str, CarDay], places: dict[str, tuple[str, int]], due: dict[str, Fraction]
) -> Iterator[Announced]:
    success = meeting.procedure.success
    assert success is not None
    for key, car in cars.items():
        if key in places:
            place = places[key][1]
            yield Announced(
                success.place, success.places.get(place, success.others), car.number, f"place {place}"
            )
        carried = due.get(key, Fraction(0))
        if success.carried_over and carried:
            unit = meeting.pack.vocabulary.facts[success.carried_over].unit
            text = show(carried, unit) if unit else str(carried)
            yield Announced(success.carried_over, text, car.number, "due at the meeting before")
