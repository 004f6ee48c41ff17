"""What a form tells, judged: the verdict, and what cannot be read, with the field it stands in. Nothing is saved."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

from checker.car.declaration.loading import formula_of
from checker.car.described.vocabulary import ENTRANT
from checker.pack.editions.finding import PackFolder, find_pack, open_folder
from checker.pack.keeping.kept import pack_on
from checker.pack.model import Pack
from checker.pages.form.car_file import text_for
from checker.pages.form.inputs import Filled
from checker.pages.form.parts import CarForm
from checker.pages.form.taking import told_by
from checker.reading.document import Document
from checker.reading.paths import format_path
from checker.reading.problems import InputError, Path, Problem, Span
from checker.reading.quick_dataclasses import dataclass
from checker.reading.strict_yaml import parse_document
from checker.report.words.remarks import car_warnings
from checker.verdict.advice import advised
from checker.verdict.inspection import Inspection
from checker.verdict.run import day_for, inspect_document

_NO_EDITION = "PK620"


@dataclass(frozen=True, slots=True)
class Remark:
    """What is said of one field."""

    name: str
    """Of the field or the group; "" for the car as a whole."""
    words: str
    is_error: bool


@dataclass(frozen=True, slots=True)
class JudgedForm:
    """What came of it."""

    document: Document | None
    """What the file would say."""
    names: dict[Path, str]
    inspection: Inspection | None
    """None where something cannot be read."""
    remarks: tuple[Remark, ...]

    @property
    def errors(self) -> tuple[Remark, ...]:
        return tuple(one for one in self.remarks if one.is_error)


@dataclass(frozen=True, slots=True)
class RulesAsked:
    """Which rules the form is of."""

    pack: str | None
    """As it was asked for; None: that of the formula, wherever it is found."""
    on: str | None = None
    """The day asked for; None: the event's, else today."""

    def folder(self, document: Document) -> PackFolder:
        return open_folder(self.pack) if self.pack else find_pack(formula_of(document))

    def day(self, document: Document) -> date:
        return day_for(document, None, self.on)

    def in_force(self, document: Document) -> Pack:
        """The pack that a car's file is judged by.

        Raises:
            InputError: There is none, or it cannot be read.
        """
        return pack_on(self.folder(document), self.day(document))


def judge(
    form: CarForm, state: Document, filled: Filled, rules: RulesAsked, *, what_if: bool = False
) -> JudgedForm:
    """Judge the car as the form tells it.

    Args:
        state: What the file says.
        filled: What stands in the fields.
        what_if: As if the car had been changed since it was weighed, by what the form tells otherwise than the file:
            its weights move by the lever rules.
    """
    told = told_by(form, state.data, filled)
    document: Document | None = None
    try:
        document = parse_document(text_for(state, told.data).encode(), state.name, "CD")
        inspection = inspected(document, state if what_if else None, rules)
    except InputError as error:
        remarks = tuple(remark(one, document, told.names) for one in error.problems)
        return JudgedForm(document, told.names, None, remarks)
    warnings = (remark(one, document, told.names) for one in car_warnings(inspection.car))
    return JudgedForm(document, told.names, inspection, tuple(warnings))


def inspected(document: Document, weighed_as: Document | None, rules: RulesAsked) -> Inspection:
    """The car of a file, with what to do where it does not comply.

    Args:
        weighed_as: What the file said when the car was weighed; None where it has not been changed since.

    Raises:
        InputError: Something cannot be read.
    """
    judged = inspect_document(
        rules.in_force(document), document, rules.day(document), ENTRANT, weighed_as=weighed_as
    )
    return judged if judged.complies else advised(judged)


def remark(problem: Problem, document: Document | None, names: dict[Path, str]) -> Remark:
    """A problem at the field that it stands in, in the reader's words: what was read, what was wanted, the cure."""
    path: Path = ("event", "date") if problem.code == _NO_EDITION else ()
    if document is not None and problem.span is not None and problem.span.file == document.name:
        path = _path_at(document, problem.span)
    message = problem.message.removeprefix(f"{format_path(path)}: ").removeprefix("--set : ")
    words = ". ".join(part[:1].upper() + part[1:] for part in (message, problem.hint) if part)
    return Remark(name_of(path, names), words, not problem.warning)


def name_of(path: Path, names: Mapping[Path, str]) -> str:
    """The name of the field for a path of the data, or of the nearest group round it."""
    while path and path not in names:
        path = path[:-1]
    return names.get(path, "")


def _path_at(document: Document, span: Span) -> Path:
    """The path of the innermost value, or of its key, in which a place begins."""
    at = (span.line, span.column)
    path: Path = ()
    while True:
        inner = next((one for one in _inside(document, path) if _holds(document, one, at)), None)
        if inner is None:
            return path
        path = inner


def _inside(document: Document, path: Path) -> list[Path]:
    data = document.get(path)
    keys: list[str | int] = (
        list(data) if isinstance(data, dict) else list(range(len(data))) if isinstance(data, list) else []
    )
    return [(*path, key) for key in keys]


def _holds(document: Document, path: Path, at: tuple[int, int]) -> bool:
    key, value = document.key_span(path), document.span(path)
    return (key.line, key.column) <= at and at < max(
        (value.end_line, value.end_column), (key.end_line, key.end_column), (value.line, value.column + 1)
    )
