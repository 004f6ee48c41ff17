"""A car's form while it is open: the file, the rules, and what was last typed into it."""

from __future__ import annotations

from threading import RLock

from starlette.datastructures import FormData
from starlette.exceptions import HTTPException

from checker.pages.form.car_file import CarFile
from checker.pages.form.filling import filled_in
from checker.pages.form.inputs import Filled
from checker.pages.form.judging import JudgedForm, RulesAsked, judge
from checker.pages.form.making import form_of
from checker.pages.form.parts import CarForm
from checker.pages.form.taking import told_by
from checker.reading.document import Document
from checker.reading.problems import InputError, Problem
from checker.reading.quick_dataclasses import dataclass
from checker.reading.values import Plain
from checker.verdict.inspection import Inspection

_BESIDE = ("token", "state", "do", "what-if")
"""What a page sends that stands in no field of the car."""
_ASKED = "ask-"
"""What names of fields begin with that ask something beside the car."""


@dataclass(frozen=True, slots=True)
class SentForm:
    """What a page sent."""

    state: Document
    filled: Filled
    what_if: bool


@dataclass(frozen=True, slots=True)
class ReadForm:
    """What a page sent, of which all could be read."""

    inspection: Inspection
    document: Document


class OpenForm:
    """One car, open in the browser."""

    def __init__(self, file: CarFile, rules: RulesAsked) -> None:
        self.file = file
        self.rules = rules
        self.lock = RLock()
        self.draft: SentForm | None = None
        """What was last typed and not saved, so that a page that is loaded anew has it."""
        self._made: tuple[object, CarForm] | None = None

    def latest(self) -> SentForm:
        """What was typed and not saved, else what the file says now."""
        with self.lock:
            if self.draft is not None:
                return self.draft
            state = self.file.reread()
            return SentForm(state, self.shown(state), False)

    def sent(self, form: FormData) -> SentForm:
        """What stands in the fields of the page that was sent.

        Raises:
            HTTPException: 409, it was shown by an earlier run.
        """
        state = self.file.state(text_in(form, "state"))
        if state is None:
            raise HTTPException(409, "This page is of an earlier run. Load it anew; nothing was saved.")
        filled: dict[str, list[str]] = {}
        for name, value in form.multi_items():
            if isinstance(value, str) and name not in _BESIDE and not name.startswith(_ASKED):
                filled.setdefault(name, []).append(value.encode("utf-8", "replace").decode())
        return SentForm(state, filled, bool(text_in(form, "what-if")))

    def judged(self, sent: SentForm) -> JudgedForm:
        return judge(self.form_of(sent.state), sent.state, sent.filled, self.rules, what_if=sent.what_if)

    def told(self, sent: SentForm) -> dict[str, Plain]:
        """What the file is to say."""
        return told_by(self.form_of(sent.state), sent.state.data, sent.filled).data

    def form_of(self, state: Document) -> CarForm:
        """The form of the pack in force; made once."""
        pack = self.rules.in_force(state)
        with self.lock:
            if self._made is None or self._made[0] is not pack:
                self._made = (pack, form_of(pack))
            return self._made[1]

    def shown(self, state: Document) -> Filled:
        """What stands in the fields for what a file says."""
        found = filled_in(self.form_of(state).root, state.data)
        return {} if found is None else found.filled


def all_read(found: JudgedForm) -> ReadForm:
    """The same, where it can be judged.

    Raises:
        InputError: PG205, something cannot be read.
    """
    if found.inspection is None or found.document is None:
        told = [
            Problem("PG205", f"{one.name}: {one.words}" if one.name else one.words) for one in found.errors
        ]
        raise InputError(told or [Problem("PG205", "what stands in the form cannot be read")])
    return ReadForm(found.inspection, found.document)


def text_in(form: FormData, name: str) -> str:
    value = form.get(name)
    return value if isinstance(value, str) else ""
