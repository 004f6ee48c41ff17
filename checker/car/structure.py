"""Reads what stands in a declaration beside plain facts: where things sit, tyre sets, wear, instruments.

All of it ends up under dotted names just like facts ("fuel.at.behind_front_axle", "tyres.dry.front.mass",
"wear.front_left"), so that a report names what is missing by the words that the file would use.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from checker.car.reader import Reader, name_of, shape
from checker.car.standard import AXLES, WHEELS, measured
from checker.car.stated import Place, Stated
from checker.car.values import read_value
from checker.car.vocabulary import Instrument
from checker.quantities.kind import Kind
from checker.quantities.literal import LiteralError, parse_literal
from checker.reading.problems import Path

_ALONG = measured("behind_front_axle", "mm", positive=False, low=-5000, high=10000)
_ACROSS = measured("left_of_centre", "mm", positive=False, low=-3000, high=3000)
_TYRE = {
    "mass": measured("mass", "kg", high=200, about="Of one wheel with its tyre"),
    "section": measured("section", "mm", low=20, high=800, about="How wide the tyre's section is"),
}
_WEAR = measured("wear", "kg", high=50)


def read_structure(reader: Reader) -> dict[str, Stated]:
    """Places of fuel and driver, tyre sets and wear, by dotted name."""
    found = dict(_read_tyres(reader))
    for section in ("fuel", "driver"):
        if reader.document.has((section, "at")):
            place = read_place(reader, (section, "at"))
            for key in ("behind_front_axle", "left_of_centre"):
                stated: Stated | None = getattr(place, key)
                if stated is not None:
                    found[f"{section}.at.{key}"] = stated
    for wheel in WHEELS:
        if reader.document.has(("wear", wheel)):
            stated = read_value(reader, _WEAR, ("wear", wheel))
            if stated is not None:
                found[f"wear.{wheel}"] = stated
    return found


def read_place(reader: Reader, path: Path) -> Place:
    """The place at `path`: `{behind_front_axle, left_of_centre or right_of_centre}`, each may be negative."""
    keys = ("behind_front_axle", "left_of_centre", "right_of_centre")
    read: dict[str, Stated | None] = {}
    data = reader.mapping(path, "a place as {behind_front_axle: 1900 mm, left_of_centre: 20 mm}")
    for key in data:
        if key in keys:
            read[key] = read_value(reader, _ALONG if key == keys[0] else _ACROSS, (*path, key))
        else:
            reader.unknown_key((*path, key), "key of a place", keys)
    if keys[1] in read and keys[2] in read:
        message = f"{name_of(path)} gives both left_of_centre and right_of_centre"
        reader.problem(219, message, path, hint="keep one; a negative value lies on the other side")
    right = read.get(keys[2])
    return Place(read.get(keys[0]), read.get(keys[1]) or (_turned(right) if right else None))


def _turned(right: Stated) -> Stated:
    return Stated(
        -right.value, right.written, right.unit, right.origin, right.span, right.instrument, right.uncertainty
    )


def _read_tyres(reader: Reader) -> Iterator[tuple[str, Stated]]:
    """Tyre sets: `{dry: {front: {mass: .., section: ..}, rear: {..}}}`."""
    for name, data in reader.mapping(("tyres",), "tyre sets, such as dry: and wet:,").items():
        if f"tyres.{name}" in reader.vocabulary.facts:
            continue
        if data is None:
            message = f"nothing is written for the tyre set tyres.{name}"
            reader.problem(202, message, ("tyres", name), hint="state its masses, or take the line away")
            continue
        for axle in reader.mapping(("tyres", name), "front: and rear:"):
            if axle not in AXLES:
                reader.unknown_key(("tyres", name, axle), "axle", AXLES)
                continue
            for key in reader.mapping(("tyres", name, axle), "mass: and section:"):
                path = ("tyres", name, axle, key)
                if key not in _TYRE:
                    reader.unknown_key(path, "key of a tyre", _TYRE)
                    continue
                stated = read_value(reader, _TYRE[key], path)
                if stated is not None:
                    yield f"tyres.{name}.{axle}.{key}", stated


def tyre_sets_in(reader: Reader) -> tuple[str, ...]:
    """Names of the tyre sets that the file describes, in its order."""
    data = reader.document.get(("tyres",))
    sets = data.items() if isinstance(data, dict) else ()
    return tuple(
        name
        for name, inside in sets
        if isinstance(inside, dict) and f"tyres.{name}" not in reader.vocabulary.facts
    )


def read_instruments(reader: Reader) -> dict[str, Instrument]:
    """The instruments that the file describes: `pads: {resolution: 0.5 kg, permissible_error: 0.5 kg}`."""
    found: dict[str, Instrument] = {}
    for name in reader.mapping(("instruments",), "instruments by name"):
        path = ("instruments", name)
        if not isinstance(reader.document.get(path), dict):
            message = f"{name_of(path)} holds {shape(reader.document.get(path))}; a mapping was wanted"
            reader.problem(
                202, message, path, hint="write it as {resolution: 0.5 kg, permissible_error: 0.5 kg}"
            )
            continue
        kind: Kind | None = None
        read: dict[str, Fraction] = {}
        for key in reader.mapping(path, "a mapping"):
            if key not in ("resolution", "permissible_error"):
                reader.unknown_key((*path, key), "key of an instrument", ("resolution", "permissible_error"))
                continue
            quantity = _gear_quantity(reader, (*path, key), kind)
            if quantity is not None:
                read[key], kind = quantity
        found[name] = Instrument(name, **read, kind=kind)
    return found


def _gear_quantity(reader: Reader, path: Path, kind: Kind | None) -> tuple[Fraction, Kind] | None:
    """What an instrument resolves: of any kind, but the same kind throughout."""
    text = reader.document.get(path)
    if not isinstance(text, str):
        reader.problem(
            203, f"{name_of(path)} needs a number with its unit", path, hint="write it as in 0.5 kg"
        )
        return None
    try:
        literal = parse_literal(text, reader.vocabulary.currency)
    except LiteralError as error:
        reader.problem(203, f"{name_of(path)}: {error.message}", path, hint=error.hint)
        return None
    if not isinstance(literal.value, Fraction) or (kind is not None and not literal.kind.same_measure(kind)):
        reader.problem(204, f"{name_of(path)}: {text} does not fit the rest of the instrument", path)
        return None
    if literal.value < 0:
        reader.problem(207, f"{name_of(path)} is {text}; it cannot be below zero", path)
        return None
    return literal.value, literal.kind


def read_approvals(reader: Reader) -> tuple[str, ...]:
    """References of approvals that the file cites."""
    cited: list[str] = []
    for at, reference in enumerate(reader.sequence(("approvals",), "references as in [A-2026-014]") or ()):
        if isinstance(reference, str) and reference.strip():
            cited.append(reference)
        else:
            reader.problem(
                210,
                f"approvals[{at}] is not a reference in words",
                ("approvals", at),
                hint="put it in quotes",
            )
    return tuple(cited)
