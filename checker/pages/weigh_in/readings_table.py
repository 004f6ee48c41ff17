"""Readings from a table that a display or a spreadsheet wrote, read by its mapping; all of it is taken or nothing."""

from __future__ import annotations

from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import Response

from checker.meeting.session.session import Meeting
from checker.meeting.taking.importing import import_weighings
from checker.pages.serving.application import ServedPage, in_words
from checker.pages.serving.uploads import needed
from checker.pages.weigh_in.room import WeighInRoom, done, enter, for_officials, official_page, said


def pages(room: WeighInRoom) -> list[ServedPage]:
    """The form, and what became of a table."""
    return [for_officials(room, "/scales/table", _show, _take)]


def _show(room: WeighInRoom, request: Request, by: str) -> Response:
    before = room.office.ask(
        lambda meeting: [(one.number, one.content.file, one.content.rows) for one in meeting.day.imports]
    )
    return official_page(room, request, "table", by, before=before)


def _take(room: WeighInRoom, request: Request, form: FormData, by: str) -> Response:
    table, mapping = needed(form, "table", "the table"), needed(form, "mapping", "the mapping")
    told: list[str] = []

    def act(meeting: Meeting) -> None:
        taken = import_weighings(
            meeting, table, mapping, by, as_it_is=bool(said(form, "as_it_is")), again=said(form, "again")
        )
        told.extend(in_words(one) for one in taken.warnings)
        for number in dict.fromkeys(reading.car for reading in taken.readings):
            judgement = meeting.judge_and_record(meeting.car(number), by)
            told.extend(one.message for one in judgement.doubts)

    entry = enter(room, form, by, act)
    return done(room, request, by, entry, "Readings from a table", told, ("/scales/table", "Another table"))
