"""What is printed or kept of the day: results, verification, weigh sheets, bundles, tables, the record itself; window
cards, each car's number and the code that leads to its slip.
"""

from __future__ import annotations

from datetime import time

from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import Response

from checker.meeting.session.session import Meeting
from checker.meeting.standing.bundle import gather
from checker.meeting.standing.verifying import verify
from checker.pages.serving.application import ServedPage
from checker.pages.weigh_in.room import LONGEST, WeighInRoom, for_officials, official_page
from checker.reading.patterns import pattern
from checker.report.figures.code import code_figure
from checker.report.html.sheet import Sheet, sheets_page
from checker.report.json_text import json_text
from checker.report.meeting.board import results_text
from checker.report.meeting.bundle import as_zip, bundle_files
from checker.report.meeting.export import TABLES, as_json, meeting_tables
from checker.report.meeting.handing_out import results_of
from checker.report.meeting.sheet import sheet_text
from checker.report.meeting.verification import verification_document, verification_text
from checker.report.page import Page
from checker.report.tables.text import DIALECTS, as_csv

_TEXT, _JSON, _HTML = "text/plain; charset=utf-8", "application/json", "text/html; charset=utf-8"
_ZIP, _CSV = "application/zip", "text/csv; charset=utf-8"
_XLSX = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"
_UNFIT = pattern(r"[^A-Za-z0-9._-]+")
_PAPER = 80
"""Columns of results as text."""


def pages(room: WeighInRoom) -> list[ServedPage]:
    """The page of papers, and each paper. Nothing is entered by asking for one."""

    papers = {
        "results": _results,
        "verification": _verification,
        "sheets": _sheets,
        "bundle": _bundle,
        "export": _export,
        "copy": _copy,
    }
    made = (for_officials(room, f"/record/{name}", show) for name, show in papers.items())
    return [for_officials(room, "/record", _show), *made, for_officials(room, "/cards", _cards)]


def _show(room: WeighInRoom, request: Request, by: str) -> Response:
    cars = room.office.ask(lambda meeting: [(car.number, car.name) for car in meeting.day.cars.values()])
    return official_page(room, request, "record", by, cars=cars, tables=list(TABLES), dialects=list(DIALECTS))


def _asked(request: Request, name: str) -> str:
    text = request.query_params.get(name, "").strip()
    if len(text) > LONGEST:
        raise HTTPException(400, f"A field holds at most {LONGEST} characters.")
    return text


def _file(name: str, data: str | bytes, kind: str) -> Response:
    """To be kept under a name of ours."""
    return Response(data, media_type=kind, headers={"content-disposition": f'attachment; filename="{name}"'})


# -- each paper ----------------------------------------------------------------------------------------------


def _results(room: WeighInRoom, request: Request, by: str) -> Response:
    hour, form = _asked(request, "at"), _asked(request, "as")
    try:
        at = time.fromisoformat(hour) if hour else None
    except ValueError:
        raise HTTPException(400, f"'{hour}' is no time of day; write it like 14:30.") from None
    document = room.office.apart(lambda meeting: results_of(meeting, at))
    if form == "json":
        return _file("results.json", json_text(document), _JSON)
    if form == "text":
        page = Page(_PAPER)
        results_text(document, page)
        return _file("results.txt", page.text(), _TEXT)
    sheet = Sheet()
    results_text(document, sheet)
    if form == "page":
        return _file("results.html", sheet.text(), _HTML)
    return official_page(room, request, "report", by, heading="Results", told=sheet.blocks)


def _verification(room: WeighInRoom, request: Request, by: str) -> Response:
    printed, quick = _asked(request, "hash"), bool(_asked(request, "quick"))

    title = room.office.ask(lambda meeting: meeting.day.opened.content.title)
    found = verify(room.office.day, [printed] if printed else [], recompute=not quick)
    sheet = Sheet()
    verification_text({**verification_document(found), "file": title}, sheet)
    return official_page(room, request, "report", by, heading="Verification", told=sheet.blocks)


def _sheets(room: WeighInRoom, request: Request, _: str) -> Response:
    number = _asked(request, "car")

    def drawn(meeting: Meeting) -> str:
        every = [car for car in meeting.day.cars.values() if not car.withdrawn]
        sheets = []
        for car in [meeting.car(number)] if number else every:
            sheets.append(Sheet())
            sheet_text(meeting, car, sheets[-1])
        return sheets_page(sheets)

    return _file("weigh-sheets.html", room.office.apart(drawn), _HTML)


def _bundle(room: WeighInRoom, request: Request, _: str) -> Response:
    def packed(meeting: Meeting) -> tuple[str, bytes]:
        meeting.refuse_unsound()
        car = meeting.car(_asked(request, "car"))
        name = f"car-{_UNFIT.sub('_', car.number)}"
        return name, as_zip(bundle_files(gather(meeting, car.number)), name)

    name, data = room.office.apart(packed)
    return _file(f"{name}.zip", data, _ZIP)


def _export(room: WeighInRoom, request: Request, _: str) -> Response:
    table, dialect = _asked(request, "table"), DIALECTS.get(_asked(request, "for") or "programs")
    if dialect is None or table not in (*TABLES, "json", "xlsx"):
        raise HTTPException(400, "There is no such table.")

    def written(meeting: Meeting) -> tuple[str, str | bytes, str]:
        meeting.refuse_unsound()
        if table == "json":
            return "day.json", as_json(meeting), _JSON
        made = meeting_tables(meeting)
        if table != "xlsx":
            return f"{table}.csv", as_csv(made[table], dialect), _CSV
        from checker.report.tables.workbook import as_xlsx

        return "day.xlsx", as_xlsx(made), _XLSX

    try:
        return _file(*room.office.apart(written))
    except ImportError:
        cure = "What writes workbooks is not installed here: pip install 'scrutineering-checker[sheets]'."
        raise HTTPException(501, cure) from None


def _copy(room: WeighInRoom, _: Request, __: str) -> Response:
    """The record as it stands, to be carried on elsewhere and merged."""
    data = room.office.apart(lambda meeting: bytes(meeting.store.database.serialize()))
    return _file("day.meeting", data, "application/octet-stream")


def _cards(room: WeighInRoom, request: Request, by: str) -> Response:
    cars = room.office.ask(
        lambda meeting: [(car.number, car.name) for car in meeting.day.cars.values() if not car.withdrawn]
    )
    addresses = [f"{room.address}/slip/{room.slip_code(number)}" for number, _ in cars]
    cards = [
        (number, name, address, code_figure(f"Slip of car {number}", address))
        for (number, name), address in zip(cars, addresses, strict=True)
    ]
    return official_page(room, request, "cards", by, cards=cards)
