"""The screen for gauges, seals and papers: one thing at a time, with what it should be and what became of the last."""

from __future__ import annotations

from checker.meeting.desk.checks import AS_IT_SHOULD, DONE, ITEM, CheckItem, ChecksDesk
from checker.report.page import BOLD, GREEN, RED, YELLOW, Page
from checker.report.words.recorded import written

_BEFORE = 4
"""So many answered things stay in sight."""

_OUTCOMES = {"pass": ("met", GREEN), "fail": ("FAILS", RED)}


def checks_screen(desk: ChecksDesk, page: Page) -> str:
    """Draw it; what the keys do."""
    if desk.stage not in (ITEM, DONE):
        page.put("Which car?")
        page.drawn(f"> {desk.typed}_")
        return "Enter: take the car   Esc: leave"
    answered = [place for place in sorted(desk.answers) if place < desk.at]
    for place in answered[-_BEFORE:]:
        _answered(desk, place, page)
    if desk.stage == DONE:
        missing = [item for place, item in enumerate(desk.items) if place not in desk.answers]
        page.put(f"{len(desk.answers)} of {len(desk.items)} taken down.", style=BOLD)
        for item in missing[:6]:
            page.put(f"left for later: {_name(item)}", 2, 4, YELLOW)
        return "Enter: next car   Backspace: back   Esc: leave"
    item = desk.item
    page.put(f"{desk.at + 1} of {len(desk.items)}, {item.step}", style=BOLD)
    page.put(_name(item))
    if item.fact is not None and item.fact.about:
        page.put(item.fact.about, 2)
    if item.fact is not None and item.fact.measured_with:
        page.put(f"measured with {item.fact.measured_with}", 2)
    if item.expected:
        page.put(f"= {written(item.expected)}", 2, style=BOLD)
    page.drawn(f"> {desk.typed}_")
    as_it_should = "as it should be" if item.fact is None else "as shown above"
    equals = f"=: {as_it_should}   " if item.fact is None or item.expected else ""
    other = "words: a defect   " if item.fact is None else ""
    return f"{equals}{other}Enter alone: later   Backspace: back   Esc: leave"


def _name(item: CheckItem) -> str:
    what = f", {item.fact.name.partition('.')[2].replace('_', ' ')}" if item.fact is not None else ""
    unit = f" in {item.fact.unit.name}" if item.fact is not None and item.fact.unit else ""
    return f"{item.clause} {item.title}{what}{unit}"


def _answered(desk: ChecksDesk, place: int, page: Page) -> None:
    item, judgement = desk.items[place], desk.judgement
    outcomes = judgement.inspection.outcomes if judgement else ()
    outcome = next((str(o.outcome) for o in outcomes if o.clause.number == item.clause), "")
    word, colour = _OUTCOMES.get(outcome, ("open", YELLOW))
    answer = desk.answers[place]
    if answer == AS_IT_SHOULD:
        answer = written(item.expected) or "as it should be"
    page.row(f"{_name(item)}: {answer}", word, hang=2, style=colour)
