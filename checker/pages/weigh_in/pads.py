"""The check of the pads: nothing on them, then the test weight on each."""

from __future__ import annotations

from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import Response

from checker.car.described.standard import WHEELS
from checker.meeting.session.gear import doubts, named_gear, read_mass
from checker.meeting.session.session import Meeting
from checker.meeting.taking.checking import check_gear, check_pads
from checker.pages.serving.application import ServedPage
from checker.pages.weigh_in.room import WeighInRoom, entering, official_page, said
from checker.report.meeting.document import meeting_document


def pages(room: WeighInRoom) -> list[ServedPage]:
    return [
        entering(room, "/pads", _all_pads, "/pads", show=_show),
        entering(room, "/pads/one", _one_pad, "/pads"),
    ]


def _show(room: WeighInRoom, request: Request, by: str) -> Response:
    pads = room.office.ask(_pads)
    entry = request.query_params.get("entry", "")
    return official_page(room, request, "pads", by, entry=entry, pads=pads, wheels=WHEELS)


def _pads(meeting: Meeting) -> dict[str, object]:
    """What is known of the pads, and the cars to be weighed again."""
    names = [gear.name for gear in meeting.gear.values() if gear.weighs]
    usual = meeting.scales.name if meeting.scales else ""
    return {
        "gear": sorted(names, key=lambda name: name != usual),
        "checks": meeting_document(meeting)["gear"],
        "doubted": list(dict.fromkeys(doubt.car for doubt in doubts(meeting.day))),
    }


def _all_pads(meeting: Meeting, form: FormData, by: str) -> None:
    gear = named_gear(meeting.gear, said(form, "gear"))
    applied = read_mass(said(form, "applied") or "0", gear)
    check_pads(meeting, gear, applied, {wheel: said(form, wheel) for wheel in WHEELS}, by)


def _one_pad(meeting: Meeting, form: FormData, by: str) -> None:
    gear = named_gear(meeting.gear, said(form, "gear"))
    pad, applied, shown = said(form, "pad"), said(form, "applied"), said(form, "shown")
    check_gear(meeting, gear, pad, applied, shown, by, said(form, "since"))
