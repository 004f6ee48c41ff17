"""How many cars fail at each value of a limit: the exact steps."""

from __future__ import annotations

from checker.report.amounts import Data, position_of
from checker.report.figure import Figure
from checker.report.figures.drawing import Drawing
from checker.report.figures.scales import Scale, ticks

WIDTH, _LEFT, _RIGHT, _TOP, _BOTTOM = 400.0, 34.0, 388.0, 30.0, 200.0


def sweep_figure(document: Data) -> Figure:
    """The steps of a sweep.

    Args:
        document: Of a sweep.
    """
    drawing = Drawing("sweep", WIDTH)
    ends = (float(position_of(document["from"])), float(position_of(document["to"])))
    along = Scale(ends[0], ends[1], _LEFT, _RIGHT)
    first = document["first"]["fail"]
    most = max([first, *(max(step["failing"].values()) for step in document["steps"])]) or 1
    up = Scale(0, most * 1.08, _BOTTOM, _TOP)
    for value in [one for one in ticks(up, 5) if one == int(one)]:
        drawing.line("grid", _LEFT, up(value), _RIGHT, up(value))
        drawing.text("small soft", _LEFT - 6, up(value) + 4, f"{value:g}", "end")
    drawing.text("small strong", 0, 12, "cars that fail")
    unit = f" {document['unit']}" if document["unit"] else ""
    now = float(position_of(document["is_now"]))
    if ends[0] <= now <= ends[1]:
        drawing.line("limit dashed", along(now), _TOP - 8, along(now), _BOTTOM)
        side = "end" if along(now) > WIDTH / 2 else "start"
        told = f"now {document['is_now']['value']}{unit}"
        drawing.text("small strong halo", along(now) + (-5 if side == "end" else 5), _TOP - 2, told, side)
    points, failing = [(along(ends[0]), up(first))], first
    for step in document["steps"]:
        x, of = along(float(position_of(step))), step["failing"]
        points += [(x, up(failing)), (x, up(of["above"]))]
        failing = of["above"]
        if of["at"] not in (of["below"], of["above"]):
            drawing.circle("mark", x, up(of["at"]), 3.5)
    drawing.path("curve", [*points, (along(ends[1]), up(failing))])
    drawing.line("rule", _LEFT, _BOTTOM, _RIGHT, _BOTTOM)
    for value, told in _values(document, along):
        drawing.line("rule", along(value), _BOTTOM, along(value), _BOTTOM + 5)
        drawing.text("small soft", along(value), _BOTTOM + 18, told, "middle")
    drawing.text(
        "small soft",
        _RIGHT,
        _BOTTOM + 36,
        f"{document['clause']} {document['title']}{unit and ','}{unit}",
        "end",
        room=350,
    )
    return drawing.done(
        _BOTTOM + 44,
        "Cars that fail at each value",
        "A step is a value at which a car's outcome changes, found exactly. The dashed line is the limit as it is now.",
        ("Value", "Fail below", "Fail at it", "Fail above", "Cars that change"),
        [
            (
                f"{step['value']}{unit}",
                *(str(step["failing"][place]) for place in ("below", "at", "above")),
                ", ".join(" ".join(filter(None, (car["number"], car["name"]))) for car in step["cars"]),
            )
            for step in document["steps"]
        ]
        or [(f"{document['from']['value']}{unit}", str(first), str(first), str(first), "")],
    )


def _values(document: Data, along: Scale) -> list[tuple[float, str]]:
    """Round values along the axis; of days the ends."""
    if document["from"]["exact"] is None:
        return [(float(position_of(document[end])), document[end]["value"]) for end in ("from", "to")]
    return [(value, f"{value:g}") for value in ticks(along, 6)]
