"""What the page tells of the verdict: the result first, then what is missing, what to put right, what is closest."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from checker.pages.form.drawing import PlaceDrawing, place_drawing
from checker.pages.form.judging import JudgedForm, name_of
from checker.pages.form.maker import label_of
from checker.pages.form.parts import CarForm
from checker.pages.form.reports import inspection_data
from checker.reading.paths import parse_path
from checker.reading.patterns import pattern
from checker.reading.problems import Path
from checker.reading.quick_dataclasses import KW_ONLY, dataclass
from checker.report.amounts import Data
from checker.report.figure import Figure
from checker.report.html.one_car import UNDECIDED, car_view
from checker.report.one_car.missing import STEPS

_PLACES = {
    "at.behind_front_axle": "place along the car",
    "at.behind_rear_axle": "place along the car",
    "at.left_of_centre": "place across the car",
}
_POSITION = pattern(r"\[([0-9]+)\]")
_WAY = pattern("~[0-9]+")


@dataclass(frozen=True, slots=True)
class Lack:
    """A section with what is not stated in it."""

    section: str
    fields: tuple[tuple[str, str], ...]
    """The name of each field, with its words."""


@dataclass(frozen=True, slots=True)
class NextStep:
    """A clause that is settled next, with what it lacks once the steps before are done."""

    clause: str
    lacks: tuple[Lack, ...]

    @property
    def first(self) -> tuple[str, str]:
        """The first of its fields: name and words."""
        lack = self.lacks[0]
        name, words = lack.fields[0]
        return name, ", ".join(filter(None, (lack.section, words)))


@dataclass(frozen=True, slots=True)
class Panel:
    """What stands beside the form."""

    stamp: dict[str, str]
    told: str
    errors: tuple[tuple[str, str, str], ...]
    """Of what cannot be read: the field's name, its words, what is wrong."""
    _: KW_ONLY
    weights: tuple[Lack, ...] = ()
    others: tuple[Lack, ...] = ()
    missing: int = 0
    steps: tuple[NextStep, ...] = ()
    """What to fill in next, the clause first that lacks least."""
    sections: tuple[Any, ...] = ()
    closest: Figure | None = None
    pictures: tuple[Figure, ...] = ()
    assumed: tuple[str, ...] = ()
    drawing: PlaceDrawing | None = None
    """None where the wheelbase is not known, or something cannot be read."""
    rules: str = ""
    counts: str = ""


def panel(found: JudgedForm, form: CarForm) -> Panel:
    inspection = found.inspection
    errors = tuple((one.name, words_of(one.name), one.words) for one in found.errors)
    if inspection is None:
        number = len(errors)
        told = f"{number} {'entry' if number == 1 else 'entries'} cannot be read; the verdict waits for that"
        return Panel(UNDECIDED, told, errors, rules=form.title)
    document = inspection_data(inspection)
    view = car_view(document)
    missing = document["missing"]
    sections = [section for section in view["sections"] if section["title"] in _TITLES]
    return Panel(
        view["verdict"],
        f"{len(missing)} thing{'' if len(missing) == 1 else 's'} not declared yet" if missing else "",
        errors,
        weights=_lacks((one["name"] for one in missing if one["weights"]), found.names),
        others=_lacks((one["name"] for one in missing if not one["weights"]), found.names),
        missing=len(missing),
        steps=tuple(_steps(document, found.names)),
        sections=tuple(sections),
        closest=view["closest"],
        pictures=tuple(one for one in view["figures"] if one.name in ("plan", "window")),
        assumed=tuple(view["assumed"]),
        drawing=None
        if found.document is None
        else place_drawing(found.document, found.names, inspection.car),
        rules=f"{view['rules']}, {view['judged']}",
        counts=view["counts"],
    )


_TITLES = ("Put right", "Too close to call", "By an approval")


def _lacks(missing: Iterable[str], names: Mapping[Path, str]) -> tuple[Lack, ...]:
    """By section, the fields that these things go into."""
    found: dict[str, dict[tuple[str, str], None]] = {}
    for one in missing:
        section, words = _split(one)
        found.setdefault(section, {})[_field(one, names), words] = None
    return tuple(Lack(section, tuple(fields)) for section, fields in found.items())


def _steps(document: Data, names: Mapping[Path, str]) -> Iterator[NextStep]:
    """Which clauses are settled soonest."""
    titles = {one["clause"]: one["title"] for one in document["outcomes"]}
    for step in document["steps"][:STEPS]:
        yield NextStep(f"{step['clause']} {titles[step['clause']]}", _lacks(step["missing"], names))


def _field(name: str, names: Mapping[Path, str]) -> str:
    """The field that a thing which is not stated goes into."""
    try:
        path = parse_path(name)
    except ValueError:
        return ""  # of an entry: "B1: mass"
    return name_of(path, names)


def _split(name: str) -> tuple[str, str]:
    section, _, rest = name.partition(".")
    rest = _PLACES.get(rest, rest)
    if not rest:
        return label_of(section), ""
    return label_of(section), label_of(rest.replace(".", ", ")).lower()


def words_of(name: str) -> str:
    """A field's name in words: "Weighing, readings 1, front left"."""
    told = _POSITION.sub(lambda found: f" {int(found[1]) + 1}", _WAY.sub("", name))
    return label_of(told.replace(".", ", ")) if name else "The car"
