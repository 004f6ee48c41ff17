"""Lays an official's readings over an entrant's declaration.
What an official states counts. A weighing replaces the declared one as a whole, for its fuel and its
loads belong together; an entry with the label of a declared one replaces the fields that it states; other
entries are added.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from checker.car.entries import Draft, entry_labelled, read_lists
from checker.car.facts import read_facts
from checker.car.reader import Reader, name_of
from checker.car.stated import Place, Stated
from checker.car.structure import read_approvals, read_instruments, read_structure, tyre_sets_in
from checker.car.vocabulary import Instrument, ListType
from checker.car.weighing import Weighing, read_weighing
from checker.reading.problems import Path


@dataclass(frozen=True, slots=True)
class Contents:
    """What one file states, or what both state together."""

    facts: Mapping[str, Stated]
    structure: Mapping[str, Stated]
    tyre_sets: tuple[str, ...]
    weighing: Weighing
    instruments: Mapping[str, Instrument]
    lists: Mapping[str, list[Draft]]
    approvals: tuple[str, ...]


def read_contents(reader: Reader) -> Contents:
    """Everything that the file states; problems are noted for what cannot be read."""
    return Contents(
        facts=read_facts(reader),
        structure=read_structure(reader),
        tyre_sets=tyre_sets_in(reader),
        weighing=read_weighing(reader),
        instruments=read_instruments(reader),
        lists=read_lists(reader),
        approvals=read_approvals(reader),
    )


def laid_over(declared: Contents, official: Contents, reader: Reader) -> Contents:
    """The declaration with the official's readings over it; `reader` is that of the readings."""
    kept = dict(declared.facts)
    weighing = declared.weighing
    if isinstance(reader.document.get(("weighing",)), dict):
        kept = {name: stated for name, stated in kept.items() if not name.startswith("weighing.")}
        weighing = official.weighing
    return Contents(
        facts={**kept, **official.facts},
        structure={**declared.structure, **official.structure},
        tyre_sets=tuple(dict.fromkeys((*declared.tyre_sets, *official.tyre_sets))),
        weighing=weighing,
        instruments={**declared.instruments, **official.instruments},
        lists=_lists(declared.lists, official.lists, reader),
        approvals=tuple(dict.fromkeys((*declared.approvals, *official.approvals))),
    )


def _lists(
    declared: Mapping[str, list[Draft]], official: Mapping[str, list[Draft]], reader: Reader
) -> dict[str, list[Draft]]:
    both = dict(declared)
    for name, drafts in official.items():
        its_list = reader.vocabulary.lists[name]
        if its_list.known_by:
            both[name] = _entries((name,), list(declared.get(name, ())), drafts, its_list, reader)
        else:
            both[name] = drafts  # entries without names cannot be matched: the official's list counts
    return both


def _entries(
    path: Path, declared: list[Draft], official: list[Draft], its_list: ListType, reader: Reader
) -> list[Draft]:
    """The declared entries with the official's in their places, or after them; `path` is that of their list."""
    added: list[Draft] = []
    for draft in official:
        label = draft.label(its_list)
        if label is None:
            message = f"{name_of(draft.path)} does not say which entry it is about"
            reader.problem(215, message, draft.path, hint=f"state its {its_list.known_by}")
            continue
        same = entry_labelled(declared, its_list, label)
        if len(same) > 1:
            message = f"{name_of(draft.path)}: {len(same)} declared entries are called {label!r}"
            related = tuple((f"called {label!r}", one.span) for one in same)
            hint = "have the declaration call them by different names"
            reader.problem(215, message, draft.path, hint=hint, related=related)
        elif same:
            _overlay(same[0], draft, its_list, reader)
        else:
            _move(draft, (*path, len(declared) + len(added)))
            added.append(draft)
    return declared + added


def _move(draft: Draft, path: Path) -> None:
    """Give an added entry a path of its own: entries of one car are told apart by their paths."""
    draft.path = path
    for at, part in enumerate(draft.parts):
        _move(part, (*path, "parts", at))


def _overlay(declared: Draft, official: Draft, its_list: ListType, reader: Reader) -> None:
    """Put what the official states of an entry in place of what is declared."""
    label = declared.fields[its_list.known_by]
    declared.fields.update(official.fields)
    declared.fields[its_list.known_by] = label
    declared.count = official.count or declared.count
    if official.place is not None:
        below = declared.place or Place()
        declared.place = Place(
            official.place.behind_front_axle or below.behind_front_axle,
            official.place.left_of_centre or below.left_of_centre,
        )
    path = (*declared.path, "parts")
    declared.parts = _entries(path, declared.parts, official.parts, its_list, reader)
