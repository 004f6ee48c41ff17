"""Takes in a copy of the record that was carried on elsewhere; where both sides went on, it is shown and ruled on."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Mapping
from typing import Any

from starlette.datastructures import FormData
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import Response

from checker.meeting.record.contents import SIDES
from checker.meeting.record.rows import digest_of
from checker.meeting.session.session import Meeting
from checker.meeting.tables.given import GivenFile
from checker.meeting.taking.merging import NotRuledOn, SideRuling, TakenIn, merge
from checker.pages.serving.application import ServedPage
from checker.pages.serving.uploads import handed_one
from checker.pages.weigh_in.room import (
    WeighInRoom,
    done,
    enter,
    for_officials,
    number_in,
    official_page,
    said,
)
from checker.pages.weigh_in.uploads import LARGEST_RECORD_BYTES, as_record

_MOST_KEPT = 2
_BEGUN: dict[str, Any] = {"kept": "", "name": "", "differing": [], "ruled": {}, "sides": SIDES}


def pages(room: WeighInRoom) -> list[ServedPage]:
    """The form, which comes again with what is to be ruled on."""
    merging = _Merging()
    return [
        for_officials(room, "/record/merge", merging.show, merging.take, largest_bytes=LARGEST_RECORD_BYTES)
    ]


class _Merging:
    """Keeps what was sent until it is ruled on, so that nobody has to choose it again."""

    def __init__(self) -> None:
        self._kept: OrderedDict[str, GivenFile] = OrderedDict()

    def show(self, room: WeighInRoom, request: Request, by: str, **more: Any) -> Response:
        return official_page(room, request, "merge", by, **{**_BEGUN, **more})

    def take(self, room: WeighInRoom, request: Request, form: FormData, by: str) -> Response:
        given = handed_one(form, "record") or self._kept.get(said(form, "kept"))
        if given is None:
            raise HTTPException(
                400, "Choose the copy of the record, again if it was long ago. Nothing was entered."
            )
        rulings = _rulings(form)
        taken: list[TakenIn] = []

        def act(meeting: Meeting) -> None:
            with as_record(given) as path:
                taken.append(merge(meeting, by, path, rulings, called=given.name))

        try:
            entry = enter(room, form, by, act)
        except NotRuledOn as open_yet:
            differing = list(zip(open_yet.about, (one.message for one in open_yet.problems), strict=True))
            ruled = {about: ruling for about, ruling in rulings.items() if about not in open_yet.about}
            return self.show(
                room, request, by, kept=self._keep(given), name=given.name, differing=differing, ruled=ruled
            )
        told = [words for one in taken for words in _told(one, given.name)]
        return done(room, request, by, entry, "Merged", told, ("/record", "Record"))

    def _keep(self, given: GivenFile) -> str:
        digest = digest_of(given.data)
        self._kept[digest] = given
        while len(self._kept) > _MOST_KEPT:
            self._kept.popitem(last=False)
        return digest


def _rulings(form: FormData) -> Mapping[str, SideRuling]:
    return {
        said(form, f"about-{at}"): SideRuling(said(form, f"side-{at}"), said(form, f"reason-{at}"))
        for at in range(min(number_in(form, "rulings"), 500))
    }


def _told(taken: TakenIn, name: str) -> list[str]:
    left = f", {taken.left} of them not counting here" if taken.left else ""
    return [
        f"Parted after entry {taken.parted}; {taken.brought} entries of {name} taken in{left}.",
        "From now on work on with this record alone.",
    ]
