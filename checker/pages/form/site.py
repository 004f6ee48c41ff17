"""The pages of one car's form: the form with its verdict, and reports on what stands in it."""

from __future__ import annotations

from collections.abc import Callable
from threading import RLock
from typing import Any

from starlette.applications import Starlette
from starlette.datastructures import FormData
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from checker.pages.form.car_file import CarFile, text_for
from checker.pages.form.doing import done
from checker.pages.form.filling import filled_in
from checker.pages.form.inputs import Filled, one_of
from checker.pages.form.judging import JudgedForm, RulesAsked, judge
from checker.pages.form.making import form_of
from checker.pages.form.parts import CarForm
from checker.pages.form.reports import compared_sheet, conditions_sheet, inspection_data, plan_sheet
from checker.pages.form.taking import told_by
from checker.pages.form.verdict import panel
from checker.pages.form.view import Viewing
from checker.pages.serving.application import ServedPage, Site, application, page
from checker.pages.serving.assets import read_assets
from checker.reading.document import Document
from checker.reading.problems import InputError, Problem
from checker.reading.quick_dataclasses import dataclass
from checker.reading.whole_file import NotWrittenError
from checker.report.html.one_car import car_view
from checker.report.html.sheet import Sheet
from checker.report.wording import CAUTION

LARGEST_BYTES = 8 * 1024 * 1024
MOST_FIELDS = 100_000
_ROOM = "checker.pages.form"


@dataclass(frozen=True, slots=True)
class _Sent:
    """What a page sent."""

    state: Document
    filled: Filled
    what_if: bool


class CarPages:
    """One car, open in the browser."""

    def __init__(self, file: CarFile, rules: RulesAsked) -> None:
        self._file = file
        self._rules = rules
        self._lock = RLock()
        self._draft: _Sent | None = None
        """What was last typed and not saved, so that a page that is loaded anew has it."""
        self._made: tuple[object, CarForm] | None = None

    def site(self, hosts: frozenset[str], complain: Callable[[Exception], object]) -> Starlette:
        """The application."""
        reports = ("report", "conditions", "plan", "saved", "opened")
        pages = [
            ServedPage("/", self.show, self.take),
            ServedPage("/judge", None, self.judged),
            *(ServedPage(f"/{name}", None, getattr(self, name)) for name in reports),
        ]
        assets = read_assets(_ROOM, "form.css", "form.js", "places.js")
        return application(
            Site(
                pages,
                hosts,
                (_ROOM,),
                assets,
                largest_bytes=LARGEST_BYTES,
                most_fields=MOST_FIELDS,
                complain=complain,
            )
        )

    # -- pages -------------------------------------------------------------------------------------------------

    def show(self, request: Request) -> Response:
        """The form with what the file says, or with what was typed and not saved."""
        with self._lock:
            draft = self._draft
            if draft is None:
                state = self._file.reread()
                draft = _Sent(state, self._shown(state), False)
        notice = self._of_a_change(draft.state)
        if notice is None and "saved" in request.query_params:
            notice = ("good", f"Saved in {self._file.path}.")
        return self._page(request, draft, notice)

    def take(self, request: Request, form: FormData) -> Response:
        """A button of the form."""
        sent = self._sent(form)
        asked = _text(form, "do")
        with self._lock:
            self._draft = sent
            if asked == "save":
                return self._save(request, sent)
            if asked == "beside":
                return self._save_beside(request, sent)
            if asked == "discard":
                self._draft = None
                return RedirectResponse("/", 303)
        filled, new = done(asked, sent.filled)
        changed = _Sent(sent.state, filled, sent.what_if)
        with self._lock:
            self._draft = changed
        return self._page(request, changed, self._of_a_change(sent.state), new)

    def judged(self, request: Request, form: FormData) -> Response:
        """The verdict alone, and what is said of fields, for the script."""
        sent = self._sent(form)
        with self._lock:
            kept = self._draft.state if self._draft is not None else self._file.latest
            if kept is sent.state:  # else it was on its way while the file was saved
                self._draft = sent
        found = self._judge(sent)
        return page(
            request,
            "judged",
            panel=panel(found, self._form_of(sent.state)),
            remarks=found.remarks,
            notice=self._of_a_change(sent.state),
            is_changed=self._is_changed(sent, found),
        )

    def report(self, request: Request, form: FormData) -> Response:
        """The whole report."""
        document = inspection_data(self._inspected(form).inspection)
        car = car_view(document)
        title = f"Car {car['number']} {car['name']}".strip()
        return page(request, "inspection", page={"title": title, "cars": [car]}, caution=CAUTION)

    def conditions(self, request: Request, form: FormData) -> Response:
        return _sheet_page(request, conditions_sheet(self._inspected(form).inspection))

    def plan(self, request: Request, form: FormData) -> Response:
        found = self._inspected(form)
        return _sheet_page(request, plan_sheet(found.inspection, found.document, self._rules))

    def saved(self, request: Request, form: FormData) -> Response:
        """What stands in the form beside what is saved."""
        return self._compared(request, form, self._sent(form).state, "as saved")

    def opened(self, request: Request, form: FormData) -> Response:
        """The same beside what the file said when it was opened."""
        return self._compared(request, form, self._file.opened, "as opened")

    # -- what they do ------------------------------------------------------------------------------------------

    def _compared(self, request: Request, form: FormData, before: Document, words: str) -> Response:
        now = self._inspected(form).inspection
        shown = self._shown(before)
        then = _all_read(judge(self._form_of(before), before, shown, self._rules)).inspection
        sheet = compared_sheet(then, now, (words, "as it stands in the form"))
        return _sheet_page(request, sheet)

    def _save(self, request: Request, sent: _Sent) -> Response:
        try:
            text = text_for(sent.state, self._told(sent))
            self._file.save(sent.state, text)
        except InputError as error:
            return self._page(request, sent, self._of_a_change(sent.state) or ("bad", _words(error.problems)))
        except NotWrittenError as error:
            return self._page(request, sent, ("bad", f"{error}. What you typed stands here still."))
        self._draft = None
        return RedirectResponse("/?saved", 303)

    def _save_beside(self, request: Request, sent: _Sent) -> Response:
        try:
            name = self._file.save_beside(text_for(sent.state, self._told(sent)))
        except InputError as error:
            return self._page(request, sent, ("bad", _words(error.problems)))
        except NotWrittenError as error:
            return self._page(request, sent, ("bad", f"{error}. What you typed stands here still."))
        self._draft = None
        return self._page(request, sent, ("good", f"Saved in {name}; {self._file.path} is as it was."))

    def _page(self, request: Request, sent: _Sent, notice: tuple[str, str] | None, new: str = "") -> Response:
        form = self._form_of(sent.state)
        found = self._judge(sent)
        filling = filled_in(form.root, sent.state.data)
        viewing = Viewing(sent.filled, filling.aside if filling is not None else {}, found.remarks)
        return page(
            request,
            "form",
            form=form,
            root=viewing.whole(form.root),
            panel=panel(found, form),
            file=self._file.path,
            number=one_of(sent.filled, "car.number"),
            name=one_of(sent.filled, "car.name"),
            state=sent.state.sha256,
            is_new=self._file.is_new,
            is_changed=self._is_changed(sent, found),
            what_if=sent.what_if,
            notice=notice,
            changed_outside=self._file.is_changed(sent.state),
            new=new,
        )

    def _judge(self, sent: _Sent) -> JudgedForm:
        form = self._form_of(sent.state)
        return judge(form, sent.state, sent.filled, self._rules, what_if=sent.what_if)

    def _inspected(self, form: FormData) -> _Inspected:
        """What stands in the form, judged.

        Raises:
            InputError: Something cannot be read.
        """
        return _all_read(self._judge(self._sent(form)))

    def _told(self, sent: _Sent) -> Any:
        return told_by(self._form_of(sent.state), sent.state.data, sent.filled).data

    def _is_changed(self, sent: _Sent, found: JudgedForm) -> bool:
        """Whether the form tells something else than the file."""
        return self._file.is_new or found.document is None or found.document.text != sent.state.text

    def _form_of(self, state: Document) -> CarForm:
        """The form of the pack in force; made once."""
        pack = self._rules.in_force(state)
        with self._lock:
            if self._made is None or self._made[0] is not pack:
                self._made = (pack, form_of(pack))
            return self._made[1]

    def _shown(self, state: Document) -> Filled:
        found = filled_in(self._form_of(state).root, state.data)
        return {} if found is None else found.filled

    def _sent(self, form: FormData) -> _Sent:
        state = self._file.state(_text(form, "state"))
        if state is None:
            raise HTTPException(409, "This page is of an earlier run. Load it anew; nothing was saved.")
        filled: dict[str, list[str]] = {}
        for name, value in form.multi_items():
            if isinstance(value, str) and name not in ("token", "state", "do", "what-if"):
                filled.setdefault(name, []).append(value.encode("utf-8", "replace").decode())
        return _Sent(state, filled, bool(_text(form, "what-if")))

    def _of_a_change(self, state: Document) -> tuple[str, str] | None:
        if not self._file.is_changed(state):
            return None
        told = f"{self._file.path} was changed by somebody else since this page was shown, so it is not written over."
        return ("bad", told)


@dataclass(frozen=True, slots=True)
class _Inspected:
    inspection: Any
    document: Document


def _all_read(found: JudgedForm) -> _Inspected:
    if found.inspection is None or found.document is None:
        told = [
            Problem("PG205", f"{one.name}: {one.words}" if one.name else one.words) for one in found.errors
        ]
        raise InputError(told or [Problem("PG205", "what stands in the form cannot be read")])
    return _Inspected(found.inspection, found.document)


def _sheet_page(request: Request, sheet: Sheet) -> Response:
    return page(request, "sheets", title=sheet.title, sheets=[sheet])


def _text(form: FormData, name: str) -> str:
    value = form.get(name)
    return value if isinstance(value, str) else ""


def _words(problems: tuple[Problem, ...]) -> str:
    return " ".join(". ".join(filter(None, (one.message, one.hint))) for one in problems)
