"""What all pages of a weigh-in share: the meeting, who acts at a device, and how an entry comes in."""

from __future__ import annotations

import hmac
from collections.abc import Callable, Sequence
from hashlib import sha256
from typing import Any
from urllib.parse import urlencode

from starlette.datastructures import FormData
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from checker.meeting.record.car_day import Record
from checker.meeting.record.contents import Content
from checker.meeting.session.session import Meeting
from checker.pages.serving.application import ServedPage, cookie_name, page, put_cookie, visit_of
from checker.pages.serving.tokens import FIELD, is_visit, sealed
from checker.pages.weigh_in.office import Office, new_once
from checker.pages.weigh_in.officials import Officials, Session
from checker.reading.quick_dataclasses import dataclass

_SESSION = "official"
_RANDOM = 16
"""Digits of a one-time number that are random; as many tell whom it was shown to."""
LONGEST = 300
"""Characters of one field of a form."""


@dataclass(frozen=True, slots=True)
class WeighInRoom:
    """Where pages of one weigh-in come from."""

    office: Office
    officials: Officials
    secret: bytes
    address: str
    """Of the first page, as devices reach it: http://127.0.0.1:8321"""

    def slip_code(self, car: str) -> str:
        """What leads to a car's slip, and cannot be guessed."""
        return sealed(self.secret, "slip", car)[:16]


Shown = Callable[[WeighInRoom, Request, str], Response]
Taken = Callable[[WeighInRoom, Request, FormData, str], Response]
"""Are handed the initials of who acts."""
Act = Callable[[Meeting, FormData, str], None]
"""Records what a form says, in the name of who acts."""


# -- who acts ------------------------------------------------------------------------------------------------


def session_of(room: WeighInRoom, request: Request) -> Session | None:
    """The official's session at this device."""
    text = request.cookies.get(cookie_name(request, _SESSION), "")
    if not text:
        return None
    keys = room.office.ask(lambda meeting: dict(meeting.day.keys))
    return room.officials.session(text, visit_of(request), keys)


def begin_session(room: WeighInRoom, request: Request, response: Response, initials: str) -> None:
    """From now on the official acts at this device."""
    put_cookie(request, response, _SESSION, room.officials.begin(initials, visit_of(request)))


def end_session(request: Request, response: Response) -> None:
    """Nobody acts at this device any more."""
    put_cookie(request, response, _SESSION, "", 0)


def for_officials(
    room: WeighInRoom,
    path: str,
    show: Shown | None = None,
    take: Taken | None = None,
    *,
    largest_bytes: int = 0,
) -> ServedPage:
    """A page that only an official who has signed on at the device sees.

    Of anybody else nothing that is sent is even read.
    """

    def admitted(request: Request) -> Session:
        session = session_of(room, request)
        if session is None:
            raise HTTPException(
                401, "Nobody is signed on at this device. Nothing was entered: sign on, and send it again."
            )
        return session

    def shown(request: Request) -> Response:
        assert show is not None
        session = session_of(room, request)
        if session is None:
            had_one = cookie_name(request, _SESSION) in request.cookies
            return RedirectResponse("/sign-on?ended=yes" if had_one else "/sign-on", 303)
        return _renewed(room, request, session, show(room, request, session.initials))

    def taken(request: Request, form: FormData) -> Response:
        assert take is not None
        session = admitted(request)
        return _renewed(room, request, session, take(room, request, form, session.initials))

    return ServedPage(
        path,
        shown if show else None,
        taken if take else None,
        admit=admitted,
        largest_bytes=largest_bytes,
    )


def _renewed(room: WeighInRoom, request: Request, session: Session, response: Response) -> Response:
    text = room.officials.renewed(session, visit_of(request))
    if text:
        put_cookie(request, response, _SESSION, text)
    return response


# -- what a form says ----------------------------------------------------------------------------------------


def said(form: FormData, name: str) -> str:
    """What stands in a field; "" where there is none.

    Raises:
        HTTPException: 400, it is no text, or too long.
    """
    value = form.get(name, "")
    if not isinstance(value, str) or len(value) > LONGEST:
        raise HTTPException(400, f"A field holds at most {LONGEST} characters. Nothing was entered.")
    return value.strip()


def number_in(form: FormData, name: str) -> int:
    """A number that the page itself put into a form; 0 where there is none.

    Raises:
        HTTPException: 400, it is no number.
    """
    return whole(said(form, name))


def whole(text: str) -> int:
    """A whole number of an entry; 0 for nothing.

    Raises:
        HTTPException: 400, it is none.
    """
    if not text:
        return 0
    if not (text.isascii() and text.isdigit() and len(text) < 10):
        raise HTTPException(400, "That is no number of an entry. Nothing was entered.")
    return int(text)


def enter(room: WeighInRoom, form: FormData, by: str, act: Callable[[Meeting], object]) -> int:
    """Enter what a form says, once; the number of its entry, 0 where nothing was to be recorded.

    What is sent again as it was is the entry that is there; what was changed in the same form, after going back to it,
    is a form of its own and goes through the rules.
    """
    once = said(form, "once")
    if not is_visit(once):
        raise HTTPException(
            400, "This form bears no one-time number. Nothing was entered: load the page anew."
        )
    if not hmac.compare_digest(once, _told_to(room.secret, by, once)):
        raise HTTPException(
            409,
            "This form was shown to another official. Nothing was entered; what was typed is kept on the device:"
            " load the page anew.",
        )
    return room.office.enter(by, room.officials.signers.get(by), _number_of(form), act)


def entering(
    room: WeighInRoom, path: str, act: Act, onward: str, *keep: str, show: Shown | None = None
) -> ServedPage:
    """An address that enters what a form says, and leads on to a page with that entry and these fields of the form."""

    def take(room: WeighInRoom, _: Request, form: FormData, by: str) -> Response:
        entry = enter(room, form, by, lambda meeting: act(meeting, form, by))
        asked = {**{name: said(form, name) for name in keep}, "entry": entry}
        return RedirectResponse(f"{onward}?{urlencode(asked)}", 303)

    return for_officials(room, path, show, take)


def _told_to(secret: bytes, by: str, once: str) -> str:
    """The one-time number that begins so, as it is shown to that official: what is sent late, by who signs on at the
    same device next, is never entered in the other's name."""
    return once[:_RANDOM] + sealed(secret, "once", f"{by}\n{once[:_RANDOM]}")[:_RANDOM]


def _number_of(form: FormData) -> str:
    """The one-time number of a form as it is filled in."""
    told = sha256()
    for name, value in sorted(form.multi_items(), key=lambda item: item[0]):
        if name == FIELD:
            continue
        if isinstance(value, str):
            data = value.encode("utf-8", "surrogatepass")
        else:
            value.file.seek(0)
            data = value.file.read()
        told.update(f"{name} {len(data)} ".encode() + data)
    return told.hexdigest()[:32]


# -- pages for officials -------------------------------------------------------------------------------------


def official_page(
    room: WeighInRoom, request: Request, template: str, by: str, *, entry: str = "", **values: Any
) -> Response:
    """A page with the officials' frame around it: who acts, where to go, and what is said of the entry that it comes
    after."""

    def once() -> str:
        return _told_to(room.secret, by, new_once())

    title, told = room.office.ask(
        lambda meeting: (meeting.day.opened.content.title, _acknowledged(meeting, entry))
    )
    return page(request, template, by=by, meeting_title=title, acknowledged=told, once=once, **values)


def done(
    room: WeighInRoom,
    request: Request,
    by: str,
    entry: int,
    heading: str,
    told: Sequence[str],
    onward: tuple[str, str],
) -> Response:
    """What became of a form that has more to tell than its entry.

    Args:
        entry: The first that was recorded; 0 where nothing was to be.
        told: Sentences.
        onward: Address and words of where to go on.
    """
    values = {"title": heading, "told": told, "onward": onward}
    return official_page(room, request, "done", by, entry=str(entry), **values)


def _acknowledged(meeting: Meeting, text: str) -> str:
    """Something is said only of an entry that is in the record."""
    record: Record[Content] | None = meeting.day.record(whole(text))
    if record is None:
        return ""
    return f"Entry {record.number} ({record.content.KIND.replace('_', ' ')}) by {record.by}, on disk."
