"""The day as a whole: cars that are entered, what the organiser states, draws, and the closing."""

from __future__ import annotations

from collections.abc import Callable

from starlette.datastructures import FormData, UploadFile
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from checker.car.described.vocabulary import ORGANISER
from checker.meeting.session.session import Meeting
from checker.meeting.taking import closing
from checker.meeting.taking.draw import draw
from checker.meeting.taking.entering import Answer
from checker.meeting.taking.entering import enter as enter_cars
from checker.meeting.taking.entry_lists import Handed
from checker.meeting.taking.judging import judge_again
from checker.meeting.taking.measuring import announce
from checker.pages.serving.application import ServedPage, refused
from checker.pages.weigh_in.room import (
    LONGEST,
    WeighInRoom,
    acknowledged,
    enter,
    for_officials,
    number_in,
    official_page,
    said,
)
from checker.reading.quick_dataclasses import dataclass

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
    closed: bool
    acknowledged: str


def pages(room: WeighInRoom) -> list[ServedPage]:
    """The page, and what is entered on it."""

    def take(path: str, act: _Act) -> ServedPage:
        return for_officials(room, path, None, lambda _, form, by: _take(room, form, by, act))

    return [
        for_officials(room, "/day", lambda request, by: _show(room, request, by)),
        for_officials(
            room, "/day/cars", None, lambda request, form, by: _enter_cars(room, request, form, by)
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
    return DayView(
        meeting.day.opened.content.title,
        [name for name in facts if name != "event.date"],
        [car.number for car in meeting.day.cars.values() if not car.withdrawn],
        [(one.content.fact, one.content.value, one.content.car or "all") for one in meeting.day.announced],
        [(one.content.purpose, ", ".join(one.content.drawn), one.content.seed) for one in meeting.day.draws],
        meeting.day.closed is not None,
        acknowledged(meeting, entry),
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


# -- declarations that are handed in -------------------------------------------------------------------------


def _enter_cars(room: WeighInRoom, request: Request, form: FormData, by: str) -> Response:
    late, reason = bool(said(form, "late")), said(form, "reason")
    handed = [_handed(one, late) for one in form.getlist("declarations") if isinstance(one, UploadFile)]
    if not handed:
        raise HTTPException(400, "Choose the declarations first. Nothing was entered.")
    answers: list[Answer] = []

    def act(meeting: Meeting) -> None:
        answers[:] = enter_cars(meeting, handed, by, reason)

    entry = enter(room, form, by, act)
    wrong = [answer for answer in answers if answer.problems]
    if not wrong:
        return RedirectResponse(f"/day?entry={entry}", 303)
    entered = ", ".join(answer.car for answer in answers if not answer.problems)
    told = [
        f"{answer.file}: {'. '.join(filter(None, (one.message, one.hint)))}"
        for answer in wrong
        for one in answer.problems
    ]
    return refused(request, 422, "Not entered", [*told, f"Entered: {entered or 'none'}."])


def _handed(upload: UploadFile, late: bool) -> Handed:
    """What was sent, under its name; the name is shown and kept, and nothing is opened by it."""
    name = (upload.filename or "").replace("\\", "/").rpartition("/")[2][:LONGEST] or "declaration"
    return Handed(name, late, data=upload.file.read())
