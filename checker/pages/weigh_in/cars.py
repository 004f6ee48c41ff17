"""Which car: the list from which every desk begins."""

from __future__ import annotations

from starlette.requests import Request
from starlette.responses import Response

from checker.meeting.record.car_contents import SCRUTINEERING
from checker.meeting.session.session import Meeting
from checker.meeting.standing.standing import WITHDRAWN
from checker.pages.weigh_in.board import car_views
from checker.pages.weigh_in.room import WeighInRoom, official_page
from checker.report.meeting.board import SHOWN
from checker.report.meeting.document import meeting_document


def choose(
    room: WeighInRoom, request: Request, by: str, title: str, path: str, *, with_occasion: bool = False
) -> Response:
    """The page on which a car is chosen for what stands at `path`."""

    def asked(meeting: Meeting) -> tuple[list[dict[str, str]], list[str]]:
        cars = [one for one in car_views(meeting_document(meeting)) if one["word"] != SHOWN[WITHDRAWN]]
        known = {at: None for car in meeting.day.cars.values() for at in (SCRUTINEERING, *car.occasions())}
        return sorted(cars, key=lambda car: (len(car["number"]), car["number"])), list(known)

    cars, occasions = room.office.ask(asked)
    choice: dict[str, object] = {"title": title, "path": path, "cars": cars, "occasions": occasions}
    choice["with_occasion"] = with_occasion
    return official_page(
        room, request, "choose", by, entry=request.query_params.get("entry", ""), choice=choice
    )
