"""Lays an official's readings, and a club's gear, over an entrant's declaration.
What an official states counts. A weighing replaces the declared one as a whole, for its fuel and its
loads belong together; an entry with the label of a declared one replaces the fields that it states; other
entries are added.
"""

from __future__ import annotations

from collections.abc import Mapping

from checker.car.declaration.entries import EntryDraft, read_lists
from checker.car.declaration.facts import read_facts
from checker.car.declaration.structure import (
    read_approvals,
    read_instruments,
    read_structure,
    read_unfinished,
    tyre_sets_in,
)
from checker.car.described.instrument import Instrument
from checker.car.described.stated import Stated, told_otherwise
from checker.car.described.vocabulary import ListType
from checker.car.gear.pad_checks import PadCheck, read_checks
from checker.car.gear.weighing import Weighing, read_weighing
from checker.car.reading.mistakes import Reader, name_of
from checker.car.weights.centre_of_gravity import HEIGHT, RaisedAxle, read_centre_of_gravity
from checker.quantities.folding import fold
from checker.reading.problems import Path, Span
from checker.reading.quick_dataclasses import KW_ONLY, dataclass, replace


@dataclass(frozen=True, slots=True)
class Contents:
    """What one file states, or what both state together."""

    facts: Mapping[str, Stated]
    structure: Mapping[str, Stated]
    tyre_sets: tuple[str, ...]
    tank_levels: int
    """At how many the tank is described; 0 where it has one place."""
    _: KW_ONLY
    fluids: tuple[str, ...]
    weighing: Weighing
    raised: tuple[RaisedAxle, ...]
    instruments: Mapping[str, Instrument]
    checks: tuple[PadCheck, ...]
    lists: Mapping[str, list[EntryDraft]]
    approvals: tuple[str, ...]
    unfinished: Mapping[str, Span]
    """Lists that do not hold all yet, with where that is said."""


def read_contents(reader: Reader) -> Contents:
    """Everything that the file states; problems are noted for what cannot be read."""
    height, raised = read_centre_of_gravity(reader)
    measured = {} if height is None else {HEIGHT: height}
    tank = reader.get("fuel", "at")
    return Contents(
        facts=read_facts(reader),
        structure={**read_structure(reader), **measured},
        tyre_sets=tyre_sets_in(reader),
        tank_levels=len(tank) if isinstance(tank, list) else 0,
        fluids=tuple(reader.document.mapping(("fluids",))),
        weighing=read_weighing(reader),
        raised=raised,
        instruments=read_instruments(reader),
        checks=read_checks(reader),
        lists=read_lists(reader),
        approvals=read_approvals(reader),
        unfinished=read_unfinished(reader),
    )


def with_gear(contents: Contents, reader: Reader) -> Contents:
    """The declaration with a club's gear file beside it: its instruments count, its checks are added."""
    reader.mapping(wanted="instruments: and checks:")
    reader.known_keys(("instruments", "checks"), what="a gear file")
    return replace(
        contents,
        instruments={**contents.instruments, **read_instruments(reader)},
        checks=(*contents.checks, *read_checks(reader)),
    )


def laid_over(declared: Contents, official: Contents, reader: Reader) -> Contents:
    """The declaration with the official's readings over it; `reader` is that of the readings."""
    kept = dict(declared.facts)
    weighing = declared.weighing
    if isinstance(reader.document.get(("weighing",)), dict):
        kept = {name: stated for name, stated in kept.items() if not name.startswith("weighing.")}
        weighing = official.weighing
    structure = dict(declared.structure)
    tank = reader.document.has(("fuel", "at")) and (declared.tank_levels or official.tank_levels)
    if tank:  # a table of levels is taken as a whole
        structure = {name: stated for name, stated in structure.items() if not name.startswith("fuel.at")}
    structure = _still_told(structure, official.structure)
    if official.raised:
        structure.pop(HEIGHT, None)
    own_height = HEIGHT in official.structure
    return Contents(
        facts={**kept, **official.facts},
        structure={**structure, **official.structure},
        tyre_sets=tuple(dict.fromkeys((*declared.tyre_sets, *official.tyre_sets))),
        tank_levels=official.tank_levels if tank else declared.tank_levels,
        fluids=tuple(dict.fromkeys((*declared.fluids, *official.fluids))),
        weighing=weighing,
        raised=official.raised or (() if own_height else declared.raised),
        instruments={**declared.instruments, **official.instruments},
        checks=(*declared.checks, *official.checks),
        lists=_lists(declared.lists, official.lists, reader),
        approvals=tuple(dict.fromkeys((*declared.approvals, *official.approvals))),
        unfinished={**declared.unfinished, **official.unfinished},
    )


def _still_told(declared: Mapping[str, Stated], official: Mapping[str, Stated]) -> dict[str, Stated]:
    """What is declared, but for what the official tells in another way."""
    return {
        name: stated
        for name, stated in declared.items()
        if not any(other in official for other in told_otherwise(name))
    }


def _lists(
    declared: Mapping[str, list[EntryDraft]], official: Mapping[str, list[EntryDraft]], reader: Reader
) -> dict[str, list[EntryDraft]]:
    both = dict(declared)
    for name, drafts in official.items():
        its_list = reader.vocabulary.lists[name]
        if its_list.known_by:
            both[name] = _entries((name,), list(declared.get(name, ())), drafts, its_list, reader)
        else:
            both[name] = drafts  # entries without names cannot be matched: the official's list counts
    return both


def _entries(
    path: Path, declared: list[EntryDraft], official: list[EntryDraft], its_list: ListType, reader: Reader
) -> list[EntryDraft]:
    """The declared entries with the official's in their places, or after them; `path` is that of their list."""
    added: list[EntryDraft] = []
    for draft in official:
        label = draft.label(its_list)
        if label is None:
            message = f"{name_of(draft.path)} does not say which entry it is about"
            reader.problem(215, message, *draft.path, hint=f"state its {its_list.known_by}")
            continue
        every = (one for top in declared for one in top.with_parts())
        same = [one for one in every if fold(one.label(its_list) or "") == fold(label)]
        if len(same) > 1:
            message = f"{name_of(draft.path)}: {len(same)} declared entries are called {label!r}"
            related = tuple((f"called {label!r}", one.span) for one in same)
            hint = "have the declaration call them by different names"
            reader.problem(215, message, *draft.path, hint=hint, related=related)
        elif same:
            _overlay(same[0], draft, its_list, reader)
        else:
            _move(draft, (*path, len(declared) + len(added)))
            added.append(draft)
    return declared + added


def _move(draft: EntryDraft, path: Path) -> None:
    """Give an added entry a path of its own: entries of one car are told apart by their paths."""
    draft.path = path
    for at, part in enumerate(draft.parts):
        _move(part, (*path, "parts", at))


def _overlay(declared: EntryDraft, official: EntryDraft, its_list: ListType, reader: Reader) -> None:
    """Put what the official states of an entry in place of what is declared."""
    label = declared.fields[its_list.known_by]
    declared.fields = {**_still_told(declared.fields, official.fields), **official.fields}
    declared.fields[its_list.known_by] = label
    declared.count = official.count or declared.count
    path = (*declared.path, "parts")
    declared.parts = _entries(path, declared.parts, official.parts, its_list, reader)
