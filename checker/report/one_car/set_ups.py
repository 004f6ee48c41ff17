"""Two set-ups of a car side by side: what is stated otherwise, and each clause's margin by both."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from checker.kinds.judging.assessment import FAIL, PASS, TOO_CLOSE
from checker.pack.model import ADVISORY
from checker.report.amounts import Data, in_system, shown, shown_difference
from checker.report.page import BOLD, RED, Page
from checker.report.wording import outcome_word
from checker.studies.one_car.set_ups import SetUpDifference

_COLUMN = 14


def set_ups_data(earlier: str, now: str, differs: Iterable[SetUpDifference]) -> Data:
    """The files of both, and all that is stated otherwise."""
    told = [{"name": one.name, "earlier": one.before, "now": one.now} for one in differs]
    return {"earlier": earlier, "now": now, "differs": told}


def set_ups_text(document: Data, page: Page) -> None:
    set_ups = document["set_ups"]
    for label, key in (("first", "earlier"), ("second", "now")):
        what_if = document[key]["what_if"]
        told = f"{set_ups[key]}{' with ' if what_if else ''}{', '.join(what_if)}"
        page.labelled(label, told, _COLUMN, 2)
    page.heading("Stated otherwise")
    rows = [(one["name"], one["earlier"] or "-", one["now"] or "-") for one in set_ups["differs"]]
    if rows:
        _table((("", "first", "second"), *rows), page)
    else:
        page.put("nothing", 2)
    page.heading("Margins")
    changes = document["changes"]
    if changes:
        margins = [(_clause(change), *_cells(change, document)) for change in changes]
        _table((("", "first", "second", "more"), *margins), page)
    for change in changes:
        fails = change["outcome"] is not None and change["outcome"]["now"] in (FAIL, TOO_CLOSE)
        if fails and change["act"]:
            page.labelled(f"{change['clause']} do", change["act"], _COLUMN, 2, RED)


def _clause(change: Data) -> str:
    return f"{change['clause']} {change['title']}" + (" (advice)" if change["severity"] == ADVISORY else "")


def _cells(change: Data, document: Data) -> tuple[str, str, str]:
    sides = [_cell(change, side, document[side]["for"]) for side in ("earlier", "now")]
    return sides[0], sides[1], shown_difference(change["by"]) if change["by"] else ""


def _cell(change: Data, side: str, to: str) -> str:
    """The margin, and what became of the clause where that is another or it is not met."""
    margin = change["margin"][side] if change["margin"] else None
    outcome = change["outcome"][side] if change["outcome"] else None
    if outcome is None and change["outcome"]:
        return "no clause"
    word = "" if outcome is None or (outcome == PASS and margin) else outcome_word(outcome, to)
    return (
        " ".join(filter(None, (shown(in_system(margin, signed=True), signed=True) if margin else "", word)))
        or "as before"
    )


def _table(rows: Sequence[Sequence[str]], page: Page) -> None:
    """In columns where they fit, else each row as a paragraph."""
    if page.table(rows, 2):
        return
    heads = rows[0][1:]
    for name, *cells in rows[1:]:
        page.put(name, 2, 4, BOLD)
        for head, cell in zip(heads, cells, strict=True):
            if cell:
                page.labelled(head, cell, _COLUMN, 4)
