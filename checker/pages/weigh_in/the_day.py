"""The day as a whole: what the organiser states, draws, who has signed on, and the closing."""

from __future__ import annotations

from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import Response

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
    done,
    enter,
    entering,
    for_officials,
    number_in,
    official_page,
    said,
)
from checker.report.meeting.board import left_words


def pages(room: WeighInRoom) -> list[ServedPage]:
    """The page, and what is entered on it."""

    acts = {"announcement": _announce, "draw": _draw, "close": _close}
    return [
        for_officials(room, "/day", _show),
        for_officials(room, "/day/officials", None, _sign_on),
        *(entering(room, f"/day/{what}", act, "/day") for what, act in acts.items()),
    ]


def _show(room: WeighInRoom, request: Request, by: str) -> Response:
    entry = request.query_params.get("entry", "")
    return official_page(room, request, "day", by, entry=entry, told=room.office.ask(_view))


def _view(meeting: Meeting) -> dict[str, object]:
    """What may be entered for the whole day, and what was."""
    facts = [name for name, fact in meeting.pack.vocabulary.facts.items() if fact.stated_by == ORGANISER]
    is_closed, day = meeting.day.closed is not None, meeting.day
    left = closing.left_open(standings(meeting)) if is_closed else []
    return {
        "facts": [name for name in facts if name != "event.date"],
        "cars": [car.number for car in day.cars.values() if not car.withdrawn],
        "so_far": [(one.content.fact, one.content.value, one.content.car or "all") for one in day.announced],
        "drawn": [(one.content.purpose, ", ".join(one.content.drawn), one.content.seed) for one in day.draws],
        "officials": list(day.officials),
        "closed": is_closed,
        "left_open": [(one.car, left_words(one)) for one in left],
    }


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
