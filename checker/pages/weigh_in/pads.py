"""The check of the pads: nothing on them, then the test weight on each."""

from __future__ import annotations

from collections.abc import Callable

from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from checker.car.described.standard import WHEELS
from checker.meeting.session.gear import doubts, named_gear, read_mass
from checker.meeting.session.session import Meeting
from checker.meeting.taking.checking import check_gear, check_pads
from checker.pages.serving.application import ServedPage
from checker.pages.weigh_in.room import WeighInRoom, acknowledged, enter, for_officials, official_page, said
from checker.reading.quick_dataclasses import dataclass
from checker.report.amounts import Data
from checker.report.meeting.document import meeting_document

_Act = Callable[[Meeting, FormData, str], None]


@dataclass(frozen=True, slots=True)
class Pads:
    """What is known of the pads."""

    meeting_title: str
    gear: list[str]
    checks: list[Data]
    doubted: list[str]
    """Cars to be weighed again."""
    acknowledged: str


def pages(room: WeighInRoom) -> list[ServedPage]:
    """The check."""
    return [
        for_officials(
            room,
            "/pads",
            lambda request, by: _show(room, request, by),
            lambda _, form, by: _take(room, form, by, _all_pads),
        ),
        for_officials(room, "/pads/one", None, lambda _, form, by: _take(room, form, by, _one_pad)),
    ]


def _show(room: WeighInRoom, request: Request, by: str) -> Response:
    entry = request.query_params.get("entry", "")
    pads = room.office.ask(lambda meeting: _pads(meeting, entry))
    return official_page(
        request, "pads", by, pads.meeting_title, pads=pads, wheels=WHEELS, acknowledged=pads.acknowledged
    )


def _pads(meeting: Meeting, entry: str) -> Pads:
    document = meeting_document(meeting)
    names = [gear.name for gear in meeting.gear.values() if gear.weighs]
    usual = meeting.scales.name if meeting.scales else ""
    doubted = list(dict.fromkeys(doubt.car for doubt in doubts(meeting.day)))
    return Pads(
        document["meeting"]["title"],
        sorted(names, key=lambda name: name != usual),
        document["gear"],
        doubted,
        acknowledged(meeting, entry),
    )


def _take(room: WeighInRoom, form: FormData, by: str, act: _Act) -> Response:
    entry = enter(room, form, by, lambda meeting: act(meeting, form, by))
    return RedirectResponse(f"/pads?entry={entry}", 303)


def _all_pads(meeting: Meeting, form: FormData, by: str) -> None:
    gear = named_gear(meeting.gear, said(form, "gear"))
    applied = read_mass(said(form, "applied") or "0", gear)
    check_pads(meeting, gear, applied, {wheel: said(form, wheel) for wheel in WHEELS}, by)


def _one_pad(meeting: Meeting, form: FormData, by: str) -> None:
    gear = named_gear(meeting.gear, said(form, "gear"))
    pad, applied, shown = said(form, "pad"), said(form, "applied"), said(form, "shown")
    check_gear(meeting, gear, pad, applied, shown, by, said(form, "since"))
