"""Where a car carries its weight, as plain data: what is at which place, its centre of gravity, the limits round it."""

from __future__ import annotations

from fractions import Fraction

from checker.car.weights.geometry import MaybeFraction
from checker.quantities.amount import Amount, kilograms, millimetres
from checker.quantities.kind import Kind
from checker.quantities.units import parse_unit
from checker.report.amounts import Data, amount_data, estimate, exact_text
from checker.report.one_car.condition_table import effect_data, limit_data, state_data
from checker.studies.one_car.layout import JOINT, Centre, Doubt, LaidOut, Layout

_PERCENT = parse_unit("%", None)


def layout_data(layout: Layout | None) -> Data | None:
    """The key `layout` of an inspection's document."""
    if layout is None:
        return None
    return {
        "inside": layout.inside,
        "wheelbase": _mm(layout.wheelbase),
        "track": {axle: _mm(track) for axle, track in layout.tracks.items()},
        "tyre_width": {wheel: _mm(width) for wheel, width in layout.sections.items()},
        "loads": {wheel: _kg(load) for wheel, load in layout.loads.items()},
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
        "mass": _kg(piece.mass),
        "behind_front_axle": _mm(piece.along),
        "left_of_centre": _mm(piece.across),
    }


def _centre_data(centre: Centre) -> Data:
    return {
        "state": "as weighed" if centre.state is None else centre.state.words,
        "clauses": list(centre.clauses),
        "total": _kg(centre.total),
        "inside": _percent(centre.inside),
        "rear": _percent(centre.rear),
        "behind_front_axle": _mm(centre.along),
        "left_of_centre": _mm(centre.across),
    }


def _paths_data(layout: Layout) -> list[Data]:
    """The percentages from the most fuel to the least, all else alike; a path runs straight from point to point."""
    found: dict[tuple[object, ...], Data] = {}
    for corner in layout.corners:
        state = state_data(corner.state)
        inside, rear = _percent(corner.shares["inside"]), _percent(corner.shares["rear"])
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


def _kg(value: MaybeFraction) -> Data | None:
    return amount_data(kilograms(value)) if isinstance(value, Fraction) else None


def _mm(value: MaybeFraction) -> Data | None:
    return amount_data(millimetres(value)) if isinstance(value, Fraction) else None


def _percent(value: MaybeFraction) -> Data | None:
    """A ratio in percent."""
    return amount_data(Amount(value, Kind("percent"), _PERCENT)) if isinstance(value, Fraction) else None
