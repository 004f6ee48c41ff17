"""Reads what stands in a declaration beside plain facts: where things sit, tyre sets, wear, instruments.

All of it ends up under dotted names just like facts ("fuel.at.behind_front_axle", "tyres.dry.front.mass",
"wear.front_left"), so that a report names what is missing by the words that the file would use.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator
from fractions import Fraction

from checker.car.declaration.instruments import instruments_in
from checker.car.described.instrument import Instrument
from checker.car.described.standard import AXLES, SIDES, WHEELS, measured
from checker.car.described.stated import ABOVE, ACROSS, ALONG, FROM_REAR, Stated
from checker.car.reading.mistakes import Reader, name_of
from checker.car.reading.values import read_given, read_value
from checker.quantities.folding import fold, spelt_like
from checker.reading.file_reader import Mistake
from checker.reading.nearest import did_you_mean, nearest
from checker.reading.problems import Path, Span

_ALONG = measured("behind_front_axle", "mm", positive=False, low=-5000, high=10000)
_ACROSS = measured("left_of_centre", "mm", positive=False, low=-3000, high=3000)
_ABOVE = measured("above_ground", "mm", high=3000)
_TYRE = {
    "mass": measured("mass", "kg", high=200, of_a_thing=True, about="Of one wheel with its tyre"),
    "section": measured("section", "mm", low=20, high=800, about="How wide the tyre's section is"),
    "radius": measured("radius", "mm", low=100, high=600, about="From the hub to the ground, under the car"),
}
_LEVEL = measured("level", "L", high=1000)
_LOST = measured("lost", "kg", high=100)
_WEAR = measured("wear", "kg", high=50)

PLACES = {
    "behind_front_axle": (ALONG, 1),
    "ahead_of_front_axle": (ALONG, -1),
    "behind_rear_axle": (FROM_REAR, 1),
    "ahead_of_rear_axle": (FROM_REAR, -1),
    "left_of_centre": (ACROSS, 1),
    "right_of_centre": (ACROSS, -1),
}
"""How a place may be told: each key with what it is kept under, and its sign there."""
_WORDS = {word: word for word in ("front", "rear", "ahead", "behind", "left", "right", "above")} | {
    "back": "rear", "before": "ahead", "forward": "ahead", "after": "behind", "over": "above",
}  # fmt: skip
"""Words by which entrants tell a place, with those of the keys."""


def read_structure(reader: Reader) -> dict[str, Stated]:
    """Places of fuel and driver, tyre sets and wear, by dotted name."""
    found = dict(_read_tyres(reader))
    for section in ("fuel", "driver"):
        if section == "fuel" and isinstance(reader.document.get(("fuel", "at")), list):
            found.update(_read_levels(reader))
        elif reader.document.has((section, "at")):
            found.update(_at(section, read_place(reader, (section, "at"))))
    found.update(_read_fluids(reader))
    for wheel in WHEELS:
        if reader.document.has(("wear", wheel)):
            stated = read_value(reader, _WEAR, ("wear", wheel))
            if stated is not None:
                found[f"wear.{wheel}"] = stated
    return found


def read_place(
    reader: Reader, path: Path, beside: tuple[str, ...] = (), *, of_entry: bool = False
) -> dict[str, Stated]:
    """The place at `path`: how far behind or ahead of one axle, and to one side; each may be negative.

    Args:
        beside: Other keys that may stand there.
        of_entry: An entry of a list sits there; `above_ground` may stand there too.

    Returns:
        What can be read of it, under `ALONG` or `FROM_REAR`, `ACROSS` and `ABOVE`.
    """
    place: dict[str, Stated] = {}
    told_by: dict[str, str] = {}
    keys = {**PLACES, "above_ground": (ABOVE, 1)} if of_entry else PLACES
    data = reader.mapping(*path, wanted="a place as {behind_front_axle: 1900 mm, left_of_centre: 20 mm}")
    for key, value in data.items():
        if key in beside:
            continue
        if key not in keys:
            meant = [name for name in keys if _tells(key) and _tells(key) <= _tells(name)]
            hint = f"write {' or '.join(meant)}" if meant else f"known here: {', '.join(keys)}"
            message = f"{name_of((*path, key))}: there is no key of a place {key!r}"
            reader.key_problem(Mistake.UNKNOWN_KEY, message, *path, key, hint=hint)
            continue
        name, sign = keys[key]
        fact = {ACROSS: _ACROSS, ABOVE: _ABOVE}.get(name, _ALONG)
        stated = read_given(reader, fact, (*path, key), value)
        if fact.name in told_by:
            message = f"{name_of(path)} gives both {told_by[fact.name]} and {key}"
            reader.problem(219, message, *path, hint="keep one; a negative value lies the other way")
        told_by[fact.name] = key
        if stated is not None:
            place[name] = stated if sign == 1 else _turned(stated)
    return place


def _tells(key: str) -> frozenset[str]:
    """What a key says of a place, however it is spelt: of which axle, to which side. One that says another thing is no
    cure: what lies behind the rear axle is not as far behind the front one."""
    words = key.replace("in_front", "ahead").replace("-", "_").split("_")
    found = (nearest(word, _WORDS) for word in words if len(word) > 2)
    return frozenset(_WORDS[word] for word in found if word is not None)


def _at(owner: str, place: dict[str, Stated]) -> dict[str, Stated]:
    return {f"{owner}.{key}": stated for key, stated in place.items()}


def _read_levels(reader: Reader) -> Iterator[tuple[str, Stated]]:
    """A tank as a table: `[{level: 10 L, behind_front_axle: 2050 mm, left_of_centre: 0 mm}, ...]`, from low to high."""
    path: Path = ("fuel", "at")
    if not reader.get(*path):
        hint = "write a place, or the levels from low to high"
        reader.problem(219, "fuel.at is an empty list", *path, hint=hint)
    before = Fraction(0)
    for at in range(len(reader.listed(*path, wanted="a place, or a list of levels,"))):
        here = (*path, at)
        stated = read_value(reader, _LEVEL, (*here, "level"))
        if stated is None:
            continue
        if stated.value <= before:
            below = "the level before" if before else "0 L"
            message = f"{name_of(here)}: {stated.written} is not above {below}"
            hint = "write the levels from low to high, each with the centre of all the fuel up to it"
            reader.problem(219, message, *here, "level", hint=hint)
        before = stated.value
        yield f"fuel.at[{at}].level", stated
        for key, where in read_place(reader, here, beside=("level",)).items():
            yield f"fuel.at[{at}].{key.removeprefix('at.')}", where


def _read_fluids(reader: Reader) -> Iterator[tuple[str, Stated]]:
    """Fluids used up over a race: `{water: {lost: 0.8 kg, at: {...}}}`."""
    for name in reader.mapping("fluids", wanted="fluids by name"):
        path: Path = ("fluids", name)
        data = reader.mapping(*path, wanted="what is lost and where, as {lost: 0.8 kg, at: {...}},")
        reader.known_keys(("lost", "at"), *path, what="a fluid")
        if "lost" not in data:
            message = f"{name_of(path)} does not say how much is lost"
            hint = "add lost: with what it loses from new to worn, as in 0.8 kg"
            reader.problem(202, message, *path, hint=hint)
            continue
        stated = read_value(reader, _LOST, (*path, "lost"))
        if stated is not None:
            yield f"fluids.{name}.lost", stated
        if "at" in data:
            yield from _at(f"fluids.{name}", read_place(reader, (*path, "at"))).items()


def _turned(stated: Stated) -> Stated:
    if stated.value == 0:
        return stated
    written = stated.written.removeprefix("-").strip() if stated.value < 0 else f"-{stated.written}"
    return stated._replace(value=-stated.value, written=written)


MOST_TYRE_SETS = 20
"""Every clause on weights is judged with each of them, new and worn."""


def _read_tyres(reader: Reader) -> Iterator[tuple[str, Stated]]:
    """Tyre sets: `{dry: {front: {mass: .., section: ..}, rear: {left: {..}, right: {..}}}}`."""
    sets = reader.mapping("tyres", wanted="tyre sets, such as dry: and wet:,")
    if len(sets) > MOST_TYRE_SETS:
        message = f"{len(sets)} tyre sets are described; at most {MOST_TYRE_SETS} are read"
        reader.problem(117, message, "tyres", hint="keep those that are run")
        return
    for name, data in sets.items():
        if f"tyres.{name}" in reader.vocabulary.facts:
            continue
        run = reader.vocabulary.tyre_sets
        if run and fold(name) not in map(fold, run):
            reader.unknown_name("tyre set", run, "tyres", name)
            continue
        if data is None:
            message = f"nothing is written for the tyre set tyres.{name}"
            reader.problem(202, message, "tyres", name, hint="state its masses, or take the line away")
            continue
        for axle in reader.mapping("tyres", name, wanted="front: and rear:"):
            if axle not in AXLES:
                reader.unknown_name("axle", AXLES, "tyres", name, axle)
                continue
            path: Path = ("tyres", name, axle)
            yield from _read_tyre(reader, path, (*_TYRE, *SIDES))
            for side in SIDES:
                if reader.has(*path, side):
                    yield from _read_tyre(reader, (*path, side), _TYRE)


def _read_tyre(reader: Reader, path: Path, keys: Collection[str]) -> Iterator[tuple[str, Stated]]:
    """One tyre, or both of an axle; what one of them is said to have is not said of both."""
    *above, last = path
    for key in reader.mapping(*path, wanted="mass: and section:"):
        here = (*path, key)
        if key not in keys:
            reader.unknown_name("key of a tyre", keys, *here)
        elif key in _TYRE:
            stated = read_value(reader, _TYRE[key], here)
            if stated is not None:
                yield ".".join(map(str, here)), stated
            if last in SIDES and reader.has(*above, key):
                both = name_of((*above, key))
                message = f"{name_of(here)}: {both} is stated too, of both tyres of the axle"
                hint = "keep it for both, or state it under left: and right:"
                reader.problem(219, message, *here, hint=hint)


def tyre_sets_in(reader: Reader) -> tuple[str, ...]:
    """Names of the tyre sets that the file describes, in its order."""
    facts, sets = reader.vocabulary.facts, reader.document.mapping(("tyres",)).items()
    return tuple(name for name, tyres in sets if isinstance(tyres, dict) and f"tyres.{name}" not in facts)


def read_instruments(reader: Reader) -> dict[str, Instrument]:
    """The instruments that the file describes; what cannot be used is left out, with problems noted."""
    reader.mapping("instruments", wanted="instruments by name")
    return instruments_in(reader, reader.vocabulary.currency)


def read_approvals(reader: Reader) -> tuple[str, ...]:
    cited: list[str] = []
    for at, reference in enumerate(reader.listed("approvals", wanted="references as in [A-2026-014]")):
        if isinstance(reference, str) and reference.strip():
            cited.append(reference)
        else:
            message = f"approvals[{at}] is not a reference in words"
            reader.problem(210, message, "approvals", at, hint="put it in quotes")
    return tuple(cited)


def read_unfinished(reader: Reader) -> dict[str, Span]:
    """Names of the lists that are not finished, each with where it says so."""
    found: dict[str, Span] = {}
    lists = reader.vocabulary.lists
    for at, given in enumerate(reader.listed("unfinished", wanted="names of lists as in [components]")):
        path: Path = ("unfinished", at)
        name = spelt_like(given, lists) if isinstance(given, str) else None
        if name is None:
            hint = did_you_mean(str(given), lists) or f"lists are {', '.join(lists)}"
            reader.problem(205, f"{name_of(path)}: the pack has no list {given!r}", *path, hint=hint)
        else:
            found[name] = reader.document.span(path)
    return found
