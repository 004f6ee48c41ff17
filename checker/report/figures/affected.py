"""Who is affected by a change of the rules: each car's margin before and after, one mark a car."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from checker.report.amounts import Data, as_float, shown
from checker.report.figure import Figure
from checker.report.figures.drawing import Drawing
from checker.report.figures.scales import Scale, ticks

WIDTH, _LEFT, _RIGHT, _PANEL = 400.0, 62.0, 390.0, 112.0


def affected_figure(document: Data) -> Figure | None:
    """A panel for each clause under which margins are another; None where there is none.

    Args:
        document: Of whom a change affects.
    """
    panels = [
        (clause, marks["unit"], marks["cars"])
        for clause in document["clauses"]
        for marks in clause["marks"]
        if any(car["before"] != car["after"] for car in marks["cars"])
    ]
    if not panels:
        return None
    drawing = Drawing("affected", WIDTH)
    top = 0.0
    for clause, unit, cars in panels:
        _panel(drawing, top, clause, unit, cars)
        top += _PANEL + 26
    return drawing.done(
        top,
        "Margins before and after",
        "One mark for each car: above by the rules before, below by those after, joined by a line. Hatched ground is a "
        "breach; a cross is a car that fails.",
        ("Clause", "Car", "Before", "After"),
        [
            (
                f"{clause['clause']} {clause['title']}",
                " ".join(filter(None, (car["number"], car["name"]))),
                shown(car["before"], signed=True),
                shown(car["after"], signed=True),
            )
            for clause, _, cars in panels
            for car in cars
        ],
    )


def _panel(drawing: Drawing, top: float, clause: Data, unit: str | None, cars: Sequence[Data]) -> None:
    sides = ("before", "after")
    values = [0.0, *(as_float(car[side]) for car in cars for side in sides if car[side] is not None)]
    room = 0.06 * (max(values) - min(values)) or 1.0
    along = Scale(min(values) - room, max(values) + room, _LEFT, _RIGHT)
    rows = {"before": top + 46, "after": top + 82}
    low = top + _PANEL - 14
    drawing.text("strong", 0, top + 14, clause["clause"])
    drawing.text("", 44, top + 14, clause["title"], room=WIDTH - 44)
    drawing.hatched(_LEFT, top + 28, along(0) - _LEFT, low - top - 28)
    drawing.line("limit", along(0), top + 24, along(0), low)
    for side, y in rows.items():
        drawing.text("small soft", 0, y + 4, side)
        drawing.line("grid", _LEFT, y, _RIGHT, y)
    for value in ticks(along, 5):
        drawing.text("small soft", along(value), low + 16, f"{value:g}", "middle")
    drawing.text("small soft", 0, low + 16, f"in {unit}" if unit else "margin")
    for car in cars:
        if car["before"] is not None and car["after"] is not None:
            ends = [(along(as_float(car[side])), rows[side]) for side in sides]
            drawing.line("way", *ends[0], *ends[1])
    for car in cars:
        for side in sides:
            if car[side] is not None:
                x = along(as_float(car[side]))
                if Fraction(car[side]["exact"]) < 0:
                    drawing.cross("struck", x, rows[side], 4)
                else:
                    drawing.circle("mark met", x, rows[side], 4)
