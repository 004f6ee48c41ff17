"""The page of one inspection, or of several one after the other: what is on it, in the order that it is read."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from checker.kinds.judging.assessment import DISPENSATION, FAIL, NOT_SHOWN, PASS, TOO_CLOSE
from checker.report.amounts import Data, estimate_text
from checker.report.figure import Figure
from checker.report.figures.car import car_figure
from checker.report.figures.margins import margins_figure, measured
from checker.report.figures.window import window_figure
from checker.report.html.rendering import render
from checker.report.one_car.columns import doubt_words
from checker.report.one_car.columns import figure as margin_words
from checker.report.one_car.columns import figures as in_columns
from checker.report.one_car.not_met import error_words, item_words
from checker.report.one_car.sections import is_by_approval, is_told_as_advice
from checker.report.one_car.text import assumed_words
from checker.report.wording import (
    CAUTION,
    chance_words,
    counts_sentence,
    outcome_word,
    result_sentence,
    rules_words,
    times_in,
)

CLOSEST = 5
"""How many of the tightest margins stand at the head of a page."""
UNDECIDED = {"look": "open", "word": "UNDECIDED", "more": ""}


def inspection_page(documents: Sequence[Data]) -> str:
    """The page of inspections, each from its document alone."""
    cars = [car_view(document) for document in documents]
    first = documents[0]["car"]
    title = f"Car {first['number']} {first['name'] or ''}".strip() if len(cars) == 1 else f"{len(cars)} cars"
    return render("inspection", page={"title": f"{title}: inspection", "cars": cars}, caution=CAUTION)


def verdict_of(document: Data) -> dict[str, str]:
    """The result in a word, by `complies`."""
    complies, counts = document["complies"], document["counts"]
    if complies:
        return {"look": "met", "word": "COMPLIES", "more": ""}
    if complies is None:
        return UNDECIDED
    number = counts[FAIL]
    return {"look": "fails", "word": "FAILS", "more": f"{number} clause{'' if number == 1 else 's'}"}


def car_view(document: Data) -> dict[str, Any]:
    """What a page tells of one car."""
    drawable = measured(document)
    viewed = "an entrant’s own check" if document["for"] == "entrant" else "an official’s check"
    closest = drawable[:CLOSEST]
    return {
        "number": document["car"]["number"],
        "name": document["car"]["name"] or "",
        "rules": rules_words(document),
        "judged": f"for {document['on']}, {viewed}",
        "what_if": document["what_if"],
        "unplanned": document.get("unplanned"),
        "verdict": verdict_of(document),
        "answers": answers(document),
        "closest": margins_figure(closest, document["for"], "closest", "Closest to the limit")
        if closest
        else None,
        "sections": _sections(document),
        "figures": figures(document),
        "assumed": document["assumed"],
        "assumed_words": assumed_words(document),
        "counts": counts_sentence(document),
        "every": _every(document),
        "digests": _digests(document),
    }


def figures(document: Data) -> list[Figure]:
    """Every picture of an inspection."""
    layout, drawable = document["layout"], measured(document)
    drawn = [] if layout is None else [car_figure(layout, _moves(document)), window_figure(layout)]
    half = (len(drawable) + 1) // 2 if len(drawable) > CLOSEST else len(drawable)
    if drawable:
        drawn.append(margins_figure(drawable[:half], document["for"]))
    if drawable[half:]:
        drawn.append(
            margins_figure(drawable[half:], document["for"], "more", "Distance to each limit, continued")
        )
    return [one for one in drawn if one is not None]


def _moves(document: Data) -> list[Data]:
    """What is told to be done to the weights: for all clauses together, or for each."""
    together = document["together"]
    told = [o["acts"] for o in document["outcomes"] if o["outcome"] in (FAIL, TOO_CLOSE)]
    acts = together["acts"] if together is not None else [act for acts in told for act in acts]
    return [
        one
        for one in acts
        if one["do"] == "move" or (one["do"] == "add" and one["amount"]["unit"] in _MASSES)
    ]


_MASSES = ("kg", "lb")


def answers(document: Data) -> list[dict[str, str]]:
    """What is nearest, in which state, how sure, what to do."""
    by_number = {one["clause"]: one for one in document["outcomes"]}
    pressing = [by_number[number] for number in document["most_pressing"]]
    if not pressing:
        return [_answer("Result", result_sentence(document))]
    nearest = pressing[0]
    state = nearest["condition"]
    margin = margin_words(nearest) or outcome_word(nearest["outcome"], document["for"])
    told = f"{nearest['clause']} {nearest['title']}"
    compared = _read(nearest)
    found = [
        _answer(
            _FIRST.get(nearest["outcome"]) or _missing(document),
            f"{told}{': ' if compared else ''}{compared}",
            margin,
        )
    ]
    if state is not None:
        found.append(_answer("In which state", state["state"]))
    found.append(_answer("How sure", sure_words(nearest)))
    found.append(_answer("What to do", _to_do(document, pressing)))
    return found


def _answer(asked: str, told: str, large: str = "") -> dict[str, str]:
    return {"asked": asked, "told": told, "large": large}


_FIRST = {
    FAIL: "Fails by the most",
    TOO_CLOSE: "Too close to call",
    DISPENSATION: "By an approval",
    PASS: "Closest to its limit",
}


def _missing(document: Data) -> str:
    """What is lacking, as it is called by who is asked for it."""
    return outcome_word(NOT_SHOWN, document["for"]).capitalize()


def _read(outcome: Data) -> str:
    """Reading and limit, in digits that a race meeting can use."""
    reading, limit, _ = in_columns(outcome)
    return ", ".join(filter(None, (reading, limit, doubt_words(outcome)))) if reading and limit else ""


def sure_words(outcome: Data) -> str:
    """How sure an outcome is; a ± and a chance only where every reading behind it has a stated error."""
    uncertainty, exact = outcome["uncertainty"], outcome["taken_as_exact"]
    if uncertainty is None and not exact:
        return "Nothing measured goes into it" if outcome["margin"] is None else "Exact: as stated"
    told = []
    if uncertainty is not None:
        unit = f" {uncertainty['unit']}" if uncertainty["unit"] else ""
        open_by = f"{estimate_text(uncertainty['expanded'])}{unit}"
        often = times_in(uncertainty["covers"])
        told.append(f"{open_by} left open by the errors that are stated" if exact else f"±{open_by}, {often}")
    if outcome["probability"] is not None:
        told.append(chance_words(outcome["probability"]))
    if exact:
        told.append(f"{len(exact)} reading{'s' * (len(exact) > 1)} without a stated error taken as exact")
    return "; ".join(told)


def _to_do(document: Data, pressing: Sequence[Data]) -> str:
    together = document["together"]
    if together is not None and together["text"]:
        told = str(together["text"])
        return told[:1].upper() + told[1:]
    acts = [str(one["act"]) for one in pressing if one["outcome"] in (FAIL, TOO_CLOSE) and one["act"]]
    if acts:
        more = len(acts) - 1
        return acts[0][:1].upper() + acts[0][1:] + (f"; and {more} more below" if more else "")
    if any(one["outcome"] == NOT_SHOWN for one in pressing):
        return "State what is missing, below"
    return "Nothing has to be put right"


_SECTIONS = (
    (FAIL, "Put right", "fails"),
    (TOO_CLOSE, "Too close to call", "open"),
    (NOT_SHOWN, "", "open"),
)


def _sections(document: Data) -> list[dict[str, object]]:
    outcomes = document["outcomes"]
    counted = [o for o in outcomes if o["severity"] == "mandatory"]
    groups = [
        *(
            (title, look, [o for o in counted if o["outcome"] == outcome])
            for outcome, title, look in _SECTIONS
        ),
        ("By an approval", "", [o for o in counted if is_by_approval(o)]),
        ("Advisory only", "", [o for o in outcomes if is_told_as_advice(o)]),
    ]
    return [
        {
            "title": title or _missing(document),
            "look": look,
            "clauses": [_clause(o, document["for"]) for o in group],
        }
        for title, look, group in groups
        if group
    ]


def _clause(outcome: Data, to: str) -> dict[str, object]:
    """A clause that asks for attention."""
    if outcome["items"]:
        told = tuple(filter(None, (item_words(item, to) for item in outcome["items"])))
    else:
        found = (outcome["figures_tell"] and _read(outcome)) or outcome["text"]
        told = tuple(filter(None, (found, *outcome["not_shown"])))
    sure = error_words(outcome) if outcome["uncertainty"] is not None or outcome["taken_as_exact"] else ""
    state = outcome["condition"]["state"] if outcome["condition"] is not None else ""
    facts = (
        ("Do", outcome["act"]),
        ("Worst state", "; ".join(filter(None, (state, outcome["fuel_text"])))),
        ("How sure", sure),
        ("Then", "; ".join(filter(None, (outcome["penalty"], outcome["consequence"])))),
        ("Note", outcome["interpretation"]),
        ("Approval", outcome["approval"] or ""),
    )
    return {
        "number": outcome["clause"],
        "title": outcome["title"],
        "margin": margin_words(outcome),
        "told": told,
        "facts": [one for one in facts if one[1]],
    }


def _every(document: Data) -> dict[str, object]:
    return {
        "head": ("Clause", "Result", "Margin", "Found"),
        "rows": [
            (
                f"{o['clause']} {o['title']}",
                outcome_word(o["outcome"], document["for"]),
                margin_words(o),
                o["text"] or "; ".join(o["not_shown"]),
            )
            for o in document["outcomes"]
        ],
    }


def _digests(document: Data) -> str:
    told = [("pack", document["pack"]), ("car", document["car"])]
    told += [(name, document[name]) for name in ("readings", "gear") if document[name] is not None]
    digests = ", ".join(f"{name} {one['sha256'][:12]}" for name, one in told)
    return f"checker {document['checker']}; sha256 {digests}"
