"""Pages that report on what stands in the form, alone or beside what stood in it earlier."""

from __future__ import annotations

from starlette.datastructures import FormData
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import Response

from checker.meeting.tables.given import GivenFile
from checker.pages.form.judging import inspected
from checker.pages.form.open_form import OpenForm, ReadForm, all_read, text_in
from checker.pages.form.reports import (
    compared_sheet,
    conditions_sheet,
    inspection_data,
    plan_sheet,
    since_report_sheet,
)
from checker.pages.serving.application import ServedPage, page
from checker.pages.serving.uploads import handed_one
from checker.reading.document import Document
from checker.reading.strict_yaml import parse_document
from checker.report.html.one_car import car_view
from checker.report.html.sheet import Sheet
from checker.report.one_car.earlier import is_report, other_formula, read_report
from checker.report.wording import CAUTION
from checker.verdict.inspection import Inspection

_NOW = "as it stands in the form"


class ReportPages:
    """Reports on one open form."""

    def __init__(self, open_form: OpenForm) -> None:
        self._open = open_form

    def pages(self) -> list[ServedPage]:
        names = ("report", "conditions", "plan", "since")
        return [ServedPage(f"/{name}", None, getattr(self, name)) for name in names]

    def report(self, request: Request, form: FormData) -> Response:
        document = inspection_data(self._read(form).inspection)
        car = car_view(document)
        title = f"Car {car['number']} {car['name']}".strip()
        return page(request, "inspection", page={"title": title, "cars": [car]}, caution=CAUTION)

    def conditions(self, request: Request, form: FormData) -> Response:
        return _sheet_page(request, conditions_sheet(self._read(form).inspection))

    def plan(self, request: Request, form: FormData) -> Response:
        found = self._read(form)
        return _sheet_page(request, plan_sheet(found.inspection, found.document, self._open.rules))

    def since(self, request: Request, form: FormData) -> Response:
        """What stands in the form beside a file that was chosen, else beside what the car's own file said earlier."""
        given = handed_one(form, "ask-since-file")
        now = self._read(form).inspection
        if given is not None:
            return _sheet_page(request, self._since_file(given, now))
        asked = text_in(form, "ask-since")
        kept = {state.sha256: (state, words) for state, words in reversed(self._open.file.kept())}
        if asked not in kept:
            raise HTTPException(400, "Choose what to compare with first.")
        state, words = kept[asked]
        return _sheet_page(request, compared_sheet(self._inspected(state), now, (words, _NOW)))

    def _since_file(self, given: GivenFile, now: Inspection) -> Sheet:
        """Beside a report that was kept, or the file of this car or of another set-up.

        Raises:
            InputError: It cannot be read, or is by another formula.
        """
        if is_report(given.name, given.data):
            report = read_report(given.name, now.car.number, now.pack.name, given.data)
            return since_report_sheet(report, now)
        then = self._inspected(parse_document(given.data, given.name, "CD"))
        if then.pack.name != now.pack.name:
            raise other_formula(given.name, then.pack.name, now.pack.name)
        return compared_sheet(then, now, (given.name, _NOW))

    def _inspected(self, state: Document) -> Inspection:
        """A file as it is, judged."""
        return inspected(state, None, self._open.rules)

    def _read(self, form: FormData) -> ReadForm:
        return all_read(self._open.judged(self._open.sent(form)))


def _sheet_page(request: Request, sheet: Sheet) -> Response:
    return page(request, "sheets", title=sheet.title, sheets=[sheet])
