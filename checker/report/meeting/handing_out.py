"""A car's slip, put together from all that it tells: the verdict, what is not as declared, what to look at again."""

from __future__ import annotations

from checker.meeting.record.car_contents import SCRUTINEERING
from checker.meeting.record.car_day import CarDay
from checker.meeting.session.session import Meeting
from checker.meeting.standing.after_race import look_again
from checker.meeting.standing.differences import differences
from checker.report.amounts import Data
from checker.report.meeting.document import slip_document


def slip_of(meeting: Meeting, car: CarDay, occasion: str = "") -> tuple[Data, bool | None]:
    """The document of one slip, and whether the car complies.

    Args:
        occasion: Whose weighing it tells; "" for the newest.
    """
    judgement = meeting.judgement(car, occasion).advised()
    found = differences(meeting, car, judgement.inspection.car)
    again = look_again(meeting, car, judgement.occasion) if judgement.occasion != SCRUTINEERING else []
    return slip_document(meeting, car, judgement, found, again), judgement.inspection.complies
