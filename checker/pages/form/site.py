"""The pages of one car's form: the form with its verdict, and reports on what stands in it."""

from __future__ import annotations

from collections.abc import Callable

from starlette.applications import Starlette
from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from checker.pages.form.beginning import BeginPages
from checker.pages.form.car_file import CarFile, text_for
from checker.pages.form.doing import done
from checker.pages.form.filling import filled_in
from checker.pages.form.inputs import one_of
from checker.pages.form.judging import JudgedForm, RulesAsked
from checker.pages.form.open_form import OpenForm, SentForm, text_in
from checker.pages.form.reporting import ReportPages
from checker.pages.form.verdict import panel
from checker.pages.form.view import Viewing
from checker.pages.serving.application import ServedPage, Site, application, page
from checker.pages.serving.assets import read_assets
from checker.reading.problems import InputError, Problem
from checker.reading.whole_file import NotWrittenError

LARGEST_BYTES = 8 * 1024 * 1024
MOST_FIELDS = 100_000
_ROOM = "checker.pages.form"


class CarPages:
    """One car, open in the browser."""

    def __init__(self, file: CarFile, rules: RulesAsked) -> None:
        self._file = file
        self._open = OpenForm(file, rules)

    def site(self, hosts: frozenset[str], complain: Callable[[Exception], object]) -> Starlette:
        pages = [
            ServedPage("/", self.show, self.take),
            ServedPage("/judge", None, self.judged),
            *ReportPages(self._open).pages(),
            *BeginPages(self._open).pages(),
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
        draft = self._open.latest()
        notice = self._of_a_change(draft)
        if notice is None and "saved" in request.query_params:
            notice = ("good", f"Saved in {self._file.path}.")
        return self._page(request, draft, notice)

    def take(self, request: Request, form: FormData) -> Response:
        """A button of the form."""
        sent = self._open.sent(form)
        asked = text_in(form, "do")
        with self._open.lock:
            self._open.draft = sent
            if asked == "save":
                return self._save(request, sent)
            if asked == "beside":
                return self._save_beside(request, sent)
            if asked == "discard":
                self._open.draft = None
                return RedirectResponse("/", 303)
        filled, new = done(asked, sent.filled)
        changed = SentForm(sent.state, filled, sent.what_if)
        with self._open.lock:
            self._open.draft = changed
        return self._page(request, changed, self._of_a_change(sent), new)

    def judged(self, request: Request, form: FormData) -> Response:
        """The verdict alone, and what is said of fields, for the script."""
        sent = self._open.sent(form)
        with self._open.lock:
            draft = self._open.draft
            kept = draft.state if draft is not None else self._file.latest
            if kept is sent.state:  # else it was on its way while the file was saved
                self._open.draft = sent
        found = self._open.judged(sent)
        return page(
            request,
            "judged",
            panel=panel(found, self._open.form_of(sent.state)),
            remarks=found.remarks,
            notice=self._of_a_change(sent),
            is_changed=self._is_changed(sent, found),
        )

    # -- what they do ------------------------------------------------------------------------------------------

    def _save(self, request: Request, sent: SentForm) -> Response:
        try:
            self._file.save(sent.state, text_for(sent.state, self._open.told(sent)))
        except InputError as error:
            return self._page(request, sent, self._of_a_change(sent) or ("bad", _words(error.problems)))
        except NotWrittenError as error:
            return self._page(request, sent, ("bad", f"{error}. What you typed stands here still."))
        self._open.draft = None
        return RedirectResponse("/?saved", 303)

    def _save_beside(self, request: Request, sent: SentForm) -> Response:
        try:
            name = self._file.save_beside(text_for(sent.state, self._open.told(sent)))
        except InputError as error:
            return self._page(request, sent, ("bad", _words(error.problems)))
        except NotWrittenError as error:
            return self._page(request, sent, ("bad", f"{error}. What you typed stands here still."))
        self._open.draft = None
        return self._page(request, sent, ("good", f"Saved in {name}; {self._file.path} is as it was."))

    def _page(
        self, request: Request, sent: SentForm, notice: tuple[str, str] | None, new: str = ""
    ) -> Response:
        form = self._open.form_of(sent.state)
        found = self._open.judged(sent)
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
            kept=self._file.kept(),
            is_new=self._file.is_new,
            is_changed=self._is_changed(sent, found),
            what_if=sent.what_if,
            notice=notice,
            changed_outside=self._file.is_changed(sent.state),
            new=new,
        )

    def _is_changed(self, sent: SentForm, found: JudgedForm) -> bool:
        """Whether the form tells something else than the file."""
        return self._file.is_new or found.document is None or found.document.text != sent.state.text

    def _of_a_change(self, sent: SentForm) -> tuple[str, str] | None:
        if not self._file.is_changed(sent.state):
            return None
        told = f"{self._file.path} was changed by somebody else since this page was shown, so it is not written over."
        return ("bad", told)


def _words(problems: tuple[Problem, ...]) -> str:
    return " ".join(". ".join(filter(None, (one.message, one.hint))) for one in problems)
