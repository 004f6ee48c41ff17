"""Reads the lists of a declaration: components with parts, ballast, documents, what the pack defines.
An entry stays a draft until an official's readings have been laid over it; then it is made final, with
defaults taken and a part's category inherited.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from checker.car.declaration.facts import by_default
from checker.car.declaration.structure import read_place
from checker.car.described.standard import STRUCTURAL_FIELDS
from checker.car.described.stated import Entry, Stated
from checker.car.described.vocabulary import FactType, ListType
from checker.car.reading.mistakes import Reader, name_of
from checker.car.reading.values import read_given, read_value
from checker.quantities.kind import NUMBER
from checker.reading.marks import Whereabouts
from checker.reading.paths import format_path
from checker.reading.problems import Path, Span
from checker.reading.quick_dataclasses import dataclass, field

_COUNT = FactType("count", NUMBER, whole=True, high=Fraction(1000))


@dataclass(slots=True)
class EntryDraft:
    """An entry as one file states it."""

    path: Path
    place: Whereabouts
    fields: dict[str, Stated] = field(default_factory=dict)
    count: Stated | None = None
    parts: list[EntryDraft] = field(default_factory=list)

    @property
    def span(self) -> Span:
        return self.place.span

    def label(self, its_list: ListType) -> str | None:
        """What the entry is called; None where it has no name."""
        stated = self.fields.get(its_list.known_by)
        return str(stated.value) if stated else None

    def copy(self) -> EntryDraft:
        """Another of the same, which may be laid over and moved."""
        parts = [part.copy() for part in self.parts]
        return EntryDraft(self.path, self.place, dict(self.fields), self.count, parts)

    def with_parts(self) -> Iterator[EntryDraft]:
        """Itself, then all that is inside it."""
        yield self
        for part in self.parts:
            yield from part.with_parts()


MOST_ENTRIES = 1000
"""Of one list of a car: what takes longer to judge is no car."""


def read_lists(reader: Reader) -> dict[str, list[EntryDraft]]:
    """Every list that the file states; one stated empty is there and empty."""
    found: dict[str, list[EntryDraft]] = {}
    for name, its_list in reader.vocabulary.lists.items():
        drafts = read_entries(reader, its_list, (name,))
        if isinstance(reader.get(name), list):
            found[name] = drafts
    return found


def read_entries(reader: Reader, its_list: ListType, path: Path) -> list[EntryDraft]:
    number = len(reader.listed(*path))
    if number > MOST_ENTRIES:
        message = f"{name_of(path)} has {number} entries; at most {MOST_ENTRIES} are read"
        reader.problem(117, message, *path, hint="`count` stands for several that are alike")
        return []
    by, also = (its_list, reader.vocabulary), (reader.instruments, reader.origin)
    places: list[Path] = [(*path, at) for at in range(number)]
    read = [reader.once(here, _read_entry, (reader, its_list, here), by, also) for here in places]
    return [draft.copy() for draft in read if draft is not None]


def _read_entry(reader: Reader, its_list: ListType, path: Path) -> EntryDraft | None:
    data = reader.get(*path)
    if not isinstance(data, dict):
        hint = f"write it as {{{its_list.known_by or 'field'}: ...}}"
        reader.not_wanted(202, "an entry with its fields", *path, hint=hint)
        return None
    draft = EntryDraft(path, Whereabouts(reader.document, path))
    has_parts = its_list.name == "components"
    for key, value in data.items():
        here = (*path, key)
        known = its_list.fields.get(key)
        if known is not None and known.formula is not None:
            message = f"{name_of(here)} is worked out from other fields and is not declared"
            reader.key_problem(218, message, *here, hint="take it away")
        elif known is not None:
            stated = read_given(reader, known, here, value)
            if stated is not None:
                draft.fields[key] = stated
        elif key == "count":
            draft.count = _read_count(reader, here)
        elif key == "at":
            draft.fields.update(read_place(reader, here, of_entry=True))
        elif key == "parts" and has_parts:
            draft.parts = read_entries(reader, its_list, here)
        else:
            others = STRUCTURAL_FIELDS if has_parts else STRUCTURAL_FIELDS[:2]
            reader.unknown_name(f"field of {its_list.name}", (*its_list.fields, *others), *here)
    return draft


def _read_count(reader: Reader, path: Path) -> Stated | None:
    stated = read_value(reader, _COUNT, path)
    if stated is not None and stated.value < 1:
        hint = "take the entry away if there is none"
        message = f"{name_of(path)} is {stated.written}; an entry stands at least once"
        reader.problem(208, message, *path, hint=hint)
        return None
    return stated


def final_entries(its_list: ListType, drafts: list[EntryDraft], parent: Entry | None = None) -> list[Entry]:
    """The entries of a list, each before its parts."""
    found: list[Entry] = []
    defaults = {name: by_default(its_field) for name, its_field in its_list.fields.items()} if drafts else {}
    usual = {name: default for name, default in defaults.items() if default is not None}
    for draft in drafts:
        fields = dict(draft.fields)
        if parent is not None and "category" not in fields and "category" in parent.fields:
            fields["category"] = parent.fields["category"]
        for name, default in usual.items():
            fields.setdefault(name, default)
        path = format_path(draft.path)
        entry = Entry(
            list_name=its_list.name,
            label=draft.label(its_list) or path,
            path=path,
            fields=fields,
            count=int(draft.count.value) if draft.count else 1,
            parent=parent,
            place=draft.place,
        )
        found.append(entry)
        found.extend(final_entries(its_list, draft.parts, entry))
    return found


def still_to_come(list_name: str, place: int, span: Span) -> Entry:
    """Stands at the end of a list that is not finished for all that it does not hold yet: nothing is known of it."""
    return Entry(
        list_name, f"what is still to be listed under {list_name}", f"{list_name}[{place}]", {}, 1, None, span
    )
