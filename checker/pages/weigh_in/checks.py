"""Gauges, seals and papers: all that the procedure has officials look at on a car, in its order, each with a form."""

from __future__ import annotations

from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import Response

from checker.meeting.desk.checks import AS_IT_SHOULD, CheckItem, ChecksDesk, items_of, with_units
from checker.meeting.record.car_contents import Noted
from checker.meeting.record.car_day import CarDay
from checker.meeting.session.session import Meeting
from checker.meeting.session.stating import GO, NO_GO
from checker.meeting.taking.measuring import Finding, measure
from checker.pages.serving.application import ServedPage
from checker.pages.weigh_in.cars import choose
from checker.pages.weigh_in.room import WeighInRoom, entering, number_in, official_page, said
from checker.reading.problems import InputError

_GAUGES = (GO, NO_GO)


def pages(room: WeighInRoom) -> list[ServedPage]:
    return [entering(room, "/checks", _record, "/checks", "car", show=_show)]


def _show(room: WeighInRoom, request: Request, by: str) -> Response:
    car = request.query_params.get("car", "").strip()
    if not car:
        return choose(room, request, by, "Gauges and seals", "/checks")
    told = room.office.ask(lambda meeting: _round(meeting, car))
    return official_page(room, request, "checks", by, entry=request.query_params.get("entry", ""), round=told)


def _round(meeting: Meeting, number: str) -> dict[str, object]:
    """All that is looked at on a car."""
    car = meeting.car(number, taking_part=True)
    stations: dict[str, list[dict[str, object]]] = {}
    for item in items_of(meeting, car):
        stations.setdefault(item.step, []).append(_view(car, item))
    seen = meeting.day.number
    return {"car": car.number, "name": car.name, "seen": seen, "stations": list(stations.items())}


def _view(car: CarDay, item: CheckItem) -> dict[str, object]:
    """One thing that is looked at. A clause looked at as a whole has no fact; only what is measured has a unit."""
    found, entry = _found(car, item)
    unit = item.fact.unit.name if item.fact is not None and item.fact.unit is not None else ""
    name = item.fact.name if item.fact is not None else ""
    return {
        "clause": item.clause,
        "title": item.title,
        "fact": name,
        "named": name.partition(".")[2].replace("_", " "),
        "expected": item.expected,
        "unit": unit,
        "found": found,
        "entry": entry,
    }


def _found(car: CarDay, item: CheckItem) -> tuple[str, int]:
    """What was found so far, and by which entry."""
    if item.fact is not None:
        record = car.facts().get(item.fact.name)
        if record is None:
            return "", 0
        gauge = {GO: "a gauge went: ", NO_GO: "a gauge did not go: "}.get(record.content.gauge, "")
        return f"{gauge}{record.content.value}", record.number
    for noted in reversed(car.of(Noted)):
        content = noted.content
        if content.clause == item.clause and content.topic in ("seen", "defect"):
            return "as it should be" if content.topic == "seen" else f"defect: {content.text}", noted.number
    return "", 0


def _record(meeting: Meeting, form: FormData, by: str) -> None:
    desk = ChecksDesk(meeting, by)
    desk.fill(said(form, "car"))
    _raise(desk)
    desk.go_to_item(said(form, "clause"), said(form, "fact"))
    desk.seen = number_in(form, "seen")
    gauge, value = said(form, "gauge"), said(form, "value")
    fact, car = desk.item.fact, desk.car
    assert car is not None
    if gauge in _GAUGES and fact is not None:
        finding = Finding(car.number, fact.name, with_units(value, fact), gauge=gauge)
        measure(meeting, [finding], by, seen=desk.seen)
    else:
        desk.fill(AS_IT_SHOULD if said(form, "as_it_should") else value)
        _raise(desk)


def _raise(desk: ChecksDesk) -> None:
    if desk.problems:
        raise InputError(desk.problems)
