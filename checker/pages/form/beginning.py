"""What files that are chosen in the page bring into a form: last season's declaration, or a list of parts."""

from __future__ import annotations

from hashlib import sha256

from starlette.datastructures import FormData
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from checker.meeting.tables.given import GivenFile
from checker.meeting.tables.mapping import TableMapping
from checker.meeting.tables.table import COMMA, POINT, TextTable
from checker.pages.form.doing import done
from checker.pages.form.filling import filled_in, parts_of
from checker.pages.form.inputs import NONE
from checker.pages.form.maker import label_of
from checker.pages.form.open_form import OpenForm, SentForm, text_in
from checker.pages.form.parts import Group, Growing
from checker.pages.form.parts_list import LIST, parts_table, read_how, read_parts, things_in
from checker.pages.serving.application import ServedPage, page
from checker.pages.serving.uploads import handed_one, needed
from checker.quantities.folding import fold
from checker.reading.strict_yaml import parse_document
from checker.reading.values import Plain

_SHOWN = 3
"""So many rows of a list are shown to choose its columns by."""


class BeginPages:
    """Files that are handed in for one open form."""

    def __init__(self, open_form: OpenForm) -> None:
        self._open = open_form
        self._given: dict[str, GivenFile] = {}
        """The list whose columns are being chosen, by its digest; one at a time."""

    def pages(self) -> list[ServedPage]:
        return [
            ServedPage("/begin", None, self.begin),
            ServedPage("/parts", None, self.parts),
            ServedPage("/parts-as", None, self.parts_as),
        ]

    def begin(self, _: Request, form: FormData) -> Response:
        """Begin a new car with what another's file says."""
        given = needed(form, "ask-begin", "a car’s file")
        state = parse_document(given.data, given.name, "CD")
        self._open.rules.in_force(state)
        with self._open.lock:
            self._open.file.begin_again(state.text)
            self._open.draft = None
        return RedirectResponse("/", 303)

    def parts(self, request: Request, form: FormData) -> Response:
        """A list of parts: taken at once where it says what its columns are, else these are asked for."""
        sent = self._open.sent(form)
        given = needed(form, "ask-parts", "a list of parts")
        known = self._open.rules.in_force(sent.state).vocabulary
        mapping = handed_one(form, "ask-mapping")
        how = TableMapping({}) if mapping is None else read_how(known, mapping)
        table = parts_table(given, how)
        things = things_in(known)
        guessed = [_guess(heading, things) for heading in table.heading]
        if how.columns or (all(guessed) and "name" in guessed):
            return self._added(sent, read_parts(known, table, how))
        digest = sha256(given.data).hexdigest()
        with self._open.lock:
            self._open.draft = sent
            self._given = {digest: given}
        columns = [
            (place, heading, guessed[place], _examples(table, place))
            for place, heading in enumerate(table.heading)
        ]
        words = [(thing, label_of(thing)) for thing in things]
        return page(
            request,
            "columns",
            file=given.name,
            rows=len(table.rows),
            columns=columns,
            things=words,
            more={"table": digest, "state": sent.state.sha256},
        )

    def parts_as(self, _: Request, form: FormData) -> Response:
        """The list, once its columns were chosen."""
        state = self._open.sent(form).state
        known = self._open.rules.in_force(state).vocabulary
        with self._open.lock:
            given, draft = self._given.get(text_in(form, "table")), self._open.draft
        if given is None or draft is None or draft.state is not state:
            raise HTTPException(
                409, "This list is not at hand any more: choose it again. Nothing was changed."
            )
        decimal = text_in(form, "decimal")
        plain = parts_table(given, TableMapping({}))
        columns = {
            thing: heading
            for place, heading in enumerate(plain.heading)
            if (thing := text_in(form, f"column-{place}")) in things_in(known)
        }
        if "name" not in columns:
            raise HTTPException(400, "Say which column tells what a part is called. Go back and choose it.")
        how = TableMapping(columns, decimal=decimal if decimal in (POINT, COMMA) else "")
        return self._added(draft, read_parts(known, plain, how))

    def _added(self, sent: SentForm, parts: list[Plain]) -> Response:
        """What stands in the form, with these components behind those that it has; not saved."""
        growing = next(one for one in self._open.form_of(sent.state).root.parts if one.key == LIST)
        assert isinstance(growing, Growing)
        entry = Group("", "", parts_of(growing, 0))
        filled = {name: texts for name, texts in sent.filled.items() if name != LIST + NONE}
        for part in parts:
            filled, here = done(f"add {LIST}", filled)
            found = filled_in(entry, part, here, 1)
            assert found is not None
            filled |= found.filled
        with self._open.lock:
            self._open.draft = SentForm(sent.state, filled, sent.what_if)
        return RedirectResponse("/", 303)


def _guess(heading: str, things: tuple[str, ...]) -> str:
    """What a column holds, by its heading; "" where that is not told."""
    return next((thing for thing in things if fold(heading) in (fold(thing), fold(label_of(thing)))), "")


def _examples(table: TextTable, column: int) -> str:
    told = [" ".join(row.cells[column].split()) for row in table.rows[:_SHOWN]]
    return "; ".join(filter(None, told))
