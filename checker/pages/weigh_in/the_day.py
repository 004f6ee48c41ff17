"""The day as a whole: what the organiser states, draws, who has signed on, and the closing."""

from __future__ import annotations

from collections.abc import Callable

from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from checker.car.described.vocabulary import ORGANISER
from checker.meeting.session.session import Meeting
from checker.meeting.standing.standing import standings
from checker.meeting.taking import closing
from checker.meeting.taking.draw import draw
from checker.meeting.taking.judging import judge_again
from checker.meeting.taking.measuring import announce
from checker.meeting.taking.opening import sign_on
from checker.pages.serving.application import ServedPage
from checker.pages.weigh_in.room import (
    WeighInRoom,
    acknowledged,
    done,
    enter,
    for_officials,
    number_in,
    official_page,
    said,
)
from checker.reading.quick_dataclasses import KW_ONLY, dataclass

_Act = Callable[[Meeting, FormData, str], None]


@dataclass(frozen=True, slots=True)
class DayView:
    """What may be entered for the whole day, and what was."""

    meeting_title: str
    facts: list[str]
    cars: list[str]
    so_far: list[tuple[str, str, str]]
    """Announced: fact, value, and the car or "all"."""
    drawn: list[tuple[str, str, str]]
    """Purpose, cars, and the seed."""
    _: KW_ONLY
    officials: list[str]
    closed: bool
    left_open: list[tuple[str, str]]
    """Once it is closed: cars that are neither in order nor failed, and where they stand."""
    acknowledged: str


def pages(room: WeighInRoom) -> list[ServedPage]:
    """The page, and what is entered on it."""

    def take(path: str, act: _Act) -> ServedPage:
        return for_officials(room, path, None, lambda _, form, by: _take(room, form, by, act))

    return [
        for_officials(room, "/day", lambda request, by: _show(room, request, by)),
        for_officials(
            room, "/day/officials", None, lambda request, form, by: _sign_on(room, request, form, by)
        ),
        take("/day/announcement", _announce),
        take("/day/draw", _draw),
        take("/day/close", _close),
    ]


def _show(room: WeighInRoom, request: Request, by: str) -> Response:
    entry = request.query_params.get("entry", "")
    told = room.office.ask(lambda meeting: _view(meeting, entry))
    return official_page(request, "day", by, told.meeting_title, told=told, acknowledged=told.acknowledged)


def _view(meeting: Meeting, entry: str) -> DayView:
    facts = [name for name, fact in meeting.pack.vocabulary.facts.items() if fact.stated_by == ORGANISER]
    is_closed = meeting.day.closed is not None
    return DayView(
        meeting.day.opened.content.title,
        [name for name in facts if name != "event.date"],
        [car.number for car in meeting.day.cars.values() if not car.withdrawn],
        [(one.content.fact, one.content.value, one.content.car or "all") for one in meeting.day.announced],
        [(one.content.purpose, ", ".join(one.content.drawn), one.content.seed) for one in meeting.day.draws],
        officials=list(meeting.day.officials),
        closed=is_closed,
        left_open=[(one.car, one.status) for one in closing.left_open(standings(meeting))]
        if is_closed
        else [],
        acknowledged=acknowledged(meeting, entry),
    )


def _take(room: WeighInRoom, form: FormData, by: str, act: _Act) -> Response:
    entry = enter(room, form, by, lambda meeting: act(meeting, form, by))
    return RedirectResponse(f"/day?entry={entry}", 303)


def _announce(meeting: Meeting, form: FormData, by: str) -> None:
    announce(meeting, said(form, "fact"), said(form, "value"), by, car=said(form, "car"))
    judge_again(meeting, by)


def _draw(meeting: Meeting, form: FormData, by: str) -> None:
    sample = number_in(form, "sample")
    draw(meeting, by, purpose=said(form, "purpose"), sample=sample or None, seed=said(form, "seed"))


def _close(meeting: Meeting, form: FormData, by: str) -> None:
    if said(form, "reopen"):
        closing.reopen(meeting, said(form, "reason"), by)
    else:
        closing.close(meeting, by, provisional=bool(said(form, "provisional")))


def _sign_on(room: WeighInRoom, request: Request, form: FormData, by: str) -> Response:
    """Another official; the PIN is told once, to who signs him on."""
    initials = " ".join(said(form, "initials").split())
    entry = enter(room, form, by, lambda meeting: sign_on(meeting, initials, by))
    told = [
        f"{initials} signs on at a device with the PIN {room.officials.pin(initials)}: hand it over by word."
    ]
    return done(room, request, by, entry, "Another official", told, ("/day", "The day"))
