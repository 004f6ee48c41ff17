"""The screen for the check of the pads."""

from __future__ import annotations

from checker.meeting.desk.pads import DONE, WEIGHT, ZEROS, PadsDesk
from checker.meeting.session.gear import doubts, notices
from checker.report.desk.figures import large
from checker.report.desk.wheels import wheel_words, wheels_drawn, with_cursor
from checker.report.page import GREEN, RED, YELLOW, Page
from checker.report.words.recorded import written
from checker.report.words.remarks import remark_words


def pads_screen(desk: PadsDesk, page: Page) -> str:
    """Draw it; what the keys do."""
    for check in desk.found:
        good = "good" if check.good else f"BAD: allowed {written(check.allowed)}"
        words = f"{wheel_words(check.pad)}: {written(check.shown)} for {written(check.applied)}, {good}"
        page.drawn(words, GREEN if check.good else RED)
    if desk.stage == WEIGHT:
        page.put("How heavy is the test weight, in kg?")
        for line in large(f"{desk.typed}_", page.width - 2):
            page.drawn(f"  {line}")
        return "Enter: on to the pads   Esc: leave"
    if desk.stage == DONE:
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
