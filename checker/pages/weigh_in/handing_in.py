"""What is handed in for the day: declarations, a list of entries, and what follows cars from the meeting before."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import nullcontext

from starlette.datastructures import FormData
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from checker.meeting.record.refusal import refusal
from checker.meeting.session.session import Meeting
from checker.meeting.tables.mapping import ENTRIES, read_mapping
from checker.meeting.taking.carrying import TakenOver, carry
from checker.meeting.taking.entering import Answer
from checker.meeting.taking.entering import enter as enter_cars
from checker.meeting.taking.entry_lists import Handed, read_entry_list, things
from checker.pages.serving.application import ServedPage, in_words, refused
from checker.pages.serving.uploads import handed, handed_one, needed
from checker.pages.weigh_in.room import WeighInRoom, done, enter, for_officials, said
from checker.pages.weigh_in.uploads import LARGEST_RECORD_BYTES, as_record
from checker.reading.problems import Span
from checker.reading.strict_yaml import parse_document


def pages(room: WeighInRoom) -> list[ServedPage]:
    """Each takes a form of the day's page."""
    return [
        for_officials(room, "/day/cars", None, _cars),
        for_officials(room, "/day/list", None, _list),
        for_officials(room, "/day/carry", None, _carry, largest_bytes=LARGEST_RECORD_BYTES),
    ]


# -- cars ----------------------------------------------------------------------------------------------------


def _cars(room: WeighInRoom, request: Request, form: FormData, by: str) -> Response:
    late = bool(said(form, "late"))
    given = [Handed(one.name, late, data=one.data) for one in handed(form, "declarations")]
    if not given:
        raise HTTPException(400, "Choose the declarations first. Nothing was entered.")
    return _enter(room, request, form, by, lambda _: given)


def _list(room: WeighInRoom, request: Request, form: FormData, by: str) -> Response:
    table, mapping = needed(form, "list", "the list"), handed_one(form, "mapping")
    beside = {one.name: one for one in handed(form, "declarations")}

    def find(name: str, span: Span) -> Handed:
        """A declaration that was sent with the list; nothing is looked for anywhere else."""
        one = beside.get(name.replace("\\", "/").rpartition("/")[2])
        if one is None:
            hint = "choose the declarations together with their list"
            raise refusal("MT303", f"the declaration '{name}' was not sent with the list", hint, span)
        return Handed(one.name, data=one.data)

    def read(meeting: Meeting) -> list[Handed]:
        how = None
        if mapping is not None:
            how = read_mapping(parse_document(mapping.data, mapping.name, "MT"), ENTRIES, things(meeting))
        return list(read_entry_list(meeting, table, bool(said(form, "late")), how, find))

    return _enter(room, request, form, by, read)


def _enter(
    room: WeighInRoom,
    request: Request,
    form: FormData,
    by: str,
    read: Callable[[Meeting], list[Handed]],
) -> Response:
    answers: list[Answer] = []

    def act(meeting: Meeting) -> None:
        answers[:] = enter_cars(meeting, read(meeting), by, said(form, "reason"))

    entry = enter(room, form, by, act)
    wrong = [answer for answer in answers if answer.problems]
    if not wrong:
        return RedirectResponse(f"/day?entry={entry}", 303)
    entered = ", ".join(answer.car for answer in answers if not answer.problems)
    told = [f"{answer.file}: {in_words(one)}" for answer in wrong for one in answer.problems]
    return refused(request, 422, "Not entered", [*told, f"Entered: {entered or 'none'}."])


# -- from the meeting before ---------------------------------------------------------------------------------


def _carry(room: WeighInRoom, request: Request, form: FormData, by: str) -> Response:
    before, results = handed_one(form, "before"), handed_one(form, "results")
    taken: list[TakenOver] = []

    def act(meeting: Meeting) -> None:
        with as_record(before) if before is not None else nullcontext("") as path:
            taken.append(carry(meeting, by, before=path, results=results))

    entry = enter(room, form, by, act)
    told = [words for one in taken for words in _taken_over(one)]
    return done(room, request, by, entry, "Taken over from the meeting before", told, ("/day", "The day"))


def _taken_over(taken: TakenOver) -> list[str]:
    told = [f"{len(taken.notes)} defects and seals, {len(taken.announced)} statements taken over."]
    if taken.not_entered:
        told.append(f"In the results, but not entered here: {', '.join(taken.not_entered)}.")
    return told
