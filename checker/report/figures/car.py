"""The car from above, to scale: loads, what is at which place, and the centre of gravity.

What the rules ask of weights moves the centre of gravity by millimetres, so that is drawn again beneath, enlarged.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from checker.report.amounts import Data, as_float, share_text, shown
from checker.report.figure import Figure
from checker.report.figures.drawing import Drawing
from checker.report.figures.scales import round_below

WIDTH = 400.0
FRONT, LENGTH = 74.0, 226.0
"""Where the front axle stands, and how long the wheelbase is drawn."""
MIDDLE = WIDTH / 2
_SIDE = 92.0
"""How far from the edge the words at the sides may reach."""
_ROW = 15.0
_ENLARGED = 84.0
"""How long the stretch is drawn over which the centre of gravity moves."""
_WHEEL = 52.0
"""How long a wheel is drawn: that is not declared."""


def car_figure(layout: Data, moves: Sequence[Data] = ()) -> Figure | None:
    """The car from above; None where its levers are not known.

    Args:
        layout: The key of that name of an inspection's document.
        moves: Acts of that document that move or add weight.
    """
    base, tracks = layout["wheelbase"], layout["track"]
    if base is None or not all(tracks.values()):
        return None
    drawing = Drawing("plan", WIDTH)
    sheet = CarSheet(drawing, layout)
    sheet.outline()
    sheet.wheels()
    sheet.pieces()
    sheet.centre()
    planned = layout.get("planned")
    if planned:
        sheet.planned(planned["moves"])
    else:
        sheet.moves(moves)
    height = _enlarged(drawing, layout, FRONT + LENGTH + 92) if len(layout["centres"]) > 1 else 0.0
    return drawing.done(
        height or FRONT + LENGTH + 62,
        "The car from above",
        f"To scale, front at the top, the inside of the course on the {layout['inside']}: the load of each wheel as "
        "weighed, each piece whose place is known, and the centre of gravity. Beneath, the centre of gravity "
        "enlarged, as weighed and in each state that decides a clause. The body is a sketch.",
        ("What", "Weighs", "Behind front axle", "Left of centre"),
        list(_rows(layout)),
    )


class CarSheet:
    """The car, in its own coordinates."""

    def __init__(self, drawing: Drawing, layout: Data) -> None:
        self._drawing = drawing
        self._layout = layout
        self._scale = LENGTH / as_float(layout["wheelbase"])
        self._tracks = {axle: as_float(track) for axle, track in layout["track"].items()}

    def outline(self) -> None:
        """A sketch of a body, the axles, and which side is which."""
        drawing, front, rear = self._drawing, FRONT, FRONT + LENGTH
        half = min(self._tracks.values()) * self._scale / 2 - 18
        drawing.rect("body", MIDDLE - half, front - 40, 2 * half, rear - front + 82, 22)
        drawing.line("grid dashed", MIDDLE, front - 40, MIDDLE, rear + 42)
        for axle, y in (("front", front), ("rear", rear)):
            reach = self._tracks[axle] * self._scale / 2
            drawing.line("axle", MIDDLE - reach, y, MIDDLE + reach, y)
        inner = self._layout["inside"]
        sides = {inner: "INSIDE of the course", "right" if inner == "left" else "left": "outside"}
        drawing.text("small strong", 0, 12, sides["left"].replace("outside", "OUTSIDE"))
        drawing.text("small strong", WIDTH, 12, sides["right"].replace("outside", "OUTSIDE"), "end")
        drawing.text("small soft", MIDDLE, 12, "front", "middle")
        edge = 4.0 if inner == "left" else WIDTH - 4
        drawing.line("course", edge, 22, edge, rear + 50)

    def wheels(self) -> None:
        for axle, y in (("front", FRONT), ("rear", FRONT + LENGTH)):
            for side, sign in (("left", -1), ("right", 1)):
                x = MIDDLE + sign * self._tracks[axle] * self._scale / 2
                stated = self._layout["tyre_width"].get(f"{axle}_{side}")
                width = as_float(stated) * self._scale if stated is not None else 20.0
                self._drawing.rect("tyre", x - width / 2, y - _WHEEL / 2, width, _WHEEL, 4)
                load = self._layout["loads"].get(f"{axle}_{side}")
                if load is not None:
                    end = x + sign * (width / 2 + 5)
                    self._drawing.text("strong", end, y + 5, shown(load), "end" if sign < 0 else "start")

    def pieces(self) -> None:
        """Each piece with its name at the nearer side."""
        named: dict[bool, list[tuple[float, float, str]]] = {True: [], False: []}
        for piece in self._layout["pieces"]:
            x, y = self.at(piece)
            look = _LOOKS.get(piece["kind"], "part")
            if look == "weight":
                self._drawing.rect(look, x - 5, y - 5, 10, 10)
            elif look == "part":
                self._drawing.rect(look, x - 4, y - 4, 8, 8, 2)
            else:
                self._drawing.circle(look, x, y, 8 if look == "person" else 7)
            told = " ".join(filter(None, (piece["label"], shown(piece["mass"]))))
            named[x < MIDDLE if abs(x - MIDDLE) > 1 else piece["kind"] == "driver"].append((y, x, told))
        for left, ones in named.items():
            self._names(sorted(ones), left)

    def _names(self, ones: Sequence[tuple[float, float, str]], left: bool) -> None:
        """Names one below the other between the axles, each with a line to its piece."""
        free = FRONT + _WHEEL / 2 + 12
        most = int((LENGTH - _WHEEL) / _ROW)
        edge, anchor = (_SIDE, "end") if left else (WIDTH - _SIDE, "start")
        last = FRONT + LENGTH - _WHEEL / 2 - 4
        for place, (y, x, told) in enumerate(ones[:most]):
            still = min(len(ones), most) - place - 1
            row = min(max(y + 4, free), last - still * _ROW)
            free = row + _ROW
            self._drawing.line("leader", edge + (3 if left else -3), row - 4, x, y)
            self._drawing.text("small halo", edge, row, told, anchor, room=_SIDE - 8)
        if len(ones) > most:
            self._drawing.text("small soft", edge, last + 3, f"and {len(ones) - most} more", anchor)

    def centre(self) -> None:
        for centre in self._layout["centres"][:1]:
            if centre["behind_front_axle"] is not None and centre["left_of_centre"] is not None:
                x, y = self.at(centre)
                _centre_mark(self._drawing, x, y)

    def moves(self, acts: Sequence[Data]) -> None:
        """From which side or end to which how much is to go."""
        ends = {"front": (MIDDLE, FRONT), "rear": (MIDDLE, FRONT + LENGTH)}
        inner = -1 if self._layout["inside"] == "left" else 1
        for name, sign in (("inside", inner), ("outside", -inner), ("left", -1), ("right", 1)):
            ends[name] = (MIDDLE + sign * 62, 0)
        row = FRONT + 26.0
        for act in acts:
            told = shown(act["amount"])
            start, end = ends.get(act["from"]), ends.get(act["to"])
            if act["do"] == "move" and start is not None and end is not None:
                sideways = start[0] != end[0]
                (x1, y1), (x2, y2) = ((start[0], row), (end[0], row)) if sideways else (start, end)
                if not sideways:
                    x1 = x2 = MIDDLE + 26
                self._drawing.arrow("order", x1, y1, x2, y2)
                at = ((x1 + x2) / 2, row - 7) if sideways else (x1 + 6, (y1 + y2) / 2)
                self._drawing.text("strong halo", *at, told, "middle" if sideways else "start")
            else:
                self._drawing.text("strong halo", MIDDLE, row, f"{act['do']} {told}", "middle")
            row += 24

    def planned(self, moves: Sequence[Data]) -> None:
        """What goes from where to where, where both are known; what is bolted on; and what comes off."""
        for move in moves:
            start, end = (self.at(move[name]) if move[name] else None for name in ("from", "to"))
            if end is not None and start is not None:
                self._drawing.arrow("order", *start, *end)
            elif end is not None:
                self._drawing.cross("struck", *end, 5)
            told, at = (f"{move['label']}{'' if end else ' off'}", end or start)
            if at is not None:
                x = min(max(at[0], 60.0), WIDTH - 60)
                self._drawing.text("small strong halo", x, at[1] + 18, told, "middle")

    def at(self, place: Data) -> tuple[float, float]:
        """Where on the sheet something lies."""
        along, left = as_float(place["behind_front_axle"]), as_float(place["left_of_centre"])
        return MIDDLE - left * self._scale, FRONT + along * self._scale


_LOOKS = {"tank": "fuel", "driver": "person", "ballast": "weight"}


def _centre_mark(drawing: Drawing, x: float, y: float) -> None:
    """The usual sign: a circle in quarters."""
    drawing.circle("centre", x, y, 8)
    drawing.line("centre", x - 12, y, x + 12, y)
    drawing.line("centre", x, y - 12, x, y + 12)


def _enlarged(drawing: Drawing, layout: Data, top: float) -> float:
    """The centre of gravity in every state that decides, with a scale; where that ends."""
    known = [
        c for c in layout["centres"] if c["behind_front_axle"] is not None and c["left_of_centre"] is not None
    ]
    points = [(-as_float(c["left_of_centre"]), as_float(c["behind_front_axle"])) for c in known]
    xs, ys = zip(*points, strict=True)
    span = max(max(xs) - min(xs), max(ys) - min(ys), 1e-9)
    scale = _ENLARGED / span
    middle = ((max(xs) + min(xs)) / 2, (max(ys) + min(ys)) / 2)
    drawing.text("strong", 0, top, "Centre of gravity, enlarged")
    drawing.rect("frame", 0, top + 10, WIDTH, _ENLARGED + 40, 6)
    length = round_below(span * 0.8)
    low = top + 10 + _ENLARGED + 40
    drawing.line("limit", WIDTH - 12 - length * scale, low - 10, WIDTH - 12, low - 10)
    unit = known[0]["behind_front_axle"]["unit"]
    drawing.text("small", WIDTH - 12, low - 16, f"{length:g} {unit}", "end")
    for place, ((x, y), centre) in enumerate(zip(points, known, strict=True)):
        at = (MIDDLE + (x - middle[0]) * scale, top + 30 + _ENLARGED / 2 + (y - middle[1]) * scale)
        row = low + 20 + 36 * place
        if place == 0:
            _centre_mark(drawing, *at)
            _centre_mark(drawing, 12, row - 4)
        else:
            for x, y in (at, (12.0, row - 4)):
                drawing.circle("dot", x, y, 8)
                drawing.text("small strong dotted", x, y + 4, str(place), "middle")
        drawing.text("small", 32, row, centre["state"], room=WIDTH - 32)
        shares = ", ".join(
            f"{name} {share_text(name, Fraction(centre[name]['exact']), layout['limits'])}"
            for name in ("inside", "rear")
        )
        clauses = f"decides {', '.join(centre['clauses'])}; " if centre["clauses"] else ""
        told = f"{clauses}{shares}"
        drawing.text("small soft", 32, row + 15, told, room=WIDTH - 32)
    return low + 36 * len(known) + 8


def _rows(layout: Data) -> Sequence[tuple[str, ...]]:
    loads = [(wheel.replace("_", " "), shown(load), "", "") for wheel, load in layout["loads"].items()]
    pieces = [
        (p["label"], shown(p["mass"]), shown(p["behind_front_axle"]), shown(p["left_of_centre"]))
        for p in layout["pieces"]
    ]
    centres = [
        (
            f"centre of gravity, {c['state']}",
            shown(c["total"]),
            shown(c["behind_front_axle"]),
            shown(c["left_of_centre"]),
        )
        for c in layout["centres"]
    ]
    return [*loads, *pieces, *centres]
