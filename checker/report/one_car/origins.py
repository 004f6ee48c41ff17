"""Where the numbers behind an outcome were read: file and line of every fact, field and load that went in."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from checker.car.car import Car
from checker.car.described.asking import ROLL_SPLIT
from checker.car.described.standard import WHEELS
from checker.car.described.stated import Entry, Stated
from checker.car.scene import Scene
from checker.car.weights.weights import PAIRS, State
from checker.quantities.kind import Unknown
from checker.reading.problems import Span
from checker.report.amounts import KG, Data, known_data
from checker.report.words.amounts import statement_words


def read_from(names: Iterable[str], scenes: Iterable[Scene], item: str) -> list[Data]:
    """Everything that was read for a check, each once: {name, written, origin, instrument, place}.

    Args:
        names: Full names of facts, fields ("components.price"), lists and weights, as formulas use them.
        scenes: What the formulas were evaluated in; at least one.
        item: The entry that the check was made for, where it was made for one.
    """
    found: dict[tuple[str, str], Data] = {}
    for scene in scenes:
        for name in names:
            for data in _read_for(name, scene, item):
                found.setdefault((data["name"], data["written"]), data)
    return list(found.values())


def weights_from(names: Iterable[str], scenes: Iterable[Scene]) -> list[Data]:
    """How each weight that a check looks at is made up: {name, state, steps, sum}."""
    wanted: dict[tuple[str, State | None, int | None], Scene] = {}
    for scene in scenes:
        for name in names:
            for weight in _weights_in(name):
                wanted.setdefault((weight, scene.state, scene.weighing), scene)
    return [_weight_data(weight, scene) for (weight, _, _), scene in wanted.items()]


def _weights_in(name: str) -> tuple[str, ...]:
    """The weights behind a name: a percentage is one weight over the total."""
    section, _, which = name.partition(".")
    if section not in ("weight", "percentage"):
        return ()
    return (which,) if section == "weight" or which == "total" else (which, "total")


def _read_for(name: str, scene: Scene, item: str) -> Iterator[Data]:
    car = scene.car
    section, _, rest = name.partition(".")
    for weight in _weights_in(name):
        yield from _loads(weight, scene)
    if name in car.vocabulary.facts:
        yield _stated_data(name, car.stated(name))
    elif section in car.vocabulary.lists:
        bound = _bound_entries(section, scene, item)
        if bound is None:
            yield from _of_whole_list(section, rest, car)
        elif rest and not _is_worked_out(car, section, rest):
            yield from (_stated_data(f"{entry.label}: {rest}", entry.stated(rest)) for entry in bound)


def _of_whole_list(name: str, field: str, car: Car) -> Iterator[Data]:
    """What was read where a formula goes through a list: the fields that are stated, or the entries themselves."""
    entries = car.entries(name, parts=True)
    if isinstance(entries, Unknown):
        yield _stated_data(name, None)
        return
    its_field = car.vocabulary.lists[name].fields.get(field)
    if its_field is not None and its_field.kind.tree != "category":
        for entry in entries:
            stated = entry.stated(field)
            if stated is not None:
                yield _stated_data(f"{entry.label}: {field}", stated)
    elif its_field is None and len(entries) <= _MOST_ENTRIES:
        yield from (_entry_data(name, entry.label, entry) for entry in entries)
    elif entries:
        yield _entry_data(name, f"{len(entries)} entries", entries[0])


_MOST_ENTRIES = 8
"""A longer list is named with the number of its entries."""


def _bound_entries(list_name: str, scene: Scene, item: str) -> list[Entry] | None:
    """The entries that a check was made for; None where it looks at the whole list."""
    named = [entry for value in scene.names.values() for entry in _entries_in(value)]
    bound = [entry for entry in named if entry.list_name == list_name]
    if bound or not item:
        return bound or None
    every = scene.car.entries(list_name, parts=True)
    labelled = [] if isinstance(every, Unknown) else [entry for entry in every if entry.label == item]
    return labelled or None


def _entries_in(value: object) -> list[Entry]:
    values = value if isinstance(value, tuple) else (value,)
    return [one for one in values if isinstance(one, Entry)]


def _is_worked_out(car: Car, list_name: str, field: str) -> bool:
    its_field = car.vocabulary.lists[list_name].fields.get(field)
    return its_field is None or its_field.formula is not None


def _stated_data(name: str, stated: Stated | None) -> Data:
    if stated is None:
        return {
            "name": name,
            "written": None,
            "origin": None,
            "instrument": None,
            "instrument_named": False,
            "place": None,
        }
    return {
        "name": name,
        "written": stated.written,
        "origin": stated.origin,
        "instrument": stated.instrument or None,
        "instrument_named": stated.names_instrument,
        "place": place_data(stated.span),
    }


def place_data(span: Span | None) -> Data | None:
    """A place in a file, counted from 1."""
    return None if span is None else {"file": span.file, "line": span.line, "column": span.column}


def _entry_data(name: str, written: str, entry: Entry) -> Data:
    data = {
        "name": name,
        "written": written,
        "origin": "declared",
        "instrument": None,
        "instrument_named": False,
    }
    return {**data, "place": place_data(entry.span)}


def _loads(weight: str, scene: Scene) -> Iterator[Data]:
    """The loads behind a weight, and all that tells what differs from the weighing."""
    car = scene.car
    for at, reading in enumerate(car.weighing.readings):
        for load, stated in reading.loads.items():
            if scene.weighing in (None, at) and _bears_on(weight, load, car.vocabulary.inside):
                yield _stated_data(f"weighing.readings[{at}].{load}", stated)
    for change in car.weights(scene.state, scene.weighing).changes:
        yield from (_stated_data(use, car.stated(use)) for use in change.uses if use != ROLL_SPLIT)


def _weight_data(name: str, scene: Scene) -> Data:
    weights = scene.car.weights(scene.state, scene.weighing)
    whole = weights.weight(name)
    steps = weights.steps(name) if name in _SUMS else (("as weighed", whole),)
    return {
        "name": f"weight.{name}",
        "state": None if scene.state is None else scene.state.words,
        "steps": [
            {"words": statement_words(words), "weight": known_data(amount, KG)} for words, amount in steps
        ],
        "sum": known_data(whole, KG),
    }


_SUMS = (*PAIRS, "inside", "outside")
"""Weights that are told in every state; the others are measured, never predicted."""


def _bears_on(weight: str, load: str, inside: str) -> bool:
    """Whether a load that was read is part of a weight: the front left wheel of `front`, `left` and `total`."""
    outside = "right" if inside == "left" else "left"
    parts = weight.replace("inside", inside).replace("outside", outside).split("_")
    if weight in ("total", "cross") or load == "total":
        return True
    return set(parts) <= set(load.split("_")) or (load not in WHEELS and load in parts)
