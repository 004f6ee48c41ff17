"""For all: where every car stands, for a large screen; and each car's own slip."""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeVar

from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import HTMLResponse, Response

from checker.meeting.session.session import Meeting
from checker.meeting.standing.standing import STATUSES
from checker.pages.serving.application import ServedPage, page
from checker.pages.weigh_in.room import WeighInRoom
from checker.pages.weigh_in.slips import LOOKS, KeptSlips, KnownState, slip_view
from checker.reading.problems import InputError
from checker.report.amounts import Data
from checker.report.meeting.board import COLOURS, SHOWN, notices, tally_words, what_words
from checker.report.meeting.document import meeting_document
from checker.report.wording import CAUTION

T = TypeVar("T")


def pages(room: WeighInRoom) -> list[ServedPage]:
    public = _Public(room)
    return [ServedPage("/", public.board), ServedPage("/slip/{code}", public.slip)]


class _Public:
    """What readers see, worked out once for all who look: a board until the next entry, a slip until one on its car.

    Whether the record is still what it was worked out from is looked at every time (`Office.look`).
    """

    def __init__(self, room: WeighInRoom) -> None:
        self._room = room
        self._board: tuple[KnownState, bytes] | None = None
        self._slips = KeptSlips(rechecked=True)

    def _look(self, question: Callable[[Meeting], T]) -> T:
        try:
            return self._room.office.look(question)
        except (InputError, OSError):
            words = "The record of this meeting cannot be read now: nothing that was shown before may be relied on."
            raise HTTPException(503, words) from None

    def board(self, request: Request) -> Response:
        known = self._look(lambda meeting: KnownState(meeting, meeting.day.number, len(meeting.faults)))
        told_at, told = self._board or (None, b"")
        if told_at != known:
            document = self._look(meeting_document)
            heading = document["meeting"]
            answer = page(
                request,
                "board",
                title=heading["title"],
                day=f"{heading['on']}, {'closed' if document['closed'] else 'open'}",
                tally=tally_words(document),
                notices=[(words, LOOKS.get(colour, "")) for words, colour in notices(document)],
                faults=[fault["message"] for fault in document["faults"]],
                cars=car_views(document),
                entry=document["last_entry"],
            )
            told = bytes(answer.body)
            self._board = known, told
        return HTMLResponse(told)

    def slip(self, request: Request) -> Response:
        slip = self._look(lambda meeting: self._coded(meeting, request.path_params["code"]))
        if slip is None:
            raise HTTPException(404)
        return page(request, "slip", slip=slip, caution=CAUTION)

    def _coded(self, meeting: Meeting, code: str) -> dict[str, object] | None:
        car = next(
            (one for one in meeting.day.cars.values() if self._room.slip_code(one.number) == code), None
        )
        return None if car is None else slip_view(self._slips.document(meeting, car))


def car_views(document: Data) -> list[dict[str, str]]:
    """Every car, the most pressing first."""
    cars = sorted(document["cars"], key=lambda car: STATUSES.index(car["status"]))
    return [
        {
            "number": car["number"],
            "name": car["name"],
            "word": SHOWN[car["status"]],
            "look": LOOKS.get(COLOURS.get(car["status"], ""), ""),
            "weighed": f"{car['weighings']}/{car['due']}",
            "what": what_words(car),
        }
        for car in cars
    ]
