"""The screens of the desks, from 40 columns up; each says everything in words and figures, colour only helps."""

from __future__ import annotations

from checker.kinds.judging.assessment import FAIL, PASS
from checker.meeting.desk.checks import AS_IT_SHOULD, DONE, ITEM, CheckItem, ChecksDesk
from checker.meeting.desk.conversation import Conversation
from checker.meeting.desk.pads import DONE as PADS_DONE
from checker.meeting.desk.pads import WEIGHT, ZEROS, PadsDesk
from checker.meeting.desk.scales import ScalesDesk
from checker.meeting.session.gear import doubts, notices
from checker.report.desk.figures import large
from checker.report.desk.scales import scales_screen
from checker.report.desk.wheels import wheel_words, wheels_drawn, with_cursor
from checker.report.page import BOLD, GREEN, RED, YELLOW, Page
from checker.report.wording import BENEFIT
from checker.report.words.recorded import written
from checker.report.words.remarks import remark_words


def desk_screen(desk: Conversation, page: Page) -> None:
    """The whole screen as it stands now."""
    car = desk.car
    name = f"CAR {car.number} {car.name}" if car else _TITLES[type(desk)]
    room = page.width - len(desk.by) - 2
    page.drawn(f"{name[:room]:<{room}}  {desk.by}", BOLD)
    page.drawn("=" * page.width)
    if desk.leaving:
        page.put("Leave the desk? What is not stored yet is lost.", style=YELLOW)
        keys = "Enter: leave   any other key: stay"
    elif isinstance(desk, ScalesDesk):
        keys = scales_screen(desk, page)
    elif isinstance(desk, ChecksDesk):
        keys = _checks(desk, page)
    else:
        assert isinstance(desk, PadsDesk)
        keys = _pads(desk, page)
    for problem in desk.problems:
        page.put(f"{problem.message}. {problem.hint}".strip(), style=YELLOW if problem.warning else RED)
    page.drawn("-" * page.width)
    page.put(keys.replace("   ", "; "))


_TITLES: dict[type[Conversation], str] = {
    ScalesDesk: "THE SCALES",
    ChecksDesk: "GAUGES, SEALS AND PAPERS",
    PadsDesk: "CHECK OF THE PADS",
}


def _pads(desk: PadsDesk, page: Page) -> str:
    """The check of the pads; what the keys do."""
    for check in desk.found:
        good = "good" if check.good else f"BAD: allowed {written(check.allowed)}"
        words = f"{wheel_words(check.pad)}: {written(check.shown)} for {written(check.applied)}, {good}"
        page.drawn(words, GREEN if check.good else RED)
    if desk.stage == WEIGHT:
        page.put("How heavy is the test weight, in kg?")
        for line in large(f"{desk.typed}_", page.width - 2):
            page.drawn(f"  {line}")
        return "Enter: on to the pads   Esc: leave"
    if desk.stage == PADS_DONE:
        cars = list(dict.fromkeys(doubt.car for doubt in doubts(desk.meeting.day)))
        if cars:
            page.put(f"In doubt, to be weighed again: cars {', '.join(cars)}.", style=RED)
        elif all(check.good for check in desk.found):
            page.put("All pads are within what they may be out.", style=GREEN)
        for notice in notices(desk.meeting.day, {desk.gear.name: desk.gear}):
            page.put(f"{'. '.join(remark_words(notice))}.", style=YELLOW)
        return "Enter: leave"
    asked = (
        "with nothing on it"
        if desk.stage == ZEROS
        else f"with the test weight of {desk.applied} on it, one after the other"
    )
    page.put(f"What each pad shows {asked}; pads by the wheel they are marked for.")
    wheels_drawn(page, with_cursor(desk.shown, desk.pad, desk.typed), desk.pad, "")
    return "Enter: next pad   Backspace: back   arrows: another pad   Esc: leave"


_BEFORE = 4
"""So many answered things stay in sight."""

_OUTCOMES = {"pass": ("met", GREEN), "fail": ("FAILS", RED)}


def _checks(desk: ChecksDesk, page: Page) -> str:
    """Gauges, seals and papers: one thing at a time, with what it should be and what became of the last."""
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
    found = next((o for o in outcomes if o.clause.number == item.clause), None)
    outcome, margin = (str(found.outcome), found.assessment.margin) if found is not None else ("", None)
    word, colour = _OUTCOMES.get(outcome, ("open", YELLOW))
    notes = desk.car.open_notes() if desk.car is not None else []
    has_defect = any((r.content.topic, r.content.clause) == ("defect", item.clause) for r in notes)
    if has_defect and outcome != FAIL:
        word, colour = "open defect", YELLOW
    answer = desk.answers[place]
    if answer == AS_IT_SHOULD:
        answer = written(item.expected) or "as it should be"
    page.row(f"{_name(item)}: {answer}", word, hang=2, style=colour)
    if outcome == PASS and margin is not None and margin.value < 0:
        page.put(BENEFIT, 2)
