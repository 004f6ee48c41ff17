"""What an act changes that is no amount, done on the car as data: words, days, what is provided or replaced.

An amount is searched for along an axis (`checker.verdict.axes`); all else is one deed, after which the clause is met or
not. Of something that is to be of another material, materials that the pack knows are tried in turn.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from typing import Any

from checker.car.car import Car
from checker.car.described.stated import WHAT_IF, Entry, Stated
from checker.kinds.judging.acts import Act, Do, Untried
from checker.kinds.judging.findings import Offends
from checker.quantities.folding import fold
from checker.reading.quick_dataclasses import replace

Deed = Callable[[Car], Car]


def deed_of(act: Act, car: Car, material: str = "") -> Deed | None:
    """What an act changes, as a change of the car; None where it is nothing that can be done to a car as data.

    Args:
        material: What a thing is made of instead, where the act says only of what not.
    """
    match act.do:
        case Do.CHANGE | Do.RENEW if act.sets:
            return lambda car: _with_all(car, act.sets, act.wanted[0].value)
        case Do.PROVIDE if act.sets and act.amount is not None:
            words = [one.value for one in act.wanted[: int(act.amount.value)]]
            return lambda car: _provided(car, act.sets[0], words)
        case Do.REPLACE:
            return lambda car: _reworded(car, act, act.what, act.wanted[0].value)
        case Do.MAKE_OF_ANOTHER | Do.REMOVE_OR_REPLACE:
            other = material if act.do is Do.MAKE_OF_ANOTHER else ""
            (bad,) = [option.word for option in act.options if isinstance(option, Offends)]
            if not other and _label(act) == "" and not _among_several(car, bad):
                return None
            return lambda car: _reworded(car, act, bad, other)
        case _:
            return None


def materials_tried(acts: list[Act], car: Car) -> tuple[str, ...]:
    """What is tried in turn where something is to be of another material; one blank where nothing is."""
    if not any(act.do is Do.MAKE_OF_ANOTHER for act in acts):
        return ("",)
    bad = {fold(o.word) for act in acts for o in act.options if isinstance(o, Offends)}
    return tuple(word for word in car.vocabulary.materials.words if fold(word) not in bad) or ("",)


_CHOICES = (Do.GIVE_UP, Do.CHANGE_FROM, Do.FIT_OR_DECLARE, Do.FIT, Do.TAKE_OFF, Do.REMOVE_OR_REPLACE)


def why_untried(act: Act) -> Untried:
    """Why what an act asks for is nothing that can be done to a car as data."""
    if act.do is Do.AS_WRITTEN:
        return Untried.AS_WRITTEN
    if act.do in (Do.TAKE_READINGS, Do.MEASURE):
        return Untried.READINGS
    if act.do in _CHOICES:
        return Untried.CHOICE
    return Untried.WORKED_OUT


# --- the car with it done -------------------------------------------------------------------------------------


def _with_all(car: Car, names: tuple[tuple[str, ...], ...], value: object) -> Car:
    for name in names:
        car = _with(car, name, value)
    return car


def _with(car: Car, name: tuple[str, ...], value: object) -> Car:
    if len(name) == 1:
        return replace(car, facts=_set(car.facts, name[0], value))
    list_name, path, field = name
    entries = (
        replace(entry, fields=_set(entry.fields, field, value)) if entry.path == path else entry
        for entry in car.every_entry(list_name)
    )
    return _with_entries(car, list_name, entries)


def _set(stated: Mapping[str, Stated], name: str, value: object) -> dict[str, Stated]:
    return {**stated, name: stated[name]._replace(value=value)}


def _with_entries(car: Car, list_name: str, entries: Iterable[Entry]) -> Car:
    return replace(car, all_entries={**car.all_entries, list_name: tuple(entries)})


def _provided(car: Car, name: tuple[str, ...], words: list[Any]) -> Car:
    """The car with these words added: an entry each, or in a fact that holds several."""
    if len(name) == 1:
        before = car.facts[name[0]].value
        return _with(car, name, (*(before if isinstance(before, tuple) else (before,)), *words))
    list_name, _, field = name
    for word in words:
        car = with_entry(car, list_name, field, word, label=word)
    return car


def with_entry(car: Car, list_name: str, field: str, value: object, *, label: str = "") -> Car:
    """The car with one entry more in a list, of which nothing is stated but one field."""
    every = car.every_entry(list_name)
    fields = {field: Stated(value, str(value), None, WHAT_IF, place=None)}
    new = Entry(list_name, label, f"{list_name}[{len(every)}]", fields, 1, None, None)
    return _with_entries(car, list_name, (*every, new))


def _label(act: Act) -> str:
    """Of the entry whose word it is; "" for a fact."""
    return act.start or act.item


def _among_several(car: Car, word: str) -> bool:
    """Whether a fact holds the word among others, so that it can be left out."""
    values = (stated.value for stated in car.facts.values())
    return any(isinstance(value, tuple) and any(_is(one, word) for one in value) for value in values)


def _reworded(car: Car, act: Act, word: str, other: str) -> Car:
    """The car with another word in a word's place, or ("") without what it names."""
    label = _label(act)
    if not label:
        facts = {name: _exchanged(stated, word, other) for name, stated in car.facts.items()}
        return replace(car, facts={name: stated for name, stated in facts.items() if stated is not None})
    for list_name, every in car.all_entries.items():
        kept: list[Entry] = []
        for entry in every:
            if entry.label != label:
                kept.append(entry)
                continue
            new = {name: _exchanged(stated, word, other) for name, stated in entry.fields.items()}
            fields = {name: stated for name, stated in new.items() if stated is not None}
            if len(fields) == len(new):
                kept.append(replace(entry, fields=fields))
        car = _with_entries(car, list_name, kept)
    return car


def _exchanged(stated: Stated, word: str, other: str) -> Stated | None:
    """None where the word was all that was stated, and nothing takes its place."""
    if isinstance(stated.value, tuple):
        new = tuple(other if _is(one, word) else one for one in stated.value)
        return stated._replace(value=tuple(one for one in new if one != ""))
    if not _is(stated.value, word):
        return stated
    return stated._replace(value=other) if other else None


def _is(value: object, word: str) -> bool:
    return isinstance(value, str) and fold(value) == fold(word)
