"""The car from above with whatever has a place on it, to point at where something sits."""

from __future__ import annotations

from collections.abc import Sequence

from checker.report.amounts import Data
from checker.report.figure import Figure
from checker.report.figures.car import FRONT, LENGTH, WIDTH, CarSheet
from checker.report.figures.drawing import Drawing

_BEHIND = 70.0
"""How far the sheet goes on behind the rear axle."""


def places_figure(layout: Data, marks: Sequence[tuple[float, float, str]], about: str) -> Figure:
    """The car with a mark for each place: where it is on the sheet, and what it is called.

    Args:
        layout: As of an inspection's document, with nothing on it: its wheelbase, tracks and tyres.
    """
    drawing = Drawing("places", WIDTH)
    sheet = CarSheet(drawing, layout)
    sheet.outline()
    sheet.wheels()
    for x, y, told in marks:
        drawing.rect("weight", x - 5, y - 5, 10, 10)
        right = x < WIDTH / 2
        drawing.text(
            "small halo", x + (9 if right else -9), y + 4, told, "start" if right else "end", room=120
        )
    return drawing.done(FRONT + LENGTH + _BEHIND, "Places on the car, from above", about, (), ())
