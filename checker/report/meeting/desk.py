"""The screen at the scales: four pads in figures that can be read at arm's length, and the verdict in block letters.

It fits 80 columns and 24 lines and says everything in words and figures; colour is only ever added on top.
"""

from __future__ import annotations

from checker.car.described.standard import WHEELS
from checker.kinds.judging.assessment import NOT_SHOWN, TOO_CLOSE
from checker.meeting.session.judging import NO, YES
from checker.meeting.taking.desk import CAR, FUEL, PADS, REASON, VERDICT, Desk
from checker.report.meeting.document import margin_words
from checker.report.page import GREEN, RED, YELLOW, Page

ROWS = 5
"""Height of a figure."""

_FONT = {
    "0": (" ### ", "#   #", "#   #", "#   #", " ### "),
    "1": ("  #  ", " ##  ", "  #  ", "  #  ", " ### "),
    "2": ("#### ", "    #", " ### ", "#    ", "#####"),
    "3": ("#### ", "    #", " ### ", "    #", "#### "),
    "4": ("#  # ", "#  # ", "#####", "   # ", "   # "),
    "5": ("#####", "#    ", "#### ", "    #", "#### "),
    "6": (" ### ", "#    ", "#### ", "#   #", " ### "),
    "7": ("#####", "   # ", "  #  ", " #   ", " #   "),
    "8": (" ### ", "#   #", " ### ", "#   #", " ### "),
    "9": (" ### ", "#   #", " ####", "    #", " ### "),
    ".": ("  ", "  ", "  ", "  ", "##"),
    "_": ("     ", "     ", "     ", "     ", "#####"),
    "-": ("     ", "     ", "#####", "     ", "     "),
    "A": (" ### ", "#   #", "#####", "#   #", "#   #"),
    "C": (" ####", "#    ", "#    ", "#    ", " ####"),
    "E": ("#####", "#    ", "#### ", "#    ", "#####"),
    "F": ("#####", "#    ", "#### ", "#    ", "#    "),
    "I": ("###", " # ", " # ", " # ", "###"),
    "L": ("#    ", "#    ", "#    ", "#    ", "#####"),
    "M": ("#   #", "## ##", "# # #", "#   #", "#   #"),
    "N": ("#   #", "##  #", "# # #", "#  ##", "#   #"),
    "O": (" ### ", "#   #", "#   #", "#   #", " ### "),
    "P": ("#### ", "#   #", "#### ", "#    ", "#    "),
    "S": (" ####", "#    ", " ### ", "    #", "#### "),
    " ": ("  ", "  ", "  ", "  ", "  "),
}
_WORDS = {YES: ("COMPLIES", GREEN), NO: ("FAILS", RED)}
_HALF = 39


def block(text: str) -> list[str]:
    """A text in block letters; what has no letter is left out."""
    glyphs = [_FONT[character] for character in text if character in _FONT]
    return [" ".join(glyph[row] for glyph in glyphs) for row in range(ROWS)]


def desk_screen(desk: Desk, page: Page) -> None:
    """The whole screen as it stands now."""
    car = desk.car
    name = f"CAR {car.number} {car.name}" if car else "THE SCALES"
    page.drawn(f"{name:<50}{desk.by:>29}")
    page.drawn("=" * 79)
    if desk.stage in (CAR, REASON, FUEL):
        _question(desk, page)
    elif desk.stage == VERDICT:
        _verdict(desk, page)
    else:
        _pads(desk, page)
    for problem in desk.problems:
        page.put(f"{problem.message}. {problem.hint}".strip(), style=YELLOW if problem.warning else RED)
    page.drawn("-" * 79)
    page.drawn(_keys(desk))


def _question(desk: Desk, page: Page) -> None:
    asked = {
        CAR: "Which car?",
        REASON: f"Weighed {desk.weighings} of {desk.due} times already. Why again?",
        FUEL: "Fuel on board, in litres?",
    }[desk.stage]
    page.drawn("")
    if desk.stage == REASON and desk.is_doubted:
        page.drawn("The gear failed a check after this car was weighed: it may be weighed again.", YELLOW)
    page.drawn(asked)
    page.drawn("")
    if desk.stage == REASON:
        page.drawn(f"> {desk.typed}_")
        return
    shown = desk.typed.upper().replace(",", ".")
    if all(character in _FONT for character in shown):
        for line in block(f"{shown}_"):
            page.drawn(f"  {line}")
    else:
        page.drawn(f"> {desk.typed}_")


def _pads(desk: Desk, page: Page) -> None:
    page.drawn(
        f"Weighing {min(desk.weighings + 1, desk.due)} of {desk.due}, pads {desk.pads_stand}, loads in kg"
    )
    for left, right in (WHEELS[:2], WHEELS[2:]):
        page.drawn(f"{_label(desk, left):<{_HALF}}{_label(desk, right)}")
        for one, other in zip(_figure(desk, left), _figure(desk, right), strict=True):
            page.drawn(f"{one:<{_HALF}.{_HALF}}{other}")


def _label(desk: Desk, wheel: str) -> str:
    mark = ">" if wheel == desk.pad else " "
    return f"{mark} {wheel.replace('_', ' ').upper()}"


def _figure(desk: Desk, wheel: str) -> list[str]:
    place = WHEELS.index(wheel)
    if place < len(desk.loads):
        text = desk.loads[place]
    else:
        text = f"{desk.typed}_" if wheel == desk.pad else "-"
    return [f"  {line}" for line in block(text.replace(",", "."))]


def _verdict(desk: Desk, page: Page) -> None:
    judgement, settled = desk.judgement, desk.settled
    if judgement is None or settled is None:
        return
    word, colour = _WORDS.get(judgement.complies, ("OPEN", YELLOW))
    for line in block(word):
        page.drawn(f"  {line}", colour)
    page.drawn("")
    weights = judgement.inspection.car.weights()
    page.drawn(f"Entry {settled.number}, on disk. Weighing {desk.weighings} of {desk.due}. {_loads(weights)}")
    for number, margin in list(margin_words(judgement).items())[:6]:
        clause = judgement.inspection.pack.clauses[number]
        page.row(f"{number} {clause.title}", margin, indent=2, hang=6, style=RED)
    unsettled = [
        o.clause.number
        for o in judgement.inspection.outcomes
        if o.outcome in (TOO_CLOSE, NOT_SHOWN) and o.counts
    ]
    if unsettled:
        page.put(f"open: {', '.join(unsettled)}", 2, 4, YELLOW)


def _loads(weights: object) -> str:
    from checker.kinds.judging.wording import show_value
    from checker.meeting.session.gear import KILOGRAM
    from checker.quantities.kind import PERCENT, Unknown
    from checker.quantities.units import parse_unit

    total, inside = weights.weight("total"), weights.percentage("inside")  # type: ignore[attr-defined]
    if isinstance(total, Unknown) or isinstance(inside, Unknown):
        return ""
    shares = show_value(inside, PERCENT, parse_unit("%", None))
    return f"Total {show_value(total, KILOGRAM.kind, KILOGRAM)}, inside {shares}"


def _keys(desk: Desk) -> str:
    if desk.stage == VERDICT:
        more = "next weighing" if desk.weighings < desk.due else "next car"
        return f"Enter: {more}   Backspace: correct this reading   Esc: leave"
    return {
        CAR: "Enter: take the car   Esc: leave",
        REASON: "Enter: weigh again   Backspace: another car   Esc: leave",
        FUEL: "Enter: on to the pads   Backspace: another car   Esc: leave",
        PADS: "Enter: next pad   Backspace: digit or pad back   Esc: leave",
    }[desk.stage]
