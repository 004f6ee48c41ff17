"""A plan written into the car's declaration: what is bolted on, moved and taken off, and that it was done since."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from fractions import Fraction

from checker.car.car import Car
from checker.car.declaration.since import PATH as SINCE
from checker.car.described.planning import BallastPlace, ShelfPiece
from checker.car.described.stated import ABOVE, ACROSS, ALONG, FROM_REAR, Stated
from checker.car.weights.geometry import Spot
from checker.car.weights.places import spot_told
from checker.quantities.display import decimal_text
from checker.quantities.folding import fold
from checker.quantities.kind import Unknown
from checker.reading.document import REMOVE, Document, Edit
from checker.reading.paths import format_path
from checker.reading.problems import Path
from checker.reading.rewriting import rewritten
from checker.reading.values import Plain
from checker.studies.planning.options import DRIVER, TANK, Doing, Option, entry_at

_KEYS = {
    ALONG: "behind_front_axle",
    FROM_REAR: "behind_rear_axle",
    ACROSS: "left_of_centre",
    ABOVE: "above_ground",
}


def written(document: Document, car: Car, chosen: Mapping[Option, Fraction]) -> str:
    """The text of the car's declaration with a plan carried out, its comments and order as they were.

    Args:
        chosen: How often each option is done; of what slides which part.
    """
    return rewritten(document, list(_edits(document, car, chosen)), "PL304")


def _edits(document: Document, car: Car, chosen: Mapping[Option, Fraction]) -> Iterator[Edit]:
    done: list[Plain] = []
    moving = [option for option in chosen if option.doing is Doing.MOVE]
    for path in dict.fromkeys(option.path for option in moving):
        ways = {option: chosen[option] for option in moving if option.path == path}
        option = next(iter(ways))
        where = path if path in (DRIVER, TANK) else (*path, "at")
        done.append({"moved": _name(car, option), "from": _as_told(document, where, option.now)})
        if option.slides:
            yield Edit(where, _slid(document, where, car, ways))
        elif option.place is not None:
            yield Edit(where, _at(option.place))
            if where != path:
                yield from (Edit((*path, key), told) for key, told in _fields(option.place.fields))
    labels = {fold(entry.label) for entry in car.every_entry("ballast")}
    added = document.get(("ballast",))
    at = len(added) if isinstance(added, list) else 0
    for option, times in chosen.items():
        if option.doing is Doing.ADD and times:
            label = _unused(option.what, labels)
            labels.add(fold(label))
            yield Edit(("ballast", at), _entry(option, int(times), label))
            done.append({"added": label})
            at += 1
    gone = [option for option in chosen if option.doing is Doing.TAKE_OFF and chosen[option]]
    for option in sorted(gone, key=lambda one: format_path(one.path), reverse=True):
        done.append({"taken_off": document.get(option.path)})
        yield Edit(option.path, REMOVE)
    yield from _no_longer(document, car, chosen)
    before = document.get(SINCE)
    if done:
        yield Edit(SINCE, [*(before if isinstance(before, list) else ()), *done])


def _no_longer(document: Document, car: Car, chosen: Mapping[Option, Fraction]) -> Iterator[Edit]:
    """What may be done is no longer: a piece is off the shelf, and what came off comes off no more."""
    gone = {fold(_name(car, o)) for o in chosen if o.doing is Doing.TAKE_OFF and chosen[o]}
    for key in ("may_come_off", "movable"):
        listed = document.get(("planning", key))
        for at, one in reversed(list(enumerate(listed if isinstance(listed, list) else ()))):
            what = one.get("what") if isinstance(one, dict) else one
            if isinstance(what, str) and fold(what) in gone:
                yield Edit(("planning", key, at), REMOVE)
    used: dict[str, int] = {}
    for option, times in chosen.items():
        if option.doing is Doing.ADD:
            used[fold(option.what)] = used.get(fold(option.what), 0) + int(times)
    shelf = document.get(("planning", "shelf"))
    for at, one in reversed(list(enumerate(shelf if isinstance(shelf, list) else ()))):
        piece = next(
            (p for p in car.planning.shelf if isinstance(one, dict) and one.get("label") == p.label), None
        )
        taken = 0 if piece is None else used.get(fold(piece.label), 0)
        if piece is None or not taken:
            continue
        left = piece.count - taken
        if not left:
            yield Edit(("planning", "shelf", at), REMOVE)
        elif piece.is_stock:
            yield Edit(("planning", "shelf", at, "most"), f"{decimal_text(left * piece.kg)} kg")
        else:
            yield Edit(("planning", "shelf", at, "count"), left)


def _name(car: Car, option: Option) -> str:
    if option.path == DRIVER:
        return "driver"
    return "fuel tank" if option.path == TANK else entry_at(car, option.path).label


def _unused(label: str, labels: set[str]) -> str:
    """The label, with a number behind it where it is borne already."""
    number, found = 1, label
    while fold(found) in labels:
        number += 1
        found = f"{label}-{number}"
    return found


def _entry(option: Option, times: int, label: str) -> dict[str, Plain]:
    piece, place = option.of, option.place
    assert isinstance(piece, ShelfPiece)
    assert place is not None
    kg = piece.kg * times if piece.is_stock else piece.kg
    entry: dict[str, Plain] = {"label": label, "mass": f"{decimal_text(kg)} kg"}
    if times > 1 and not piece.is_stock:
        entry["count"] = times
    entry["at"] = _at(place)
    entry.update(_fields({**piece.fields, **place.fields}))
    return entry


def _fields(fields: Mapping[str, Stated]) -> Iterator[tuple[str, Plain]]:
    for key, stated in fields.items():
        if key.startswith("at."):
            continue
        value = stated.value
        if isinstance(value, bool) or (stated.unit is None and isinstance(value, int)):
            yield key, value
        elif stated.unit is None and isinstance(value, Fraction) and value.denominator == 1:
            yield key, int(value)
        elif isinstance(value, tuple):
            yield key, list(stated.written.split(", "))
        else:
            yield key, stated.written


def _at(place: BallastPlace) -> dict[str, Plain]:
    found: dict[str, Plain] = {}
    for key, stated in place.fields.items():
        if key == ACROSS and stated.value < 0 and stated.written.startswith("-"):
            found["right_of_centre"] = stated.written.removeprefix("-").strip()
        elif key in _KEYS:
            found[_KEYS[key]] = stated.written
    return found


def _as_told(document: Document, path: Path, spot: Spot | None) -> Plain:
    """Where it was, as the file tells it."""
    told = document.get(path)
    return _of_spot(spot) if told is None and spot is not None else told


def _of_spot(spot: Spot) -> dict[str, Plain]:
    along = "behind_rear_axle" if spot.wheelbases == 1 else "behind_front_axle"
    return {along: _mm(spot.along), "left_of_centre": _mm(spot.across)}


def _mm(value: Fraction | Unknown) -> str:
    return "" if isinstance(value, Unknown) else f"{decimal_text(value, 3)} mm"


def _slid(document: Document, path: Path, car: Car, ways: Mapping[Option, Fraction]) -> Plain:
    """Where a thing that slides ends: a mean of where it is and of the ends, to a thousandth of a millimetre."""
    option = next(iter(ways))
    assert option.now is not None
    spots = [(Fraction(1) - sum(ways.values(), Fraction(0)), option.now)]
    spots += [(part, spot_told(one.place.fields)) for one, part in ways.items() if one.place is not None]
    base = car.geometry.wheelbase
    along = across = Fraction(0)
    for part, spot in spots:
        behind = spot.behind(0, base)
        assert not isinstance(behind, Unknown)
        assert not isinstance(spot.across, Unknown)
        along += part * behind
        across += part * spot.across
    before = document.get(path)
    found = _of_spot(Spot(along, across))
    if isinstance(before, dict) and "above_ground" in before:
        found["above_ground"] = before["above_ground"]
    return found
