"""Several cars at a glance: a row each, with its result and the clause that presses most."""

from __future__ import annotations

from collections.abc import Sequence

from checker.report.amounts import Data
from checker.report.one_car.text import figure
from checker.report.page import DIM, YELLOW, Page
from checker.report.wording import CAUTION, car_words, result_colour

_HEADS = ("car", "name", "result", "clause", "margin", "title")


def fleet_text(documents: Sequence[Data], unusable: Sequence[str], page: Page) -> None:
    """Print a summary of several inspections.

    Args:
        unusable: Names of the files that could not be judged; each is listed, so that none is overlooked.
    """
    days = sorted({document["on"] for document in documents})
    judged = f", judged for {days[0]}" if len(days) == 1 else ", each judged for its own day" if days else ""
    page.heading(f"{len(documents) + len(unusable)} cars{judged}")
    rows = [_HEADS, *(_row(document) for document in documents)]
    if len(days) > 1:
        on = ("day", *(document["on"] for document in documents))
        rows = [(*row[:2], day, *row[2:]) for row, day in zip(rows, on, strict=True)]
    narrower = [row[:-1] for row in rows]
    if documents and not (page.table(rows) or page.table(narrower)):
        for document in documents:
            _stacked(document, page, told_day=len(days) > 1)
    for name in unusable:
        page.put(f"not judged: {name}, which cannot be used", 0, 2, YELLOW)
    page.blank()
    page.put(totals(documents, unusable))
    page.blank()
    page.put(CAUTION, style=DIM)


def result_word(document: Data) -> str:
    """The result in a word or two."""
    complies = document["complies"]
    return "not settled" if complies is None else "complies" if complies else "fails"


def _row(document: Data) -> tuple[str, ...]:
    car = document["car"]
    result = result_word(document) + (" (what if)" if document["what_if"] else "")
    number = next(iter(document["most_pressing"]), "")
    worst = next((o for o in document["outcomes"] if o["clause"] == number), None)
    if worst is None:
        return (car["number"] or "-", car["name"] or "", result, "", "", "")
    return (car["number"] or "-", car["name"] or "", result, number, figure(worst), worst["title"])


def _stacked(document: Data, page: Page, *, told_day: bool) -> None:
    _, _, result, number, margin, title = _row(document)
    words = car_words(document)
    day = f" on {document['on']}" if told_day else ""
    page.put(f"C{words[1:]}{day}: {result}", 0, 2, result_colour(document))
    if number:
        page.put(f"{number} {title} {margin}".rstrip(), 2, 4)


def totals(documents: Sequence[Data], unusable: Sequence[str]) -> str:
    """How many cars came to which result."""
    found = [result_word(document) for document in documents]
    told = [
        f"{found.count(word)} {word if found.count(word) == 1 else many}"
        for word, many in (("complies", "comply"), ("fails", "fail"), ("not settled", "not settled"))
        if word in found
    ]
    told += [f"{len(unusable)} not judged"] if unusable else []
    return f"{len(found) + len(unusable)} cars: {', '.join(told)}."
