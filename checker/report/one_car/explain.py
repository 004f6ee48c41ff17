"""One clause explained, as text."""

from __future__ import annotations

from checker.kinds.judging.assessment import NOT_APPLICABLE
from checker.report.amounts import Data, estimate_text, shown
from checker.report.one_car.columns import figure
from checker.report.one_car.not_met import clause_block
from checker.report.one_car.text import identity
from checker.report.page import BOLD, DIM, Page
from checker.report.wording import OUTCOME_COLOURS, outcome_word, put_caution

_ORIGINS = {
    "declared": "",
    "readings": "(an official's)",
    "default": "by default",
    "what-if": "(what if)",
}


def explanation_text(document: Data, page: Page) -> None:
    """Print an explanation's document on a page."""
    outcome, rule = document["outcome"], document["rule"]
    colour = OUTCOME_COLOURS.get(outcome["outcome"], "")
    identity(document, page, "", "")
    page.heading(f"Clause {outcome['clause']}: {outcome['title']}")
    page.put(rule["text"] or "The pack gives no wording.", 2)
    if outcome["interpretation"]:
        page.labelled("note", outcome["interpretation"], 8, 2)
    for one in outcome["interpretations"]:
        page.labelled("asked", f"{one['number']}, {one['asked']}: {one['question']}", 8, 2)
        answer = f"{one['by']}, {one['decided']}: {one['answer']}" if one["answer"] else "not answered yet"
        page.labelled("", answer, 8, 2)
    if rule["place"]:
        page.labelled("from", f"{rule['place']['file']}:{rule['place']['line']}", 8, 2)
    page.heading("Verdict", colour)
    if outcome["outcome"] != NOT_APPLICABLE:  # its text says so itself
        page.put(outcome_word(outcome["outcome"], document["for"]), 2, style=colour or BOLD)
    bare = {**outcome, "interpretation": "", "interpretations": []}
    clause_block(bare, page, min(12, 4 + len(outcome["clause"])), document["for"])
    parts = document["parts"]
    if rule["check"] and (len(parts) != 1 or parts[0]["check"] != rule["check"]):
        page.heading("The check")
        page.put(rule["check"], 2)
    for part in parts:
        _part(part, document, page, alone=len(parts) == 1)
    if document["other_parts"]:
        many = document["other_parts"]
        page.blank()
        page.put(f"{many} other part{'' if many == 1 else 's'} of this clause did not decide.", style=DIM)
    put_caution(page)


def _part(part: Data, document: Data, page: Page, *, alone: bool) -> None:
    """One check: its formulas with numbers in place, its margin, the weights and where all was read."""
    page.heading(part["item"] or ("Working" if alone else part["check"]), capitals=alone and not part["item"])
    if not alone and part["outcome"] != NOT_APPLICABLE:
        page.put(f"{outcome_word(part['outcome'], document['for'])} {figure(part)}".rstrip(), 2)
    if part["item"]:
        page.put(part["check"], 2)
    for working in part["workings"]:
        _working(working, page)
    if not part["workings"]:
        page.put(
            part["text"] or "; ".join(part["not_shown"]) or outcome_word(part["outcome"], document["for"]), 2
        )
    if figure(part):
        page.labelled("margin", figure(part), _COLUMN, 2)
    if part["uncertainty"] is not None:
        _uncertainty(part["uncertainty"], page)
    for weight in part["weights"]:
        _weight(weight, page)
    if part["read"]:
        page.blank()
        page.put("read from", 2, style=BOLD)
        for one in part["read"]:
            _origin(one, page)


_COLUMN = 15
_ROLES = {"limit": "measured", "at_least": "limit, min", "at_most": "limit, max", "exactly": "limit, exactly"}


def _working(working: Data, page: Page) -> None:
    """A formula as written, with its numbers in place, and what it gives; what is the same is said once."""
    result = (
        shown(working["result"]) if working["result"] else f"not known: {'; '.join(working['not_shown'])}"
    )
    if working["role"] == "tolerance" and working["result"] and working["result"]["exact"] == "0/1":
        return
    first, *more = dict.fromkeys((working["formula"], working["with_numbers"], result))
    page.labelled(_ROLES.get(working["role"]) or working["role"].replace("_", " "), first, _COLUMN, 2)
    for step in more:
        page.put(f"= {step}", _COLUMN, _COLUMN + 2)


def _uncertainty(uncertainty: Data, page: Page) -> None:
    """The standard uncertainty, what it is multiplied by, and its sources."""
    unit = f" {uncertainty['unit']}" if uncertainty["unit"] else ""
    standard, expanded = (f"{estimate_text(uncertainty[key])}{unit}" for key in ("standard", "expanded"))
    page.labelled("uncertainty", f"{standard}, times {uncertainty['k']:.3g} gives {expanded}", _COLUMN, 2)
    for part in uncertainty["contributions"]:
        page.put(f"{estimate_text(part['standard'])}{unit} {part['name']}", _COLUMN, _COLUMN + 2, DIM)


def _weight(weight: Data, page: Page) -> None:
    """How a weight is made up, as a sum to add up on paper."""
    page.blank()
    state = f", {weight['state']}" if weight["state"] else ""
    page.put(f"{weight['name']}{state}", 2, style=BOLD)
    for place, step in enumerate(weight["steps"]):
        page.row(step["words"], shown(step["weight"], signed=place > 0) or "not known", 4, 6)
    if len(weight["steps"]) > 1:
        page.row("together", shown(weight["sum"]) or "not known", 4, 6)


def _origin(one: Data, page: Page) -> None:
    """One value as it was written, by whom, with which instrument if the file names one, and where."""
    if one["written"] is None:
        page.put(f"{one['name']} is not stated", 4, 6, DIM)
        return
    gear = f", {one['instrument']}" if one["instrument_named"] else ""
    place, by = one["place"], _ORIGINS[one["origin"]]
    where = f"{place['file']}:{place['line']} {by}".rstrip() if place else by
    page.row(f"{_on_its_side(one['name'], one['written'])}{gear}", where, 4, 6, DIM)


_OTHER_SIDE = {
    "left_of_centre": "right_of_centre",
    "behind_front_axle": "ahead_of_front_axle",
    "behind_rear_axle": "ahead_of_rear_axle",
}


def _on_its_side(name: str, written: str) -> str:
    """A place below 0 is one to the other side, as people measure it."""
    owner, _, key = name.rpartition(".")
    if key in _OTHER_SIDE and written.startswith("-"):
        return f"{owner}.{_OTHER_SIDE[key]} {written.removeprefix('-')}"
    return f"{name} {written}"
