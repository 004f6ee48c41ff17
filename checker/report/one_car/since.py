"""What changed for a car since a report that was kept, or beside another set-up, as text."""

from __future__ import annotations

from checker.pack.model import ADVISORY
from checker.report.amounts import Data, in_system, shown, shown_difference
from checker.report.one_car.set_ups import set_ups_text
from checker.report.page import GREEN, RED, YELLOW, Page
from checker.report.wording import car_words, listed, outcome_word, put_caution

_ORDER = (
    ("worse", "Worse than then", RED),
    ("better", "Better than then", GREEN),
    ("changed", "Otherwise changed", YELLOW),
    ("added", "New clauses", ""),
    ("withdrawn", "Clauses that are no more", ""),
)
_COLUMN = 11


def since_text(document: Data, page: Page) -> None:
    earlier, now = document["earlier"], document["now"]
    beside = f"since {earlier['on']}" if document["set_ups"] is None else "in two set-ups"
    page.heading(f"{car_words(document)} {beside}")
    for label, key in (("judged for", "on"), ("edition", "edition")):
        page.labelled(label, _both(earlier[key], now[key]), 14, 2)
    page.labelled("bulletins", _both(_list(earlier["bulletins"]), _list(now["bulletins"])), 14, 2)
    for label, key in (("rules' file", "pack_sha256"), ("car's file", "car_sha256")):
        same = earlier[key] == now[key]
        page.labelled(label, "the same" if same else f"{earlier[key][:12]}, now {now[key][:12]}", 14, 2)
    if earlier["for"] != now["for"]:
        page.labelled("judged", _both(f"for an {earlier['for']}", f"for an {now['for']}"), 14, 2)
    if document["set_ups"] is not None:
        set_ups_text(document, page)
    elif earlier["what_if"] != now["what_if"]:
        page.labelled("what if", _both(_list(earlier["what_if"]), _list(now["what_if"])), 14, 2)
    for kind, title, colour in _ORDER:
        alone = document["set_ups"] is None
        found = [change for change in document["changes"] if change["change"] == kind and alone]
        if found:
            page.heading(title, colour)
        for change in found:
            _change(change, document, page)
    page.heading("Result")
    page.put(_result(document), 2)
    put_caution(page)


def _both(earlier: str, now: str) -> str:
    return now if earlier == now else f"{earlier}, now {now}"


def _list(names: list[str]) -> str:
    return listed(names) if names else "none"


def _change(change: Data, document: Data, page: Page) -> None:
    advice = " (advice only)" if change["severity"] == ADVISORY else ""
    by = change["by"]
    page.blank()
    page.row(f"{change['clause']} {change['title']}{advice}", shown_difference(by) if by else "", 2, 4)
    if change["outcome"]:
        words = [_outcome(change["outcome"][side], document[side]["for"]) for side in ("earlier", "now")]
        page.labelled("outcome", _arrow(*words), 4 + _COLUMN, 4)
    for key in ("value", "bound", "margin"):
        if change[key] and change["change"] not in ("added", "withdrawn"):
            words = [_amount(change[key][side], key) for side in ("earlier", "now")]
            if words[0] != words[1]:
                page.labelled(key, _arrow(*words), 4 + _COLUMN, 4)
    if change["condition"] and change["change"] not in ("added", "withdrawn"):
        states = [(change["condition"][side] or {}).get("state", "no state") for side in ("earlier", "now")]
        if states[0] != states[1]:
            page.labelled("in", _arrow(*states), 4 + _COLUMN, 4)
    if not any(change[key] for key in ("outcome", "value", "bound", "margin")):
        for words in change["words"]:
            page.labelled(
                words["what"],
                _arrow(words["earlier"] or "nothing", words["now"] or "nothing"),
                4 + _COLUMN,
                4,
            )
    if change["change"] == "worse" and change["act"]:
        page.labelled("do", change["act"], 4 + _COLUMN, 4)


def _arrow(earlier: str, now: str) -> str:
    return f"{earlier} then, {now} now"


def _outcome(outcome: str | None, to: str) -> str:
    return "no clause" if outcome is None else outcome_word(outcome, to)


def _amount(amount: Data | None, key: str) -> str:
    if amount is None:
        return "none"
    kind = f"{amount['kind'].replace('_', ' ')} " if key == "bound" else ""
    return f"{kind}{shown(in_system(amount, signed=key == 'margin'), signed=key == 'margin')}"


def _result(document: Data) -> str:
    number = len(document["changes"])
    if not number:
        told = (
            "Nothing has changed for this car: all" if document["set_ups"] is None else "By both set-ups all"
        )
        same = "as they did" if document["set_ups"] is None else "alike"
        return f"{told} {document['unchanged']} clauses come out {same}."
    same = document["unchanged"]
    told = f"{number} clause{'' if number == 1 else 's'} changed, {same} did not."
    words = {True: "complied", False: "did not comply", None: "was undecided"}
    present = {True: "complies", False: "does not comply", None: "is undecided"}
    then, now = document["earlier"]["complies"], document["now"]["complies"]
    if document["set_ups"] is not None:
        return f"{told} The first {present[then]}, the second {present[now]}."
    return f"{told} The car {words[then]} then and {present[now]} now."
