"""Interpretations that speak of clauses or days which are not there."""

from __future__ import annotations

from collections.abc import Iterator

from checker.pack.editions.beside import read_beside
from checker.pack.editions.finding import PackFolder
from checker.pack.editions.in_force import text_in_force
from checker.pack.editions.loading import read_pack_document
from checker.pack.lint.numbers import is_there, named_in
from checker.pack.model import Interpretation
from checker.quantities.folding import fold
from checker.reading.document import Document
from checker.reading.nearest import did_you_mean
from checker.reading.problems import InputError, Path, Problem


def astray(folder: PackFolder) -> Iterator[Problem]:
    """Interpretations of a day before or after all editions (644), of clauses that do not stand in the text then (602),
    and numbers in their words that no clause has (606, a warning)."""
    try:
        beside = read_beside(folder)
    except InputError as error:
        yield from error.problems
        return
    for place, one in enumerate(beside.interpretations):
        if beside.answers is not None:
            yield from _of_one(one, ("interpretations", place), beside.answers, folder)


def _of_one(one: Interpretation, path: Path, document: Document, folder: PackFolder) -> Iterator[Problem]:
    first = "decided" if one.decided else "asked"
    try:
        text = text_in_force(folder, one.first_day)
    except InputError:
        message = (
            f"interpretation {one.number} is of {one.first_day.isoformat()}, when no edition is in force"
        )
        yield Problem("PK644", message, document.span((*path, first)), hint="check its days")
        return
    numbers = list(text.consolidated.document.mapping(("clauses",)))
    listed = isinstance(document.get((*path, "clauses")), list)
    for place, number in enumerate(one.clauses):
        if number not in numbers:
            span = document.span((*path, "clauses", place) if listed else (*path, "clauses"))
            message = f"interpretation {one.number} is of clause {number}, which is not there on that day"
            yield Problem("PK602", message, span, did_you_mean(number, numbers), number)
    for key, words in (("question", one.question), ("answer", one.answer)):
        for start, named in named_in(words):
            if not is_there(named, numbers):
                span = document.span_within((*path, key), start, start + len(named))
                yield Problem("PK606", f"there is no clause {named}", span, warning=True)
    if one.settled_by:
        edition = str(text.edition.get(("edition",), ""))
        amended = next((e for name, e in _amended(folder) if fold(name) == fold(one.settled_by)), edition)
        if amended != edition:
            message = f"bulletin {one.settled_by} amends edition {amended}, and this is of edition {edition}"
            yield Problem(
                "PK643", message, document.span((*path, "settled_by")), hint="take another bulletin"
            )


def _amended(folder: PackFolder) -> Iterator[tuple[str, str]]:
    """Each bulletin's name, and the edition that it amends."""
    for file in folder.bulletins:
        document = read_pack_document(file)
        yield str(document.get(("bulletin",))), str(document.get(("amends", "edition")))
