"""The drawing on which a place is pointed at: the car from above, with every place that the form tells."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from fractions import Fraction

from checker.car.car import Car
from checker.car.declaration.structure import PLACES
from checker.car.described.standard import WHEELS
from checker.car.described.stated import ACROSS, FROM_REAR
from checker.car.weights.tyres import of_tyre
from checker.pages.form.maker import label_of
from checker.quantities.amount import millimetres
from checker.quantities.kind import Unknown
from checker.quantities.literal import parse_quantity
from checker.quantities.misread import LiteralError
from checker.quantities.units import parse_unit
from checker.reading.document import Document
from checker.reading.problems import Path
from checker.reading.quick_dataclasses import KW_ONLY, dataclass
from checker.reading.values import Plain
from checker.report.amounts import amount_data
from checker.report.figure import Figure
from checker.report.figures.car import FRONT, LENGTH, MIDDLE
from checker.report.figures.places import places_figure

_STEPS = {"mm": "5", "cm": "0.5", "m": "0.005", "in": "0.25"}
"""What a place is rounded to in each unit; a drawing on a telephone tells no better."""
_MM = parse_unit("mm", None)
_CALLED = ("label", "name", "what", "moved")
"""The keys that tell what sits at a place."""
_OWN_WORDS = {"fuel": "fuel tank", "driver": "driver"}


@dataclass(frozen=True, slots=True)
class PlaceMark:
    """A place that the form tells."""

    name: str
    """Of its fields' group."""
    label: str
    x: float
    y: float
    """On the drawing."""


@dataclass(frozen=True, slots=True)
class PlaceDrawing:
    """The drawing, and what a script needs to go from it to millimetres and back."""

    figure: Figure
    marks: tuple[PlaceMark, ...]
    _: KW_ONLY
    per_mm: float
    front: float
    """Where the front axle is drawn."""
    middle: float
    """Where the centre line is."""
    wheelbase_mm: float
    units: Mapping[str, tuple[float, str]]
    """How many mm one is, and what a place is rounded to in it."""


def place_drawing(document: Document, names: Mapping[Path, str], car: Car) -> PlaceDrawing | None:
    """The drawing; None where the wheelbase is not known.

    Args:
        document: What the form tells.
        names: The fields' groups by the path of what they tell.
        car: The same, read.
    """
    base = car.geometry.wheelbase
    if isinstance(base, Unknown):
        return None
    per_mm = LENGTH / float(base)
    marks = tuple(_marks(document, names, base, per_mm))
    about = f"To scale, front at the top, {len(marks)} places on it."
    tracks = {axle: _or(track, base * 3 / 5) for axle, track in car.geometry.tracks.items()}
    if any(isinstance(track, Unknown) for track in car.geometry.tracks.values()):
        about += " How far apart the wheels stand is a sketch, for the tracks are not known yet."
    fitted = car.value("weighing.tyres")
    tyres = car.tyre_set(fitted) if isinstance(fitted, str) else ""
    widths = {wheel: of_tyre(car, tyres or "", wheel, "section") for wheel in WHEELS}
    layout = {
        "wheelbase": amount_data(millimetres(base)),
        "track": {axle: amount_data(millimetres(track)) for axle, track in tracks.items()},
        "tyre_width": {
            wheel: amount_data(millimetres(width))
            for wheel, width in widths.items()
            if not isinstance(width, Unknown)
        },
        "loads": {},
        "inside": car.inside,
    }
    figure = places_figure(layout, [(one.x, one.y, one.label) for one in marks], about)
    units = {name: float(parse_unit(name, None).factor / _MM.factor) for name in _STEPS}
    return PlaceDrawing(
        figure,
        marks,
        per_mm=per_mm,
        front=FRONT,
        middle=MIDDLE,
        wheelbase_mm=float(base),
        units={name: (factor, _STEPS[name]) for name, factor in units.items()},
    )


def _marks(
    document: Document, names: Mapping[Path, str], base: Fraction, per_mm: float
) -> Iterator[PlaceMark]:
    """Every place of which is told how far along and how far across."""
    for path, name in names.items():
        found: dict[str, Fraction] = {}
        data = document.get(path) if document.has(path) else None
        for key, told in data.items() if isinstance(data, dict) else ():
            mm = _mm(told) if key in PLACES else None
            if mm is not None:
                kept, sign = PLACES[key]
                across = kept == ACROSS
                found["left" if across else "along"] = sign * mm + (base if kept == FROM_REAR else 0)
        if len(found) == len(("along", "left")):
            x, y = MIDDLE - float(found["left"]) * per_mm, FRONT + float(found["along"]) * per_mm
            yield PlaceMark(name, _label(document, path), x, y)


def _mm(told: Plain) -> Fraction | None:
    """How many millimetres are written; None where that cannot be read."""
    if isinstance(told, dict):
        told = told.get("value")
    try:
        value = parse_quantity(told, _MM.kind, None).value if isinstance(told, str) else None
    except LiteralError:
        return None
    return value if isinstance(value, Fraction) else None


def _label(document: Document, path: Path) -> str:
    """What sits there."""
    number = f" {path[-1] + 1}" if isinstance(path[-1], int) else ""
    if path[0] in _OWN_WORDS:
        return _OWN_WORDS[str(path[0])] + number
    for deep in range(len(path), 1, -1):
        entry = document.get(path[:deep])
        told = [entry.get(key) for key in _CALLED] if isinstance(entry, dict) else []
        words = next((one for one in told if isinstance(one, str) and one), "")
        if words:
            return words + number
    return label_of(" ".join(str(part + 1 if isinstance(part, int) else part) for part in path[:2]))


def _or(value: Fraction | Unknown, otherwise: Fraction) -> Fraction:
    return otherwise if isinstance(value, Unknown) else value
