"""Verdicts that are due once something was recorded."""

from __future__ import annotations

from checker.meeting.record.car_day import CarDay
from checker.meeting.session.session import Meeting


def judge_due(meeting: Meeting, by: str) -> None:
    """Work out the verdicts that are due; who records them must have signed on, and the meeting must be open."""
    if meeting.day.closed is not None or (by and meeting.day.official(by) is None):
        return
    if not by and len(meeting.day.officials) > 1:
        return
    for car in meeting.due():
        meeting.judge_and_record(car, by)


def judge_again(meeting: Meeting, by: str) -> list[CarDay]:
    """Judge anew each car that was judged and that something newer bears on; which those are."""
    cars = meeting.day.cars.values()
    judged = [car for car in cars if car.judged and meeting.day.last_judged(car) is None]
    for car in judged:
        meeting.judge_and_record(car, by)
    return judged
