"""Officials sign on at a device, and off."""

from __future__ import annotations

from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from checker.pages.serving.application import ServedPage, page
from checker.pages.weigh_in.room import WeighInRoom, begin_session, end_session, said, session_of

_OVER = (
    "The sign-on at this device has ended: it lasts two hours from what was last done and twelve in all, and a key is"
    " locked again whenever the pages are started. What was acknowledged is in the record."
)
_WRONG = "These initials and this PIN do not go together."


def pages(room: WeighInRoom) -> list[ServedPage]:
    return [
        ServedPage(
            "/sign-on",
            lambda request: _show(room, request, _OVER if request.query_params.get("ended") else ""),
            lambda request, form: _take(room, request, form),
        ),
        ServedPage("/sign-off", None, lambda request, _: _off(room, request)),
    ]


def _show(room: WeighInRoom, request: Request, told: str = "", status: int = 200) -> Response:
    officials, keys = room.office.ask(lambda meeting: (list(meeting.day.officials), list(meeting.day.keys)))
    return page(request, "sign_on", status=status, officials=officials, signing=keys, told=told)


def _take(room: WeighInRoom, request: Request, form: FormData) -> Response:
    officials, keys = room.office.ask(lambda meeting: (list(meeting.day.officials), dict(meeting.day.keys)))
    initials, pin = said(form, "initials"), said(form, "pin")
    device = request.client.host if request.client else ""
    attempts = room.officials.attempts
    with attempts.alone:
        if minutes := attempts.wait_minutes(device, initials):
            words = f"Too many wrong PINs. Try again in {minutes} minute{'s' * (minutes > 1)}."
            return _show(room, request, words, 429)
        if initials not in officials or not room.officials.is_right(initials, pin, keys):
            attempts.wrong(device, initials if initials in officials else "")
            return _show(room, request, _WRONG, 403)
    response = RedirectResponse("/scales", 303)
    begin_session(room, request, response, initials)
    return response


def _off(room: WeighInRoom, request: Request) -> Response:
    session = session_of(room, request)
    if session is not None:
        room.officials.end(session)
    response = RedirectResponse("/", 303)
    end_session(request, response)
    return response
