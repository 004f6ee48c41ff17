"""Where a car carries its weight, as plain data: what is at which place, its centre of gravity, the limits round it."""

from __future__ import annotations

from fractions import Fraction

from checker.report.amounts import KG, MM, PERCENT, Data, estimate, exact_text, known_data, near_data
from checker.report.one_car.condition_table import effect_data, limit_data, state_data
from checker.studies.one_car.layout import JOINT, Centre, Doubt, LaidOut, Layout


def layout_data(layout: Layout | None) -> Data | None:
    """The key `layout` of an inspection's document."""
    if layout is None:
        return None
    return {
        "inside": layout.inside,
        "wheelbase": known_data(layout.wheelbase, MM),
        "track": {axle: known_data(track, MM) for axle, track in layout.tracks.items()},
        "tyre_width": {wheel: known_data(width, MM) for wheel, width in layout.sections.items()},
        "loads": {wheel: known_data(load, KG) for wheel, load in layout.loads.items()},
        "pieces": [_piece_data(piece) for piece in layout.pieces],
        "centres": [_centre_data(centre) for centre in layout.centres],
        "limits": [limit_data(one) for one in layout.limits],
        "paths": _paths_data(layout),
        "uncertainty": None if layout.doubt is None else _doubt_data(layout.doubt),
        "one_kg": [effect_data(effect) for effect in layout.effects],
    }


def _piece_data(piece: LaidOut) -> Data:
    return {
        "kind": piece.kind,
        "label": piece.label,
        "mass": near_data(piece.mass, KG),
        "behind_front_axle": near_data(piece.along, MM),
        "left_of_centre": near_data(piece.across, MM),
    }


def _centre_data(centre: Centre) -> Data:
    return {
        "state": "as weighed" if centre.state is None else centre.state.words,
        "clauses": list(centre.clauses),
        "total": known_data(centre.total, KG),
        "inside": known_data(centre.inside, PERCENT),
        "rear": known_data(centre.rear, PERCENT),
        "behind_front_axle": near_data(centre.along, MM),
        "left_of_centre": near_data(centre.across, MM),
    }


def _paths_data(layout: Layout) -> list[Data]:
    """The percentages from the most fuel to the least, all else alike; a path runs straight from point to point."""
    found: dict[tuple[object, ...], Data] = {}
    for corner in layout.corners:
        state = state_data(corner.state)
        inside, rear = (known_data(corner.shares[name], PERCENT) for name in ("inside", "rear"))
        if inside is None or rear is None or state["fuel"] is None:
            continue
        key = (state["tyres"], state["driver"], state["wear"])
        path = found.setdefault(
            key, {"tyres": state["tyres"], "driver": state["driver"], "wear": state["wear"], "points": []}
        )
        path["points"].append({"fuel": state["fuel"], "inside": inside, "rear": rear})
    for path in found.values():
        path["points"].sort(key=lambda point: -Fraction(point["fuel"]["exact"]))
    return list(found.values())


def _doubt_data(doubt: Doubt) -> Data:
    return {
        "state": "as weighed" if doubt.state is None else doubt.state.words,
        "at": {name: exact_text(100 * value) for name, value in doubt.at.items()},
        "standard_inside": estimate(100 * doubt.inside),
        "standard_rear": estimate(100 * doubt.rear),
        "correlation": estimate(doubt.correlation),
        "k": estimate(doubt.factor),
        "covers": JOINT,
        "complete": doubt.complete,
    }
