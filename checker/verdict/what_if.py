"""A what-if of which something is missing is refused: a weight that it leaves unknown is no answer to it.

Missing is what nobody states of the thing that is put in, taken out, moved or made heavier, or of its levers, where a
clause asks for a weight that is known without the what-if, or that lacks nothing else.
"""

from __future__ import annotations

from collections.abc import Iterator

from checker.car.car import Car
from checker.car.described.stated import ACROSS, ALONG, FROM_REAR
from checker.car.weights.weights import PAIRS, State
from checker.car.weights.what_if import altered
from checker.kinds.contract.check import Check, uses, walk
from checker.pack.model import Pack
from checker.quantities.kind import Unknown, unite
from checker.reading.document import Document
from checker.reading.paths import parse_path
from checker.reading.problems import InputError, Path, Problem

_WEIGHTS, _PERCENTAGES = "weight.", "percentage."
_MOVES = {
    "driver": ("mass", "at"),
    "fuel": ("capacity", "unusable", "density", "density_temperature", "temperature", "at"),
}
"""Of these sections, the keys that say what a thing weighs or where it acts; of the others below, all."""
_WHOLE = ("tyres", "wear", "fluids")
_FIELDS = ("mass", "at", "count", "parts")
_LEVERS = ("mass", ALONG, FROM_REAR, ACROSS)


def refuse_half_known(pack: Pack, car: Car, what_if: tuple[str, ...], declared: Document) -> None:
    """Refuse a what-if by which a weight that the pack asks for is not known.

    Args:
        car: As the what-if has it, with the car that was weighed.
        what_if: What was put in place of declared values, each "PATH=VALUE".
        declared: The car's own file, in which what is missing may be stated.

    Raises:
        InputError: CD198, with what to state and where.
    """
    if car.weighed_as is None or not car.weighing.readings:
        return
    paths = [text.partition("=")[0].strip() for text in what_if]
    own = tuple(name for path in paths for name in _owned(car, parse_path(path)))
    asks = next(_asked_for(pack, car), None) is not None
    told_anew = unite(_told_anew(car, car.weighed_as, paths) if asks else ())
    lacking = told_anew if told_anew.is_told else unite(_lacking(pack, car, own))
    if not lacking.is_told:
        return
    missing = {name: _path(car, name) or _path(car.weighed_as, name) or name for name in lacking.absent}
    lacks = Unknown(tuple(_told(name, path) for name, path in missing.items()), lacking.reasons)
    lacking_told = "; ".join(lacks.told())
    message = f"--set {', '.join(paths)}: what it does to the weights cannot be told: {lacking_told}"
    beside = " ".join(
        f"--set '{path}=...'"
        for name, path in missing.items()
        if not told_anew.is_told and (_path(car, name) or path == name)
    )
    hint = "state it in the car's file" if missing else "give the mass of the whole"
    hint += f", or beside the what-if: {beside}" if beside else ""
    places = {str(span := declared.span(parse_path(path))): ("here", span) for path in missing.values()}
    raise InputError([Problem("CD198", message, hint=hint, related=tuple(places.values()))])


def _told_anew(car: Car, before: Car, paths: list[str]) -> Iterator[Unknown]:
    """What is set of a thing that was on the scales and stated nowhere, where nothing else of the thing differs or
    another is put in its place: what comes off is not known, and no change at all is not what is asked about."""
    for name in car.lists_with_mass:
        was = {entry.path: entry for entry in before.every_entry(name)}
        for entry in car.every_entry(name):
            twin = was.get(entry.path)
            if twin is None or entry.parent or not any(path.startswith(entry.path) for path in paths):
                continue
            pairs = {field: (twin.stated(field), entry.stated(field)) for field in _LEVERS}
            news = [field for field, (old, new) in pairs.items() if old is None and new is not None]
            changed = any(
                old is not None and (new is None or old.value != new.value) for old, new in pairs.values()
            )
            if news and (entry.path in paths or (not changed and entry.count == twin.count)):
                yield Unknown(absent=tuple(f"{entry.label}: {field}" for field in news))


def _lacking(pack: Pack, car: Car, own: tuple[str, ...]) -> Iterator[Unknown]:
    before = car.weighed_as
    assert before is not None
    moved = altered(car)
    for name, state in _asked_for(pack, car):
        now = car.weights(state).weight(name)
        if not isinstance(now, Unknown):
            continue
        by_it = [kg for _, added in moved if isinstance(kg := added.get(name), Unknown)]
        if by_it and not isinstance(before.weights(state).weight(name), Unknown):
            yield unite(by_it)
        elif now.absent and not now.reasons and all(absent.startswith(own) for absent in now.absent):
            yield now


def _asked_for(pack: Pack, car: Car) -> Iterator[tuple[str, State]]:
    """Each weight that a clause asks for in a state of the car, once; no single wheels, which are never predicted."""
    found: dict[tuple[str, State], None] = {}
    for clause in pack.clauses.values():
        for check in clause.checks:
            for part in walk(check):
                states = [s for condition in part.conditions for s in car.states(condition)]
                found |= {(name, state): None for name in _pairs(part, car) for state in (State(), *states)}
    yield from found


def _pairs(check: Check, car: Car) -> set[str]:
    names = {name.partition(".")[2] for name in uses(check) if name.startswith((_WEIGHTS, _PERCENTAGES))}
    shares = any(name.startswith(_PERCENTAGES) for name in uses(check))
    sides = {"inside": car.inside, "outside": "right" if car.inside == "left" else "left"}
    return {sides.get(name, name) for name in names} & set(PAIRS) | ({"total"} if shares else set())


def _owned(car: Car, path: Path) -> Iterator[str]:
    """The beginnings of all names that belong to the thing of which a path says what it weighs, or where it acts."""
    section = str(path[0])
    key = path[1] if len(path) > 1 else None
    if section in _WHOLE or (section in _MOVES and (key is None or key in _MOVES[section])):
        yield f"{section}."
    elif section in car.lists_with_mass and (len(path) <= 2 or path[2] in _FIELDS):
        below = section if key is None else f"{section}[{key}]"
        yield from (f"{entry.label}: " for entry in car.every_entry(section) if entry.path.startswith(below))


def _path(car: Car, name: str) -> str:
    """The path under which a missing field of an entry is stated; "" where it is of none that this car has."""
    label, colon, field = name.partition(": ")
    entries = (entry for every in car.lists_with_mass for entry in car.every_entry(every))
    return next((f"{e.path}.{field}" for e in entries if colon and e.label == label), "")


def _told(name: str, path: str) -> str:
    label, colon, _ = name.partition(": ")
    return f"{path} ({label})" if colon else path
