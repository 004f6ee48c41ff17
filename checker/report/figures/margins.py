"""Every measured clause as its distance to the limit, in its own unit, with its uncertainty; the tightest first."""

from __future__ import annotations

import math
from collections.abc import Sequence
from fractions import Fraction

from checker.kinds.judging.assessment import DISPENSATION, FAIL, PASS
from checker.report.amounts import Data, estimate_text, shown
from checker.report.figure import Figure
from checker.report.figures.drawing import Drawing, width_of
from checker.report.wording import outcome_word

WIDTH, _PITCH, _TOP = 360.0, 40.0, 22.0
_LIMIT, _ROOM = 84.0, 268.0
"""Where the limit stands, and how much room is to its right."""
_MOST = 0.5
"""The share of the limit that fills that room."""
_TICKS = (-5, -1, 0, 1, 5, 10, 25, 50)


def margins_figure(
    outcomes: Sequence[Data], to: str, name: str = "margins", title: str = "Distance to each limit"
) -> Figure:
    """Distances to limits.

    Args:
        outcomes: As `measured` gives them.
        to: Whom they are told to, an entrant or an official.
    """
    drawing = Drawing(name, WIDTH)
    height = _TOP + _PITCH * len(outcomes)
    drawing.text("small soft", _LIMIT - 5, 11, "fails", "end")
    drawing.text("small soft", _LIMIT + 5, 11, "met, by so much of the limit")
    for place, outcome in enumerate(outcomes):
        _row(drawing, outcome, _TOP + _PITCH * place)
    drawing.line("rule", 0, height, WIDTH, height)
    for tick in _TICKS:
        x = _place(tick / 100)
        drawing.line("rule", x, height, x, height + 5)
        drawing.text(
            "small soft", x, height + 17, f"{tick}" + " %" * (tick == 50), "middle" if tick < 50 else "end"
        )
    return drawing.done(
        height + 24,
        title,
        "One line for each measured clause, the tightest first. The mark stands at its margin as a share of the "
        "limit, on a scale that is wider near the limit; the bar is its uncertainty. Left of the limit is outside "
        "the rule.",
        ("Clause", "Measured", "Limit", "Margin", "Uncertainty", "Result"),
        [_cells(outcome, to) for outcome in outcomes],
    )


def measured(document: Data) -> list[Data]:
    """The outcomes that can be drawn, the most pressing first."""
    by_number = {one["clause"]: one for one in document["outcomes"]}
    pressing = (by_number[number] for number in document["most_pressing"])
    return [one for one in pressing if one["scale"] is not None and _is_measured(one)]


def _is_measured(outcome: Data) -> bool:
    """Not only counted."""
    return outcome["margin"]["unit"] is not None or outcome["uncertainty"] is not None


def _row(drawing: Drawing, outcome: Data, y: float) -> None:
    scale = Fraction(outcome["scale"])
    share = float(Fraction(outcome["margin"]["exact"]) / scale)
    margin = shown(outcome["margin"], signed=True)
    look = _LOOKS.get(outcome["outcome"], "open")
    number = outcome["clause"]
    after = width_of(number) + 8
    room = WIDTH - width_of(margin) - 16
    drawing.text("strong", 0, y + 12, number, room=70)
    drawing.text("", min(after, 74), y + 12, outcome["title"], room=room - after)
    drawing.text(f"strong {look}", WIDTH, y + 12, margin, "end")
    line = y + 26
    drawing.hatched(0, line - 7, _LIMIT, 14)
    drawing.line("grid", 0, line, WIDTH, line)
    drawing.line("limit", _LIMIT, line - 8, _LIMIT, line + 8)
    uncertainty = outcome["uncertainty"]
    if uncertainty is not None:
        half = uncertainty["expanded"] / float(scale)
        whole = "band" if uncertainty["complete"] else "band dashed"
        drawing.line(whole, _place(share - half), line, _place(share + half), line)
    x = _place(share)
    if look == "fails":
        drawing.cross("struck", x, line, 5)
    elif look == "open":
        drawing.diamond("mark open", x, line, 5.5)
    elif share > _MOST:
        drawing.path("mark met", [(x - 8, line - 5), (x, line), (x - 8, line + 5)], closed=True)
    else:
        drawing.circle("mark met", x, line, 4.5)


_LOOKS = {FAIL: "fails", PASS: "met", DISPENSATION: "met"}


def _place(share: float) -> float:
    """Where a share of the limit stands: by its root, so that near the limit there is more room."""
    x = _LIMIT + math.copysign(math.sqrt(abs(share) / _MOST), share) * _ROOM
    return min(max(x, 4.0), _LIMIT + _ROOM)


def _cells(outcome: Data, to: str) -> tuple[str, ...]:
    uncertainty = outcome["uncertainty"]
    told = ""
    if uncertainty is not None:
        unit = f" {uncertainty['unit']}" if uncertainty["unit"] else ""
        told = f"{'±' * uncertainty['complete']}{estimate_text(uncertainty['expanded'])}{unit}" + (
            "" if uncertainty["complete"] else " left open by what is stated"
        )
    return (
        f"{outcome['clause']} {outcome['title']}",
        shown(outcome["value"]),
        shown(outcome["bound"]),
        shown(outcome["margin"], signed=True),
        told,
        outcome_word(outcome["outcome"], to),
    )
