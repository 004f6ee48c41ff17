"""Window cards: each car's number, and the code that leads to its slip."""

from __future__ import annotations

from starlette.requests import Request
from starlette.responses import Response

from checker.pages.serving.application import ServedPage
from checker.pages.weigh_in.room import WeighInRoom, for_officials, official_page
from checker.report.figures.code import code_figure


def pages(room: WeighInRoom) -> list[ServedPage]:
    """The cards, to be printed."""
    return [for_officials(room, "/cards", _show)]


def _show(room: WeighInRoom, request: Request, by: str) -> Response:
    cars = room.office.ask(
        lambda meeting: [(car.number, car.name) for car in meeting.day.cars.values() if not car.withdrawn]
    )
    addresses = [f"{room.address}/slip/{room.slip_code(number)}" for number, _ in cars]
    cards = [
        (number, name, address, code_figure(f"Slip of car {number}", address))
        for (number, name), address in zip(cars, addresses, strict=True)
    ]
    return official_page(room, request, "cards", by, cards=cards)
