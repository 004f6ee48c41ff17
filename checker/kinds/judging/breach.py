"""A breach of a limit as an act: kilograms to add, remove or move, millimetres, money, pieces."""

from __future__ import annotations

from fractions import Fraction
from math import ceil, floor

from checker.car.described.stated import Entry
from checker.car.scene import ITEM, Scene
from checker.kinds.judging.acts import Act, Do
from checker.quantities.amount import Amount, kilograms
from checker.quantities.dimension import MASS, MONEY
from checker.quantities.formula.expression import Expression
from checker.quantities.kind import Kind, Unknown
from checker.quantities.units import Unit, difference_kind
from checker.reading.patterns import pattern

_OPPOSITE = {"inside": "outside", "left": "right", "front": "rear"}
_OPPOSITE |= {other: side for side, other in _OPPOSITE.items()}
_NAME = pattern(r"[A-Za-z_.0-9]+")
_COUNTED = pattern(r"count\((?:\w+ for \w+ in )?([\w.]+)")
_APART = pattern(r"abs\(\s*([A-Za-z_][\w.]*)\s*-\s*([A-Za-z_][\w.]*)\s*\)\Z")
_SUM = pattern(r"\bsum\((\w+)\.([\w.]+) for \1 in (\w+)\b")
_WEIGHT = pattern(r"(weight|percentage)\.([a-z_]+)\Z")


def act_on(
    limit: Expression, short: Fraction, raise_it: bool, scene: Scene, unit: Unit | None, *, more: bool
) -> Act:
    """The act that brings a value back inside its bound.

    Args:
        short: By how much it is over or under, in base units of its kind; 0 where it stands on a bound that fails.
        raise_it: The value must go up.
        scene: Where it was judged, to turn a percentage into kilograms.
        unit: The unit of the margin.
        more: The bound itself fails, so that the value must come to lie beyond it.
    """
    named = _WEIGHT.match(limit.text)
    if named is not None and named[1] == "percentage" and named[2] in _OPPOSITE and short:
        total = scene.weight("total")
        if not isinstance(total, Unknown):
            kg = kilograms(short * total)
            start, end = (_OPPOSITE[named[2]], named[2]) if raise_it else (named[2], _OPPOSITE[named[2]])
            return Act(Do.MOVE, amount=kg, more=more, start=start, end=end)
    if named is not None and named[2] == "cross" and short:
        return _shift(limit, short, raise_it, scene, more=more)
    kind, amount = limit.kind, Amount(short, difference_kind(limit.kind), unit)
    if named is not None and named[1] == "weight" and short:
        where = "" if named[2] == "total" else named[2].replace("_", " ")
        return Act(Do.ADD if raise_it else Do.REMOVE, amount=amount, more=more, end=where)
    if kind.name == "number" and limit.text.startswith("count("):
        pieces = floor(short) + 1 if more else ceil(short)
        do = Do.FIT if raise_it else Do.TAKE_OFF
        counted = _COUNTED.match(limit.text)
        if raise_it and counted is not None and counted[1] in scene.car.vocabulary.facts:
            return Act(Do.TAKE_READINGS, what=counted[1], amount=Amount(Fraction(pieces), kind))
        return Act(do, amount=Amount(Fraction(pieces), kind))
    apart = _APART.match(limit.text)
    if apart is not None and not raise_it:
        greater = _greater(apart[1], apart[2], scene)
        return Act(Do.BRING_NEARER, what=_both(apart[1], apart[2]), amount=amount, more=more, target=greater)
    do = Do.RAISE if raise_it else Do.LOWER
    if kind.name == "quantity" and kind.dimension == MONEY and short:
        do = Do.SPEND_MORE if raise_it else Do.SPEND_LESS
    elif kind.name == "quantity" and kind.dimension == MASS and short:
        do = Do.ADD if raise_it else Do.TAKE_OFF
    target = target_named(limit.text, scene)
    each = int(getattr(scene.names.get(ITEM), "standing", 1)) > 1
    what = called(limit) if _NAME.fullmatch(limit.text) else ""
    found = _SUM.search(limit.text)
    summed = None if found is None else (found[3], found[2])
    return Act(do, what=what, amount=amount, more=more, each=each, target=target, summed=summed)


def _shift(limit: Expression, short: Fraction, raise_it: bool, scene: Scene, *, more: bool) -> Act:
    """The load to be shifted from one diagonal to the other."""
    total = scene.weight("total") if limit.text.startswith("percentage.") else Fraction(1)
    assert not isinstance(total, Unknown), "the margin that is short is known"
    across, along = "front outside and rear inside", "front inside and rear outside"
    start, end = (along, across) if raise_it else (across, along)
    amount = kilograms(short * total)
    return Act(Do.SHIFT_LOAD, amount=amount, more=more, start=start, end=end)


def _both(one: str, other: str) -> str:
    """Two values by name; by the name that both have, where it is of two entries."""
    names = [name.rpartition(".")[2].replace("_", " ") for name in (one, other)]
    return f"the {names[0]} of the two" if names[0] == names[1] else " and ".join(names)


def target_named(name: str, scene: Scene) -> tuple[str, ...]:
    """A fact, or a field of an entry that the check is made for, as `Act.target` has it; () where it is neither."""
    owner, _, field = name.rpartition(".")
    for entry, key in ((scene.names.get(ITEM), name), (scene.names.get(owner), field)):
        if isinstance(entry, Entry) and key in entry.fields:
            return (entry.list_name, entry.path, key)
    return (name,) if name in scene.car.facts else ()


def _greater(one: str, other: str, scene: Scene) -> tuple[str, ...]:
    """Which of two amounts is the greater, where both are stated as one value each."""
    found = []
    for name in (one, other):
        target = target_named(name, scene)
        stated = scene.car.facts.get(name) if len(target) == 1 else None
        if target and stated is None:
            list_name, path, field = target
            entry = next(e for e in scene.car.every_entry(list_name) if e.path == path)
            stated = entry.fields[field]
        if stated is None or not isinstance(stated.value, Fraction):
            return ()
        found.append((stated.value, target))
    return max(found)[1]


def called(limit: Expression) -> str:
    """A short name for what is limited: its last part, or the formula as written."""
    if _NAME.fullmatch(limit.text):
        return limit.text.rpartition(".")[2].replace("_", " ")
    return limit.text


def change_to(limit: Expression, wanted: object, kind: Kind, scene: Scene) -> Act:
    """The act for a word, truth or list that must be another."""
    return Act(Do.CHANGE, called(limit), wanted=(Amount(wanted, kind),), sets=_sets(limit, scene))


def _sets(limit: Expression, scene: Scene) -> tuple[tuple[str, ...], ...]:
    target = target_named(limit.text, scene)
    return (target,) if target else ()


def change_from(what: str, banned: object, kind: Kind, unit: Unit | None = None) -> Act:
    """The act for a value that may not be."""
    return Act(Do.CHANGE_FROM, what, wanted=(Amount(banned, kind, unit if kind.is_measure else None),))


def change_beyond(limit: Expression, wanted: object, kind: Kind, raise_it: bool, scene: Scene) -> Act:
    """The act for a day or grade: what it must be, or which way beyond."""
    ways = ("better", "lower") if kind.name == "grade" else ("later", "earlier")
    value, further = (Amount(wanted, kind),), ways[not raise_it]
    return Act(Do.CHANGE, called(limit), wanted=value, further=further, sets=_sets(limit, scene))
