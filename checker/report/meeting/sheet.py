"""A blank weigh sheet and an inspection card on paper, for the hour when the computer fails; typed in later."""

from __future__ import annotations

from checker.car.described.standard import WHEELS
from checker.meeting.desk.checks import CheckItem, items_of
from checker.meeting.record.car_day import CarDay
from checker.meeting.session.session import Meeting
from checker.report.page import BOLD, Page
from checker.report.wording import CAUTION
from checker.report.words.recorded import written
from checker.report.words.units import shown_in

_SPACE = "_" * 12


def sheet_text(meeting: Meeting, car: CarDay, page: Page) -> None:
    """Both for one car: what is asked for in the procedure's order, what is declared, room for what is found."""
    opened = meeting.day.opened.content
    page.put(f"CAR {car.number} {car.name}".rstrip(), style=BOLD)
    page.put(f"{opened.title}, {opened.on}. Rules: {opened.pack} {opened.edition}.")
    _weighings(meeting, page)
    items = items_of(meeting, car)
    for step in dict.fromkeys(item.step for item in items):
        page.heading(step)
        for item in items:
            if item.step == step:
                _item(item, meeting, page)
    page.blank()
    for line in ("official", "time", "entrant"):
        page.put(f"{line:<9} {_SPACE}{_SPACE}", 2)
    page.blank()
    page.put(CAUTION)


def _weighings(meeting: Meeting, page: Page) -> None:
    procedure = meeting.procedure
    page.heading("Weigh sheet")
    for words in procedure.prepare:
        page.put(f"[ ] {words}", 2, 6)
    for what in (
        f"fuel {_SPACE} L",
        "driver  [ ] out  [ ] aboard",
        f"tyres {_SPACE}",
        "wear  [ ] new  [ ] worn",
    ):
        page.drawn(f"  {what}")
    for at in range(procedure.weighings_on(True)):
        page.put(f"weighing {at + 1}, pads {procedure.pads if at else 'as marked'}, in kg", 2, style=BOLD)
        for wheel in WHEELS:
            page.drawn(f"    {f'under the {wheel}'.replace('_', ' '):<23} {_SPACE}")


def _item(item: CheckItem, meeting: Meeting, page: Page) -> None:
    clause = meeting.pack.clauses[item.clause]
    page.put(f"[ ] {item.clause} {item.title}", 2, 6, BOLD)
    if clause.text:
        page.put(clause.text, 6)
    if item.fact is None:
        page.drawn(f"      remark  {_SPACE}{_SPACE}")
        return
    shown = shown_in(item.fact.unit)
    unit = f" {shown.name}" if shown is not None else ""
    name = item.fact.name.partition(".")[2].replace("_", " ")
    declared = f"declared {written(item.expected)}, " if item.expected else ""
    page.put(f"{name}: {declared}found", 6)
    page.drawn(f"      {_SPACE}{unit}")
