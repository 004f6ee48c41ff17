"""Inside percentage against rear percentage: what the rules leave, the car's way through it, and what moves it."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from fractions import Fraction

from checker.reading.quick_dataclasses import dataclass
from checker.report.amounts import Data, as_float, one_more, share_text, shown
from checker.report.figure import Figure
from checker.report.figures.drawing import Drawing
from checker.report.figures.regions import region_notes, region_words
from checker.report.figures.scales import Scale, ticks

WIDTH, _TOP, _LEFT, _RIGHT, _BOTTOM = 400.0, 26.0, 44.0, 390.0, 300.0


def window_figure(layout: Data) -> Figure | None:
    """Where the car is between its limits; None where neither percentage is known or limited.

    Args:
        layout: The key of that name of an inspection's document.
    """
    paths, limits = layout["paths"], [one for one in layout["limits"] if one["exact"] is not None]
    if not paths or not limits:
        return None
    drawing = Drawing("window", WIDTH)
    across, up = _scales(layout, limits)
    _ground(drawing, across, up, limits)
    _reach(drawing, across, up, layout.get("reach"))
    names = _paths(drawing, across, up, paths)
    _doubt(drawing, across, up, layout["uncertainty"])
    weighed = layout["centres"][0] if layout["centres"] else None
    if weighed is not None and weighed["state"] == "as weighed":
        planned = layout.get("planned")
        _kilograms(drawing, across, up, weighed, [] if planned else layout["one_kg"])
        _destination(drawing, across, up, weighed, planned)
    height = _legend(drawing, names, layout)
    return drawing.done(
        height,
        "Inside weight against rear weight",
        "Each line is the car from a full tank to an empty one; its end at the dot is the empty tank. Hatched "
        "ground is outside the rules. The ellipse is how well both percentages are known where they come nearest "
        f"to a limit. {_PLANNED if layout.get('planned') else _MORE}",
        ("State", "Inside", "Rear"),
        list(_rows(layout)),
    )


_MORE = "Arrows from the car as weighed show what some kilograms more at a place would do."
_PLANNED = "The arrow leads from the car as weighed to where what is told to be done takes it."


@dataclass(frozen=True, slots=True)
class _Way:
    """One path, told apart from the others."""

    words: str
    look: str


def _scales(layout: Data, limits: Sequence[Data]) -> tuple[Scale, Scale]:
    """Wide enough for the car and the nearest limits."""
    found: dict[str, list[float]] = {"inside": [], "rear": []}
    for path in layout["paths"]:
        for point in path["points"]:
            for name, values in found.items():
                values.append(as_float(point[name]))
    for point in (layout.get("reach") or {}).get("possible", ()):
        for name, values in found.items():
            values.append(point[name])
    doubt = layout["uncertainty"]
    if doubt is not None:
        for name, values in found.items():
            half = doubt["k"] * doubt[f"standard_{name}"]
            values += [float(Fraction(doubt["at"][name])) + half, float(Fraction(doubt["at"][name])) - half]
    for limit in limits:
        found[limit["of"]].append(as_float(limit))
    ends = {name: (min(values), max(values)) for name, values in found.items()}
    room = {name: 0.12 * (high - low) or 0.5 for name, (low, high) in ends.items()}
    return (
        Scale(ends["rear"][0] - room["rear"], ends["rear"][1] + room["rear"], _LEFT, _RIGHT),
        Scale(ends["inside"][0] - room["inside"], ends["inside"][1] + room["inside"], _BOTTOM, _TOP),
    )


_LABEL = 130.0
"""Room for a limit in words: one that stands nearer to the edge would strike through it."""


def _ground(drawing: Drawing, across: Scale, up: Scale, limits: Sequence[Data]) -> None:
    for value in ticks(across, 5):
        x = across(value)
        drawing.line("grid", x, _TOP, x, _BOTTOM)
        drawing.text("small soft", x, _BOTTOM + 16, f"{value:g}", "middle")
    for value in ticks(up, 6):
        y = up(value)
        drawing.line("grid", _LEFT, y, _RIGHT, y)
        drawing.text("small soft", _LEFT - 6, y + 4, f"{value:g}", "end")
    drawing.text("small soft", 0, 12, "inside, %")
    drawing.text("small soft", _RIGHT, _BOTTOM + 32, "rear, %", "end")
    upright = [across(as_float(limit)) for limit in limits if limit["of"] != "inside"]
    right = min((x for x in upright if _RIGHT - x < _LABEL), default=_RIGHT)
    for limit in limits:
        value, more = as_float(limit), limit["kind"] in ("at_most", "below")
        told = f"{limit['clause']}: {'most' if more else 'least'} {shown(limit)}"
        if limit["of"] == "inside":
            y = up(value)
            drawing.hatched(_LEFT, _TOP if more else y, _RIGHT - _LEFT, (y - _TOP) if more else (_BOTTOM - y))
            drawing.line("limit", _LEFT, y, _RIGHT, y)
            drawing.text("small strong halo", right - 4, y + (-5 if more else 13), told, "end")
        else:
            x = across(value)
            drawing.hatched(x if more else _LEFT, _TOP, (_RIGHT - x) if more else (x - _LEFT), _BOTTOM - _TOP)
            drawing.line("limit", x, _TOP, x, _BOTTOM)
            drawing.text(
                "small strong halo", x + (-4 if more else 4), _BOTTOM - 6, told, "end" if more else "start"
            )


def _paths(drawing: Drawing, across: Scale, up: Scale, paths: Sequence[Data]) -> list[_Way]:
    sets = list(dict.fromkeys(path["tyres"] for path in paths))
    ways: dict[str, _Way] = {}
    for path in paths:
        look = "curve" + (" other" if sets.index(path["tyres"]) % 2 else "")
        worn = path["wear"] == "1/1"
        look += " worn" if worn else ""
        points = [(across(as_float(one["rear"])), up(as_float(one["inside"]))) for one in path["points"]]
        drawing.path(look, points)
        drawing.circle("end" + (" aboard" if path["driver"] == "aboard" else ""), *points[-1], 3.2)
        words = ", ".join(
            filter(None, (f"{path['tyres']} tyres" if path["tyres"] else "", _WEAR.get(path["wear"], "")))
        )
        ways.setdefault(words, _Way(words or "as weighed", look))
    return list(ways.values())


_WEAR = {"0/1": "new", "1/1": "worn"}


def _doubt(drawing: Drawing, across: Scale, up: Scale, doubt: Data | None) -> None:
    """The ellipse of two errors that may move together."""
    if doubt is None:
        return
    rear, inside, k, r = doubt["standard_rear"], doubt["standard_inside"], doubt["k"], doubt["correlation"]
    at = {name: float(Fraction(value)) for name, value in doubt["at"].items()}
    turned = math.sqrt(max(0.0, 1 - r * r))
    points = []
    for step in range(48):
        a = 2 * math.pi * step / 48
        points.append(
            (
                across(at["rear"] + k * rear * math.cos(a)),
                up(at["inside"] + k * inside * (r * math.cos(a) + turned * math.sin(a))),
            )
        )
    drawing.path("ellipse" if doubt["complete"] else "ellipse dashed", points, closed=True)


def _kilograms(drawing: Drawing, across: Scale, up: Scale, weighed: Data, effects: Sequence[Data]) -> None:
    """An arrow for so many kilograms more at each place, as many as make it well seen."""
    unit, told = one_more(effects)
    known = [one for one in told if one["inside"] is not None and one["rear"] is not None]
    rear, inside = as_float(weighed["rear"]), as_float(weighed["inside"])
    x, y = across(rear), up(inside)
    drawing.circle("mark", x, y, 4)
    kilograms = _kilograms_drawn(across, up, known)
    for one in known[:_MOST]:
        end = (
            across(rear + kilograms * as_float(one["rear"])),
            up(inside + kilograms * as_float(one["inside"])),
        )
        drawing.arrow("arrow", x, y, *end)
        beyond = 1 if end[0] >= x else -1
        drawing.text(
            "small halo",
            end[0] + 4 * beyond,
            end[1] + 4,
            one["place"],
            "start" if beyond > 0 else "end",
            room=80,
        )
    if known:
        drawing.text(
            "small soft", _RIGHT, 12, f"arrows: {kilograms} {unit} more there, on the car as weighed", "end"
        )


_MOST = 8


def _kilograms_drawn(across: Scale, up: Scale, known: Sequence[Data]) -> int:
    """1, 2, 5 or 10 kg: as many as make the longest arrow some 60 wide."""
    longest = max(
        (math.hypot(across.size(as_float(one["rear"])), up.size(as_float(one["inside"]))) for one in known),
        default=0.0,
    )
    return next((kg for kg in (1, 2, 5, 10) if kg * longest >= 45), 10)


def _reach(drawing: Drawing, across: Scale, up: Scale, reach: Data | None) -> None:
    """The set-ups, as weighed, that all that may be done leads to; and those of them that are legal."""
    for part, look in _REGIONS.items():
        points = [(across(one["rear"]), up(one["inside"])) for one in (reach or {}).get(part, ())]
        if points:
            drawing.path(look, points, closed=True)


_REGIONS = {"possible": "reach", "legal": "reach allowed"}


def _destination(drawing: Drawing, across: Scale, up: Scale, weighed: Data, planned: Data | None) -> None:
    """An arrow from the car as weighed to where the plan takes it."""
    if planned is None:
        return
    x, y = across(as_float(planned["rear"])), up(as_float(planned["inside"]))
    drawing.arrow("order", across(as_float(weighed["rear"])), up(as_float(weighed["inside"])), x, y)
    drawing.circle("mark", x, y, 4)
    drawing.text("small strong halo", x + 8, y + 14, "planned")


def _legend(drawing: Drawing, ways: Sequence[_Way], layout: Data) -> float:
    doubt = layout["uncertainty"]
    y = _BOTTOM + 52
    for place, way in enumerate(ways):
        x = _LEFT + (place % 2) * 178
        drawing.line(way.look, x, y - 4, x + 26, y - 4)
        drawing.text("small", x + 32, y, way.words, room=140)
        y += 18 if place % 2 or place == len(ways) - 1 else 0
    drawing.circle("end", _LEFT + 13, y - 4, 3.2)
    drawing.text("small", _LEFT + 32, y, "empty, driver out")
    drawing.circle("end aboard", _LEFT + 191, y - 4, 3.2)
    drawing.text("small", _LEFT + 210, y, "empty, driver aboard")
    if doubt is not None:
        y += 18
        drawing.path(
            "ellipse" if doubt["complete"] else "ellipse dashed", [(_LEFT, y - 4), (_LEFT + 26, y - 4)]
        )
        often = f"{100 * doubt['covers']:g} times in 100"
        stated = "" if doubt["complete"] else ", by the errors that are stated"
        drawing.text("small", _LEFT + 32, y, f"both lie within, {often}{stated}")
    if layout.get("reach"):
        for part, words in region_words(layout["reach"]).items():
            y += 18
            if layout["reach"][part]:
                drawing.rect(_REGIONS[part], _LEFT, y - 11, 26, 12)
            drawing.text("small", _LEFT + 32, y, words, room=_RIGHT - _LEFT - 32)
        for note in region_notes(layout["reach"]):
            y += 18
            drawing.text("small", _LEFT + 32, y, note, room=_RIGHT - _LEFT - 32)
    return y + 10


def _rows(layout: Data) -> Iterator[tuple[str, ...]]:
    for path in layout["paths"]:
        for point in path["points"]:
            words = (shown(point["fuel"]), f"driver {path['driver']}" if path["driver"] else "")
            tyres = (f"{path['tyres']} tyres" if path["tyres"] else "", _WEAR.get(path["wear"], ""))
            told = ", ".join(filter(None, (*words, *tyres)))
            yield told, *_shares(point, layout["limits"])
    unit, effects = one_more(layout["one_kg"])
    for one in effects:
        if one["inside"] is not None and one["rear"] is not None:
            yield (
                f"1 {unit} more: {one['place']}",
                shown(one["inside"], signed=True),
                shown(one["rear"], signed=True),
            )
    if layout.get("planned"):
        yield "planned, as weighed", *_shares(layout["planned"], layout["limits"])
    reach: Data = layout.get("reach") or {}
    for part, told in region_words(reach).items() if reach else ():
        for point in reach[part]:
            yield told, *(share_text(name, Fraction(point[name]), layout["limits"]) for name in _SHARES)


_SHARES = ("inside", "rear")


def _shares(point: Data, limits: Sequence[Data]) -> Iterator[str]:
    return (share_text(name, Fraction(point[name]["exact"]), limits) for name in _SHARES)
