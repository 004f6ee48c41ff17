"""What the organiser states: a wet meeting, the last place of a car."""

from __future__ import annotations

from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from checker.car.described.vocabulary import ORGANISER
from checker.meeting.session.session import Meeting
from checker.meeting.taking.judging import judge_again
from checker.meeting.taking.measuring import announce
from checker.pages.serving.application import ServedPage
from checker.pages.weigh_in.room import WeighInRoom, acknowledged, enter, for_officials, official_page, said
from checker.reading.quick_dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Announcements:
    """What may be announced, and what was."""

    meeting_title: str
    facts: list[str]
    cars: list[str]
    so_far: list[tuple[str, str, str]]
    """Fact, value, and the car or "all"."""
    acknowledged: str


def pages(room: WeighInRoom) -> list[ServedPage]:
    """Announcements."""
    return [
        for_officials(
            room,
            "/organiser",
            lambda request, by: _show(room, request, by),
            lambda request, form, by: _take(room, request, form, by),
        )
    ]


def _show(room: WeighInRoom, request: Request, by: str) -> Response:
    entry = request.query_params.get("entry", "")
    told = room.office.ask(lambda meeting: _announcements(meeting, entry))
    return official_page(
        request, "organiser", by, told.meeting_title, told=told, acknowledged=told.acknowledged
    )


def _announcements(meeting: Meeting, entry: str) -> Announcements:
    facts = [name for name, fact in meeting.pack.vocabulary.facts.items() if fact.stated_by == ORGANISER]
    return Announcements(
        meeting.day.opened.content.title,
        [name for name in facts if name != "event.date"],
        [car.number for car in meeting.day.cars.values() if not car.withdrawn],
        [(one.content.fact, one.content.value, one.content.car or "all") for one in meeting.day.announced],
        acknowledged(meeting, entry),
    )


def _take(room: WeighInRoom, _: Request, form: FormData, by: str) -> Response:
    def act(meeting: Meeting) -> None:
        announce(meeting, said(form, "fact"), said(form, "value"), by, car=said(form, "car"))
        judge_again(meeting, by)

    return RedirectResponse(f"/organiser?entry={enter(room, form, by, act)}", 303)
