"""A blank weigh sheet and an inspection card on paper, for the hour when the computer fails; typed in later."""

from __future__ import annotations

from checker.car.described.standard import WHEELS
from checker.meeting.desk.checks import CheckItem, items_of
from checker.meeting.record.car_day import CarDay
from checker.meeting.session.session import Meeting
from checker.reading.plain_text import printable, shortened
from checker.report.meeting.slip import IN_A_CODE
from checker.report.page import BOLD, DIM, SPACE, TICK, Page
from checker.report.wording import CAUTION
from checker.report.words.recorded import written
from checker.report.words.units import shown_in


def sheet_text(meeting: Meeting, car: CarDay, page: Page) -> None:
    """Both for one car: what is asked for in the procedure's order, what is declared, room for what is found."""
    opened = meeting.day.opened.content
    page.put(f"CAR {car.number} {car.name}".rstrip(), style=BOLD)
    page.put(f"{opened.title}, {opened.on}. Rules: {opened.pack} {opened.edition}.")
    _numbered(meeting, car, 1, page)
    _weighings(meeting, page)
    page.heading("Inspection card")
    items = items_of(meeting, car)
    for step in dict.fromkeys(item.step for item in items):
        asked = [item for item in items if item.step == step]
        page.heading(step)
        if page.draws:
            page.form([_HEAD, *(_cells(item, meeting) for item in asked)])
            continue
        for item in asked:
            _item(item, meeting, page)
    page.blank()
    _numbered(meeting, car, 2, page)
    page.put(f"Place and time: {SPACE}")
    page.sign("official", "entrant")
    page.blank()
    page.put(CAUTION)


def _numbered(meeting: Meeting, car: CarDay, sheet: int, page: Page) -> None:
    """Which sheet it is, in words and as a code: what is written on it goes back to that car of that record."""
    opened = meeting.day.opened.content
    page.put(
        f"Sheet {car.number}/{sheet}; typed in by: checker meeting weigh, checker meeting measure", style=DIM
    )
    title, number = (shortened(printable(one), IN_A_CODE) for one in (opened.title, car.number))
    page.code(
        "The entry that this sheet belongs to",
        f"{title}, {opened.on}\ncar {number}\nsheet {sheet}\nmeeting {opened.meeting}",
    )


def _weighings(meeting: Meeting, page: Page) -> None:
    procedure = meeting.procedure
    page.heading("Weigh sheet")
    for words in procedure.prepare:
        page.put(f"[ ] {words}", 2, 6)
    if page.draws:
        _weighing_form(meeting, page)
        return
    for what in (
        f"fuel {SPACE} L",
        "driver  [ ] out  [ ] aboard",
        f"tyres {SPACE}",
        "wear  [ ] new  [ ] worn",
    ):
        page.drawn(f"  {what}")
    for at in range(procedure.weighings_on(True)):
        page.put(f"weighing {at + 1}, pads {procedure.pads if at else 'as marked'}, in kg", 2, style=BOLD)
        for wheel in WHEELS:
            page.drawn(f"    {f'under the {wheel}'.replace('_', ' '):<23} {SPACE}")


def _weighing_form(meeting: Meeting, page: Page) -> None:
    procedure = meeting.procedure
    page.form(
        [
            ("as weighed", "found", ""),
            ("fuel on board", f"{SPACE} L", ""),
            ("driver out; if aboard, write it", SPACE, TICK),
            ("tyre set", SPACE, ""),
            ("tyres and brakes new; if worn, write it", SPACE, TICK),
        ]
    )
    names = [wheel.replace("_", " ") for wheel in WHEELS]
    rows = [
        (f"{at + 1}, pads {procedure.pads if at else 'as marked'}", *[f"{SPACE} kg"] * len(names))
        for at in range(procedure.weighings_on(True))
    ]
    page.form([("weighing", *names), *rows])


_HEAD = ("clause", "limit", "what", "declared", "found", "in order")


def _cells(item: CheckItem, meeting: Meeting) -> tuple[str, ...]:
    """A line of the inspection card."""
    clause = meeting.pack.clauses[item.clause]
    limit = clause.text or item.title
    if item.fact is None:
        return f"{item.clause} {item.title}", limit, "remark", "", SPACE, TICK
    shown = shown_in(item.fact.unit)
    unit = f" {shown.name}" if shown is not None else ""
    name = item.fact.name.partition(".")[2].replace("_", " ")
    declared = written(item.expected) if item.expected else ""
    return f"{item.clause} {item.title}", limit, name, declared, f"{SPACE}{unit}", TICK


def _item(item: CheckItem, meeting: Meeting, page: Page) -> None:
    clause = meeting.pack.clauses[item.clause]
    page.put(f"[ ] {item.clause} {item.title}", 2, 6, BOLD)
    if clause.text:
        page.put(clause.text, 6)
    if item.fact is None:
        page.drawn(f"      remark  {SPACE}{SPACE}")
        return
    shown = shown_in(item.fact.unit)
    unit = f" {shown.name}" if shown is not None else ""
    name = item.fact.name.partition(".")[2].replace("_", " ")
    declared = f"declared {written(item.expected)}, " if item.expected else ""
    page.put(f"{name}: {declared}found", 6)
    page.drawn(f"      {SPACE}{unit}")
