"""Which car: the list from which every desk begins."""

from __future__ import annotations

from starlette.requests import Request
from starlette.responses import Response

from checker.meeting.record.car_contents import SCRUTINEERING
from checker.meeting.session.session import Meeting
from checker.meeting.standing.standing import WITHDRAWN
from checker.pages.weigh_in.board import CarView, car_views
from checker.pages.weigh_in.room import WeighInRoom, acknowledged, official_page
from checker.reading.quick_dataclasses import dataclass
from checker.report.meeting.board import SHOWN
from checker.report.meeting.document import meeting_document


@dataclass(frozen=True, slots=True)
class Choice:
    """Cars to choose from, and what stands over them."""

    title: str
    path: str
    cars: list[CarView]
    occasions: list[str]
    meeting_title: str
    acknowledged: str
    with_occasion: bool


def choose(
    room: WeighInRoom, request: Request, by: str, title: str, path: str, *, with_occasion: bool = False
) -> Response:
    """The page on which a car is chosen for what stands at `path`."""

    def asked(meeting: Meeting) -> Choice:
        document = meeting_document(meeting)
        cars = [one for one in car_views(document) if one.word != SHOWN[WITHDRAWN]]
        cars.sort(key=lambda car: (len(car.number), car.number))
        known = {at: None for car in meeting.day.cars.values() for at in (SCRUTINEERING, *car.occasions())}
        told = acknowledged(meeting, request.query_params.get("entry", ""))
        heading = document["meeting"]["title"]
        return Choice(title, path, cars, list(known), heading, told, with_occasion)

    choice = room.office.ask(asked)
    return official_page(
        request, "choose", by, choice.meeting_title, choice=choice, acknowledged=choice.acknowledged
    )
