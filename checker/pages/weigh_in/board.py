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
from checker.report.html.sheet import Sheet
from checker.report.meeting.board import COLOURS, SHOWN, notices, tally_words, what_words
from checker.report.meeting.document import meeting_document
from checker.report.meeting.handing_out import slip_of
from checker.report.meeting.slip import slip_text
from checker.report.page import GREEN, RED, YELLOW

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
    sheet = room.office.ask(lambda meeting: _slip_sheet(room, meeting, request.path_params["code"]))
    if sheet is None:
        raise HTTPException(404)
    return page(request, "sheets", layout="live.html", title=sheet.title, sheets=[sheet.blocks])


def _slip_sheet(room: WeighInRoom, meeting: Meeting, code: str) -> Sheet | None:
    car = next((one for one in meeting.day.cars.values() if room.slip_code(one.number) == code), None)
    if car is None:
        return None
    sheet = Sheet()
    slip_text(slip_of(meeting, car)[0], sheet)
    return sheet
