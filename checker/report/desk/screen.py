"""The screens of the desks, from 40 columns up; each says everything in words and figures, colour only helps."""

from __future__ import annotations

from checker.meeting.desk.checks import ChecksDesk
from checker.meeting.desk.conversation import Conversation
from checker.meeting.desk.pads import PadsDesk
from checker.meeting.desk.scales import ScalesDesk
from checker.report.desk.checks import checks_screen
from checker.report.desk.pads import pads_screen
from checker.report.desk.scales import scales_screen
from checker.report.page import BOLD, RED, YELLOW, Page


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
        keys = checks_screen(desk, page)
    else:
        assert isinstance(desk, PadsDesk)
        keys = pads_screen(desk, page)
    for problem in desk.problems:
        page.put(f"{problem.message}. {problem.hint}".strip(), style=YELLOW if problem.warning else RED)
    page.drawn("-" * page.width)
    page.put(keys.replace("   ", "; "))


_TITLES: dict[type[Conversation], str] = {
    ScalesDesk: "THE SCALES",
    ChecksDesk: "GAUGES, SEALS AND PAPERS",
    PadsDesk: "CHECK OF THE PADS",
}
