"""A race over its laps: total and percentages with their limits, where they are crossed, and the fuel to start with."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from checker.report.amounts import Data, as_float, shown
from checker.report.figure import Figure
from checker.report.figures.drawing import Drawing
from checker.report.figures.scales import Scale, ticks

WIDTH, _LEFT, _RIGHT, _HIGH = 400.0, 52.0, 392.0, 78.0

_PANELS = (
    ("total, driver out, {unit}", "total", ("driver_out",)),
    ("total, driver aboard, {unit}", "total", ("driver_aboard",)),
    ("inside, %", "inside", ("driver_out", "driver_aboard")),
    ("rear, %", "rear", ("driver_out", "driver_aboard")),
)


def race_figure(document: Data) -> Figure | None:
    """The run of a race; None where there is none, or its weights are not known.

    Args:
        document: Of a car in every condition.
    """
    race = document["race"]
    if race is None or any(_of(lap, "driver_out", "total") is None for lap in race["run"]):
        return None
    drawing = Drawing("race", WIDTH)
    laps = Scale(0, race["laps"], _LEFT, _RIGHT)
    top = 6.0
    for title, of, sides in _PANELS:
        if all(_of(lap, side, of) is not None for lap in race["run"] for side in sides):
            _panel(drawing, laps, top, (title, of, sides), document)
            top += _HIGH + 30
    top += 8  # beneath the words of a lower limit
    for lap in ticks(laps, 8):
        drawing.text("small soft", laps(lap), top, f"{lap:g}", "middle")
    drawing.text("small soft", 0, top, "lap")
    drawing.line("curve", _LEFT, top + 20, _LEFT + 26, top + 20)
    drawing.text("small", _LEFT + 32, top + 24, "driver out")
    drawing.line("curve other", _LEFT + 130, top + 20, _LEFT + 156, top + 20)
    drawing.text("small", _LEFT + 162, top + 24, "driver aboard")
    height = _starts(drawing, top + 52, race)
    return drawing.done(
        height,
        f"The race, {race['laps']} laps",
        "Total and percentages from start to flag as fuel is burnt and tyres wear. Hatched ground is outside the "
        "rules; a cross is the first lap on which a clause fails. Beneath, the fuel to start with that keeps the car "
        "legal all the way.",
        ("Lap", "Fuel", "Total", "Inside", "Rear", "With driver", "Fails"),
        [_row(lap) for lap in race["run"]],
    )


def _panel(
    drawing: Drawing, laps: Scale, top: float, about: tuple[str, str, Sequence[str]], document: Data
) -> None:
    title, of, sides = about
    run = document["race"]["run"]
    lines = [[(lap["lap"], _number(_of(lap, side, of))) for lap in run] for side in sides]
    limits = [
        one
        for one in document["limits"]
        if one["of"] == of
        and one["exact"] is not None
        and one["driver"] in (None, sides[0].removeprefix("driver_"))
    ]
    values = [value for line in lines for _, value in line] + [_number(one) for one in limits]
    room = 0.15 * (max(values) - min(values)) or 0.5
    up = Scale(min(values) - room, max(values) + room, top + 16 + _HIGH, top + 16)
    unit = _of(run[0], sides[0], of)
    drawing.text("small strong", 0, top + 9, title.format(unit=(unit or {}).get("unit", "")))
    low, high = top + 16 + _HIGH, top + 16
    for value in ticks(up, 3):
        drawing.line("grid", _LEFT, up(value), _RIGHT, up(value))
        drawing.text("small soft", _LEFT - 6, up(value) + 4, f"{value:g}", "end")
    for limit in limits:
        y, most = up(_number(limit)), limit["kind"] in ("at_most", "below")
        drawing.hatched(_LEFT, high if most else y, _RIGHT - _LEFT, (y - high) if most else (low - y))
        drawing.line("limit", _LEFT, y, _RIGHT, y)
    for side, line in zip(sides, lines, strict=True):
        look = "curve other" if side == "driver_aboard" else "curve"
        drawing.path(look, [(laps(lap), up(value)) for lap, value in line])
    for limit in limits:
        most = limit["kind"] in ("at_most", "below")
        y = up(_number(limit)) + (-4 if most else 12)
        told = f"{limit['clause']}: {'most' if most else 'least'} {shown(limit)}"
        first, last = (min(abs(up(line[end][1]) - y) for line in lines) for end in (0, -1))
        if first > last:  # where the car's own lines are further off
            drawing.text("small strong halo", _LEFT + 3, y, told)
        else:
            drawing.text("small strong halo", _RIGHT - 3, y, told, "end")
    named = {one["clause"] for one in limits}
    failed = next((lap for lap in run if named & set(lap["failing"])), None)
    if failed is not None:
        drawing.cross("struck", laps(failed["lap"]), up(_number(_of(failed, sides[0], of))), 5)


def _starts(drawing: Drawing, top: float, race: Data) -> float:
    """For each set of tyres the fuel to start with, as bars; where that ends."""
    known = [one for one in race["starts"] if one["legal_fuel"] is not None]
    ends = [
        float(Fraction(level[end])) for one in known for level in one["legal_fuel"] for end in ("from", "to")
    ]
    start = _number(race["start"])
    if not ends:
        return top
    litres = Scale(0, max(*ends, start) * 1.06, _LEFT, _RIGHT)
    drawing.text("small strong", 0, top, f"fuel to start with, {race['start']['unit']}")
    top += 14
    drawing.line("limit", litres(start), top - 6, litres(start), top + 22 * len(known) + 2)
    for one in known:
        drawing.text("small", _LEFT - 6, top + 12, one["tyres"] or "", "end", room=_LEFT - 6)
        drawing.line("grid", _LEFT, top + 8, _RIGHT, top + 8)
        for level in one["legal_fuel"]:
            low, high = (litres(float(Fraction(level[end]))) for end in ("from", "to"))
            drawing.line("legal", low, top + 8, max(high, low + 1), top + 8)
        top += 22
    for value in ticks(litres, 6):
        drawing.text("small soft", litres(value), top + 14, f"{value:g}", "middle")
    drawing.text("small halo", litres(start) - 5, top - 22 * len(known) - 4, "this run", "end")
    return top + 22


def _row(lap: Data) -> tuple[str, ...]:
    out, aboard = lap["driver_out"], lap["driver_aboard"]
    return (
        str(lap["lap"]),
        shown(lap["fuel"]),
        shown(out["kg"]["total"]),
        shown(out["percentage"]["inside"]),
        shown(out["percentage"]["rear"]),
        shown(aboard["kg"]["total"]),
        ", ".join(lap["failing"]),
    )


def _of(lap: Data, side: str, of: str) -> Data | None:
    found: Data | None = lap[side]["kg"][of] if of == "total" else lap[side]["percentage"][of]
    return found


def _number(amount: Data | None) -> float:
    return as_float(amount) if amount is not None else 0.0
