"""A weighing otherwise than by four wheels on the usual pads: by axle, side or total, on other gear, pads set so."""

from __future__ import annotations

from typing import Any
from urllib.parse import urlencode

from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from checker.car.gear.weighing import PADS
from checker.meeting.desk.conversation import MISTYPED
from checker.meeting.desk.scales import SAID_TO_BE_RIGHT
from checker.meeting.record.car_contents import SCRUTINEERING
from checker.meeting.session.session import Meeting
from checker.meeting.session.weighing_rules import DRIVER, WEAR
from checker.meeting.tables.mapping import LOADS
from checker.meeting.tables.scale_reading import ScaleReading
from checker.pages.serving.application import ServedPage
from checker.pages.weigh_in.room import (
    WeighInRoom,
    enter,
    for_officials,
    number_in,
    official_page,
    said,
    whole,
)
from checker.pages.weigh_in.scales import DoubtfulReading, weigh_as_typed, weighing_at

_TYPED = (*LOADS, "gear", "pads", "fuel", "driver", "tyres", "wear", "again", "reason")


def pages(room: WeighInRoom) -> list[ServedPage]:
    return [for_officials(room, "/scales/otherwise", _show, _take)]


def _show(room: WeighInRoom, request: Request, by: str) -> Response:
    asked = request.query_params
    corrects, car = whole(asked.get("corrects", "")), asked.get("car", "").strip()
    at = asked.get("occasion", "").strip() or SCRUTINEERING
    view = room.office.ask(lambda meeting: _form(meeting, car, at, corrects, {}, ()))
    return official_page(room, request, "otherwise", by, **view)


def _form(
    meeting: Meeting,
    number: str,
    occasion: str,
    corrects: int,
    typed: dict[str, str],
    doubts: tuple[str, ...],
) -> dict[str, Any]:
    """What may be chosen, and what is typed already."""
    if corrects:
        content = weighing_at(meeting, corrects).content
        number, occasion = content.car, content.occasion
        kept = {key: getattr(content, key) for key in ("gear", "pads", "fuel", "driver", "tyres", "wear")}
        typed = typed or {**content.loads, **kept, "reason": MISTYPED}
    car = meeting.car(number, taking_part=True)
    usual = meeting.scales.name if meeting.scales else ""
    names = [gear.name for gear in meeting.gear.values() if gear.weighs]
    view = {
        "car": car.number,
        "name": car.name,
        "occasion": occasion,
        "seen": meeting.day.number,
        "weighings": len(car.weighings(occasion)),
        "due": meeting.procedure.weighings_on(occasion == SCRUTINEERING),
        "gear": sorted(names, key=lambda name: name != usual),
        "corrects": corrects,
        "typed": {name: typed.get(name, "") for name in _TYPED},
        "doubts": doubts,
    }
    tyres = meeting.judge.declared(meeting.declaration(car)).tyre_sets
    words = {"pads": PADS, "driver": DRIVER, "tyres": list(tyres), "wear": WEAR}
    return {"form": view, "loads": LOADS, "words": words}


def _take(room: WeighInRoom, request: Request, form: FormData, by: str) -> Response:
    reading = _reading(form)

    try:
        entry = enter(room, form, by, lambda meeting: weigh_as_typed(meeting, reading, form, by))
    except DoubtfulReading as doubtful:
        typed = {name: said(form, name) for name in _TYPED}
        told = tuple(one.message for one in doubtful.problems)
        view = room.office.ask(
            lambda meeting: _form(meeting, reading.car, reading.occasion, reading.corrects, typed, told)
        )
        return official_page(room, request, "otherwise", by, **view)
    return RedirectResponse(f"/scales/verdict?{urlencode({'entry': entry})}", 303)


def _reading(form: FormData) -> ScaleReading:
    """What is typed; a fuel without a unit is in litres, as the field says."""
    fuel = said(form, "fuel")
    as_typed: dict[str, Any] = {
        name: said(form, name) for name in ("pads", "driver", "tyres", "wear", "again", "reason")
    }
    return ScaleReading(
        said(form, "car"),
        {name: load for name in LOADS if (load := said(form, name))},
        said(form, "occasion") or SCRUTINEERING,
        said(form, "gear"),
        fuel=f"{fuel} L" if fuel[-1:].isdigit() else fuel,
        confirmed=SAID_TO_BE_RIGHT if said(form, "right") else "",
        corrects=number_in(form, "corrects"),
        **as_typed,
    )
