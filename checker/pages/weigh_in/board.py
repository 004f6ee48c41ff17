"""For all: where every car stands, for a large screen; and each car's own slip."""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeVar

from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import HTMLResponse, Response

from checker.meeting.session.session import Meeting
from checker.meeting.standing.standing import STATUSES
from checker.meeting.standing.verifying import recheck
from checker.pages.serving.application import ServedPage, page
from checker.pages.weigh_in.room import WeighInRoom
from checker.quantities.folding import fold
from checker.reading.problems import InputError
from checker.reading.quick_dataclasses import dataclass, replace
from checker.report.amounts import Data
from checker.report.html.sheet import Block, Sheet
from checker.report.meeting.board import COLOURS, SHOWN, notices, tally_words, unsound_text, what_words
from checker.report.meeting.document import meeting_document
from checker.report.meeting.handing_out import slip_of
from checker.report.meeting.slip import slip_body
from checker.report.page import GREEN, RED, YELLOW
from checker.report.wording import CAUTION

T = TypeVar("T")

_LOOKS = {RED: "fails", GREEN: "met", YELLOW: "open"}


@dataclass(frozen=True, slots=True)
class CarView:
    """A car on the board."""

    number: str
    name: str
    word: str
    look: str
    weighed: str
    what: str


@dataclass(frozen=True, slots=True)
class SlipView:
    """A car's slip on a page."""

    number: str
    name: str
    day: str
    rules: str
    word: str
    look: str
    told: list[Block]


def pages(room: WeighInRoom) -> list[ServedPage]:
    """The board and the slips."""
    public = _Public(room)
    return [ServedPage("/", public.board), ServedPage("/slip/{code}", public.slip)]


@dataclass(frozen=True, slots=True)
class _Known:
    """What something was worked out from."""

    meeting: Meeting
    """As it was opened: it is opened anew where its file is no longer what it was."""
    entry: int
    faults: int


class _Public:
    """What readers see, worked out once for all who look: a board until the next entry, a slip until one on its car.

    Whether the record is still what it was worked out from is looked at every time (`Office.look`).
    """

    def __init__(self, room: WeighInRoom) -> None:
        self._room = room
        self._board: tuple[_Known, bytes] | None = None
        self._slips: dict[str, tuple[_Known, SlipView]] = {}

    def _look(self, question: Callable[[Meeting], T]) -> T:
        try:
            return self._room.office.look(question)
        except (InputError, OSError):
            words = "The record of this meeting cannot be read now: nothing that was shown before may be relied on."
            raise HTTPException(503, words) from None

    def board(self, request: Request) -> Response:
        known = self._look(lambda meeting: _Known(meeting, meeting.day.number, len(meeting.faults)))
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
                notices=[(words, _LOOKS.get(colour, "")) for words, colour in notices(document)],
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

    def _coded(self, meeting: Meeting, code: str) -> SlipView | None:
        car = next(
            (one for one in meeting.day.cars.values() if self._room.slip_code(one.number) == code), None
        )
        if car is None:
            return None
        known = _Known(meeting, _newest_about(meeting, car.number), len(meeting.faults))
        told_at, told = self._slips.get(car.number, (None, None))
        if told is None or told_at != known:
            recheck(meeting, [car])
            told = slip_view(slip_of(meeting, car)[0])
            self._slips[car.number] = replace(known, faults=len(meeting.faults)), told
        return told


def _newest_about(meeting: Meeting, car: str) -> int:
    """The newest entry that may bear on a car's slip: each that is not of another car alone."""
    for record in reversed(meeting.day.records()):
        if fold(getattr(record.content, "car", "")) in ("", fold(car)):
            return record.number
    return 0


def car_views(document: Data) -> list[CarView]:
    """Every car, the most pressing first."""
    cars = sorted(document["cars"], key=lambda car: STATUSES.index(car["status"]))
    return [
        CarView(
            car["number"],
            car["name"],
            SHOWN[car["status"]],
            _LOOKS.get(COLOURS.get(car["status"], ""), ""),
            f"{car['weighings']}/{car['due']}",
            what_words(car),
        )
        for car in cars
    ]


def slip_view(document: Data) -> SlipView:
    """A slip with its car and its status apart."""
    sheet = Sheet()
    unsound_text(document, sheet)
    slip_body(document, sheet)
    standing, heading = document["standing"], document["meeting"]
    return SlipView(
        standing["number"],
        standing["name"],
        f"{heading['title']}, {heading['on']}, {document['occasion']}",
        f"{heading['pack']} {heading['edition']}, sha256 {heading['pack_sha256'][:12]}",
        SHOWN[standing["status"]].upper(),
        _LOOKS.get(COLOURS.get(standing["status"], ""), "open"),
        sheet.blocks,
    )
