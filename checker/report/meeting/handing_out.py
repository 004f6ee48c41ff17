"""What is handed out, put together from all that it tells: a car's slip, and the results of the day."""

from __future__ import annotations

from datetime import UTC, datetime, time

from checker.meeting.record.car_contents import SCRUTINEERING
from checker.meeting.record.car_day import CarDay
from checker.meeting.session.session import Meeting
from checker.meeting.standing.after_race import look_again
from checker.meeting.standing.differences import differences
from checker.meeting.standing.standing import complies, standing_of
from checker.meeting.standing.verifying import recheck, refuse_due
from checker.report.amounts import Data
from checker.report.meeting.document import results_document, slip_document


def slip_of(meeting: Meeting, car: CarDay, occasion: str = "") -> tuple[Data, bool | None]:
    """The document of one slip, and whether the car complies.

    Args:
        occasion: Whose weighing it tells; "" for the newest.
    """
    judgement = meeting.judgement(car, occasion).advised()
    found = differences(meeting, car, judgement.inspection.car)
    again = look_again(meeting, car, judgement.occasion) if judgement.occasion != SCRUTINEERING else []
    told = slip_document(meeting, car, judgement, found, again)
    return told, complies(judgement.inspection.complies, standing_of(meeting, car))


def results_of(meeting: Meeting, at: time | None = None) -> Data:
    """The document of the results; every verdict in it was worked out again.

    Args:
        meeting: As it was opened; a verdict that comes out otherwise is a fault of it from now on.
        at: As it stood at that time of the day, in UTC as on slips; None for as it stands.

    Raises:
        InputError: MT217, a verdict is outstanding; MT407, nothing had been recorded by then.
    """
    if not meeting.faults:
        refuse_due(meeting)
    recheck(meeting, meeting.day.cars.values())
    shown = meeting if at is None else meeting.as_at(datetime.combine(meeting.on, at, UTC))
    return results_document(shown, meeting.day.number)
