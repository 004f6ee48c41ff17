"""For all: where every car stands, for a large screen; and each car's own slip."""

from __future__ import annotations

from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import Response

from checker.meeting.session.session import Meeting
from checker.meeting.standing.standing import STATUSES
from checker.pages.serving.application import ServedPage, page
from checker.pages.weigh_in.room import WeighInRoom
from checker.reading.quick_dataclasses import dataclass
from checker.report.amounts import Data
from checker.report.html.sheet import Block, Sheet
from checker.report.meeting.board import COLOURS, SHOWN, notices, tally_words, unsound_text, what_words
from checker.report.meeting.document import meeting_document
from checker.report.meeting.handing_out import slip_of
from checker.report.meeting.slip import slip_body
from checker.report.page import GREEN, RED, YELLOW
from checker.report.wording import CAUTION

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
    return [
        ServedPage("/", lambda request: _board(room, request)),
        ServedPage("/slip/{code}", lambda request: _slip(room, request)),
    ]


def _board(room: WeighInRoom, request: Request) -> Response:
    document, told = room.office.ask(_documented)
    heading = document["meeting"]
    return page(
        request,
        "board",
        title=heading["title"],
        day=f"{heading['on']}, {'closed' if document['closed'] else 'open'}",
        tally=tally_words(document),
        notices=told,
        cars=car_views(document),
        entry=document["last_entry"],
    )


def _documented(meeting: Meeting) -> tuple[Data, list[tuple[str, str]]]:
    document = meeting_document(meeting)
    return document, [(words, _LOOKS.get(colour, "")) for words, colour in notices(document)]


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


def _slip(room: WeighInRoom, request: Request) -> Response:
    slip = room.office.ask(lambda meeting: _coded_slip(room, meeting, request.path_params["code"]))
    if slip is None:
        raise HTTPException(404)
    return page(request, "slip", slip=slip, caution=CAUTION)


def _coded_slip(room: WeighInRoom, meeting: Meeting, code: str) -> SlipView | None:
    car = next((one for one in meeting.day.cars.values() if room.slip_code(one.number) == code), None)
    return None if car is None else slip_view(slip_of(meeting, car)[0])


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
