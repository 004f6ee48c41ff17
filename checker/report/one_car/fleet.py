"""Several cars at a glance: a row each, grouped by result, the worst first, with the clause that presses most."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from checker.kinds.judging.assessment import FAIL, NOT_SHOWN, TOO_CLOSE
from checker.report.amounts import Data
from checker.report.one_car.columns import figures
from checker.report.one_car.identity import counts, figures_data, scale_text
from checker.report.one_car.pressing import most_pressing
from checker.report.page import YELLOW, Page
from checker.report.wording import car_words, put_caution, result_colour, state_word
from checker.verdict.inspection import Inspection, Outcome

_ORDER = (False, None, True)
_HEADS = ("result", "car", "name", "day", "clause", "title", "reading", "limit", "margin", "more")
_MANY = {False: "fail", None: "undecided", True: "comply"}
_LEFT_OUT: Sequence[tuple[str, ...]] = (
    (),
    ("title",),
    ("title", "limit"),
    ("title", "reading", "limit"),
)
"""Columns left out, from the widest page to the narrowest that has a table."""


def fleet_text(documents: Sequence[Data], unusable: Sequence[str], page: Page) -> None:
    """Print a summary of several inspections.

    Args:
        unusable: Names of the files that could not be judged; each is listed, so that none is overlooked.
    """
    days = sorted({document["on"] for document in documents})
    judged = f", judged for {days[0]}" if len(days) == 1 else ", each judged for its own day" if days else ""
    page.heading(f"{len(documents) + len(unusable)} cars{judged}")
    page.put(totals(documents, unusable))
    page.blank()
    by_result = sorted(
        documents, key=lambda one: (_ORDER.index(one["complies"]), -_standing(one), _in_hand(one))
    )
    dull = [name for name, told in (("day", len(days) > 1), ("more", any(map(_more, documents)))) if not told]
    table = [dict(zip(_HEADS, _HEADS, strict=True)), *map(_row, by_result)]
    styles = ["", *map(result_colour, by_result)]
    for without in _LEFT_OUT:
        names = [name for name in _HEADS if name not in (*without, *dull)]
        if documents and page.table([[row[name] for name in names] for row in table], styles=styles):
            break
    else:
        for document in by_result:
            _stacked(document, page, told_day=len(days) > 1)
    for name in unusable:
        page.put(f"not judged: {name}, which cannot be used", 0, 2, YELLOW)
    put_caution(page)


def row_document(inspection: Inspection) -> Data:
    """What `fleet_text` and the totals show of a car, so that of a large fleet no more is made and kept."""
    car, pressing = inspection.car, most_pressing(inspection.outcomes)[:1]
    return {
        "document": "inspection",
        "complies": inspection.complies,
        "counts": counts(inspection.outcomes),
        "what_if": list(inspection.what_if),
        "on": inspection.on.isoformat(),
        "car": {"number": car.number, "name": car.name or None},
        "most_pressing": pressing,
        "outcomes": [_brief_data(one) for one in inspection.outcomes if one.clause.number in pressing],
    }


def _brief_data(outcome: Outcome) -> Data:
    found = outcome.assessment
    return {
        "clause": outcome.clause.number,
        "title": outcome.clause.title,
        "outcome": found.outcome,
        **figures_data(found),
        "scale": scale_text(found),
    }


def _standing(document: Data) -> int:
    """How many clauses stand in the car's way."""
    counts = document["counts"]
    return int(counts[FAIL] or counts[TOO_CLOSE] + counts[NOT_SHOWN])


def _more(document: Data) -> int:
    """How many do beside the one that is told."""
    return max(_standing(document) - 1, 0) if not document["complies"] else 0


def _in_hand(document: Data) -> Fraction:
    """What is in hand at the clause that presses most, as a share of its limit: the least stands first."""
    worst = _worst(document)
    if worst is None or worst["scale"] is None:
        return Fraction(0)
    return Fraction(worst["margin"]["exact"]) / Fraction(worst["scale"])


def _worst(document: Data) -> Data | None:
    number = next(iter(document["most_pressing"]), "")
    return next((outcome for outcome in document["outcomes"] if outcome["clause"] == number), None)


def _row(document: Data) -> dict[str, str]:
    car, worst = document["car"], _worst(document)
    reading, limit, margin = figures(worst) if worst else ("", "", "")
    what_if = " (what if)" if document["what_if"] else ""
    more = _more(document)
    return {
        "result": state_word(document["complies"]).upper() + what_if,
        "car": car["number"] or "-",
        "name": car["name"] or "",
        "day": document["on"],
        "clause": worst["clause"] if worst else "",
        "title": worst["title"] if worst else "",
        "reading": reading,
        "limit": limit,
        "margin": margin,
        "more": f"and {more}" if more else "",
    }


def _stacked(document: Data, page: Page, *, told_day: bool) -> None:
    row = _row(document)
    words = car_words(document)
    day = f" on {document['on']}" if told_day else ""
    page.put(f"C{words[1:]}{day}: {row['result']}", 0, 2, result_colour(document))
    if row["clause"]:
        more = f"; {row['more']} more" if row["more"] else ""
        page.put(f"{row['clause']} {row['title']} {row['margin']}".rstrip() + more, 2, 4)


def totals(documents: Sequence[Data], unusable: Sequence[str]) -> str:
    """How many cars came to which result."""
    found = [document["complies"] for document in documents]
    told = [
        f"{found.count(result)} {state_word(result) if found.count(result) == 1 else _MANY[result]}"
        for result in _ORDER
        if result in found
    ]
    told += [f"{len(unusable)} not judged"] if unusable else []
    return f"{len(found) + len(unusable)} cars: {', '.join(told)}."
