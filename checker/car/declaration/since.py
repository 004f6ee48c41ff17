"""What was done to a car after it was weighed, as its file tells it: `weighing.since`.

What is told is undone in a copy of the declaration, which is then that of the car on the scales; the lever rules do
the rest (`checker.car.weights.what_if`). So a car that had ballast bolted on at home can be judged before it is weighed
again.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from checker.car.described.vocabulary import Vocabulary
from checker.car.reading.mistakes import Reader, name_of
from checker.quantities.folding import fold
from checker.reading.document import REMOVE, Document, Edit
from checker.reading.nearest import did_you_mean
from checker.reading.problems import Path
from checker.reading.quick_dataclasses import dataclass, field
from checker.reading.values import Plain

PATH: Path = ("weighing", "since")
BESIDE_LISTS: Mapping[str, Path] = {"driver": ("driver", "at"), "fuel tank": ("fuel", "at")}
"""What may be moved and stands in no list: its name with where its place stands."""
_FORMS = {"added": (), "moved": ("from",), "taken_off": ()}
"""What an entry begins with, and what stands beside it."""
_WANTED = "{added: B4}, {moved: B1, from: {...}} or {taken_off: {label: B2, mass: 3 kg, at: {...}}}"


def as_weighed(reader: Reader) -> Document | None:
    """The declaration of the car that stood on the scales; None where nothing was done since.

    What cannot be read is noted as a problem.
    """
    if not reader.has(*PATH):
        return None
    undoing = _Undoing(reader)
    for at in range(len(reader.listed(*PATH, wanted="a list of what was done"))):
        undoing.undo((*PATH, at))
    edits = undoing.edits
    if len({edit.path for edit in edits}) < len(edits):
        reader.problem(209, "weighing.since tells of one thing twice", *PATH, hint="tell each thing once")
        return None
    return reader.document.edited([*edits, Edit(PATH, REMOVE)], reader.codes.of(214))


@dataclass(slots=True)
class _Undoing:
    reader: Reader
    moved: list[Edit] = field(default_factory=list)
    put_back: list[Edit] = field(default_factory=list)
    removed: list[Edit] = field(default_factory=list)

    @property
    def edits(self) -> list[Edit]:
        """In an order in which no edit moves what a later one names."""
        last_first = sorted(self.removed, key=lambda edit: [_order(part) for part in edit.path], reverse=True)
        return [*self.moved, *self.put_back, *last_first]

    def undo(self, path: Path) -> None:
        """Take in what one entry tells."""
        reader = self.reader
        data = reader.filled(*path, wanted=f"what was done, as {_WANTED},")
        forms = [form for form in _FORMS if form in data]
        if data and not forms:
            reader.unknown_name("way to change a car", _FORMS, *path, next(iter(data)))
        elif len(forms) > 1:
            message = f"{name_of(path)} is to say one thing that was done"
            reader.problem(202, message, *path, hint=f"write {_WANTED}")
        elif data:
            (form,) = forms
            what = "what was done since the weighing"
            if reader.known_keys((form, *_FORMS[form]), *path, what=what, filled=True):
                self._undo_one(form, path)

    def _undo_one(self, form: str, path: Path) -> None:
        reader = self.reader
        if form == "taken_off":
            self._put_back((*path, form))
            return
        found = found_on(reader.document, reader, (*path, form))
        if found is None:
            return
        if form == "moved":
            if not reader.has(*path, "from"):
                hint = "add from: {behind_front_axle: 1200 mm, left_of_centre: 300 mm}"
                message = f"{name_of(path)} does not say where it was when weighed"
                reader.problem(202, message, *path, hint=hint)
                return
            where = found if found in BESIDE_LISTS.values() else (*found, "at")
            self.moved.append(Edit(where, reader.get(*path, "from"), reader.document, (*path, "from")))
        elif found in BESIDE_LISTS.values():
            name = reader.written(*path, form)
            message = f"{name_of((*path, form))}: the {name} is moved, not added"
            reader.problem(205, message, *path, form, hint="write moved:")
        else:
            self.removed.append(Edit(found, REMOVE, reader.document, (*path, form)))

    def _put_back(self, path: Path) -> None:
        reader = self.reader
        data = reader.mapping(
            *path, wanted="the whole entry, as {label: B2, mass: 3 kg, at: {...}},", needed=True
        )
        lists = {one.known_by: name for name, one in reader.vocabulary.lists.items() if "mass" in one.fields}
        name = next((lists[key] for key in lists if key in data), None)
        if name is not None:
            listed = reader.get(name)
            at = (len(listed) if isinstance(listed, list) else 0) + sum(
                e.path[0] == name for e in self.put_back
            )
            self.put_back.append(Edit((name, at), data, reader.document, path))
        elif data:
            message = f"{name_of(path)} does not say what was taken off"
            reader.problem(202, message, *path, hint=f"give its {' or its '.join(lists)}, as the list has it")


def _order(part: str | int) -> tuple[int, str]:
    return (part, "") if isinstance(part, int) else (-1, part)


def found_on(car: Document, reader: Reader, path: Path, *, warning: bool = False) -> Path | None:
    """Where what is named at `path` stands on a car: an entry of a list of what weighs something, or `BESIDE_LISTS`.

    None, with a problem noted, where the car has none such.
    """
    name = reader.text(*path, needed=True)
    entries = list(_entries(car, reader.vocabulary))
    in_list = next((place for label, place in entries if fold(label) == fold(name)), None)
    found = BESIDE_LISTS.get(fold(name), in_list)
    if name and found is None:
        known = [*(label for label, _ in entries), *BESIDE_LISTS]
        hint = did_you_mean(name, known) or f"known are: {', '.join(known)}"
        message = f"{name_of(path)}: nothing on the car is called {name!r}"
        reader.problem(205, message, *path, hint=hint, warning=warning)
    return found if name else None


def _entries(document: Document, vocabulary: Vocabulary) -> Iterator[tuple[str, Path]]:
    for list_name, its_list in vocabulary.lists.items():
        if "mass" in its_list.fields:
            yield from _named(document.get((list_name,)), its_list.known_by, (list_name,))


def _named(data: Plain, known_by: str, path: Path) -> Iterator[tuple[str, Path]]:
    for at, entry in enumerate(data if isinstance(data, list) else ()):
        if isinstance(entry, dict):
            if isinstance(name := entry.get(known_by), str):
                yield name, (*path, at)
            yield from _named(entry.get("parts"), known_by, (*path, at, "parts"))
