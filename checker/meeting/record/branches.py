"""Another copy of a record that was carried on elsewhere: its entries stand here whole, in a chain of their own.

Both chains have a common beginning. What an entry says of others it says by their numbers there; here they have others.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from checker.meeting.record.car_day import Record, moment_of
from checker.meeting.record.chain import RecordEntry, canonical
from checker.meeting.record.content_form import NotReadable, read_content
from checker.meeting.record.contents import Brought, Content, Merged, Opened
from checker.reading.quick_dataclasses import dataclass, field, replace

_LINE = {"at": str, "by": str, "content": dict, "kind": str, "number": int, "previous": str}
_NUMBERS = ("corrects", "entry", "rests_on", "protest")
"""What an entry calls others by."""


@dataclass(frozen=True, slots=True)
class Branch:
    """What was recorded elsewhere since the records parted, as far as it stands here."""

    parted: int
    """The last entry that both have."""
    entries: tuple[RecordEntry, ...] = ()
    """As they stand there."""
    numbers: tuple[int, ...] = ()
    """The number that each has here."""
    signed: tuple[str, ...] = ()

    def chain(self, own: Sequence[RecordEntry]) -> list[RecordEntry]:
        """The whole of the other record as far as it stands here, with what both have."""
        return [*own[: self.parted], *self.entries]

    def signatures(self, own: Mapping[int, str]) -> dict[int, str]:
        """Those of its whole chain, by the number of their entry there."""
        brought = {e.number: text for e, text in zip(self.entries, self.signed, strict=True) if text}
        return {number: text for number, text in own.items() if number <= self.parted} | brought

    def grown(self, entry: RecordEntry, number: int, signed: str) -> Branch:
        """With the next entry.

        Raises:
            NotReadable: It is not the next.
        """
        if entry.number != self.parted + len(self.entries) + 1:
            raise NotReadable(f"entry {number} brings entry {entry.number}, which does not follow there")
        return replace(
            self,
            entries=(*self.entries, entry),
            numbers=(*self.numbers, number),
            signed=(*self.signed, signed),
        )

    @property
    def newest(self) -> Record[Content]:
        """Its newest entry as it is taken here: what it says of others, it says by their numbers here.

        Raises:
            NotReadable: It names one that is not there, or is of a kind that is not brought.
        """
        entry, number = self.entries[-1], self.numbers[-1]
        content = read_content(entry)
        if isinstance(content, Opened | Merged | Brought):
            raise NotReadable(f"what is {content.KIND} there is not brought here")
        named: dict[str, Any] = {name: getattr(content, name, 0) for name in _NUMBERS}
        try:
            moment_of(entry.at)
            here: dict[str, Any] = {name: self._here(there) for name, there in named.items() if there}
        except (IndexError, ValueError):
            raise NotReadable(f"entry {number} bears no time, or names an entry that is not there") from None
        return Record(number, entry.at, entry.by, replace(content, **here), number, entry.number)

    def _here(self, number: int) -> int:
        return number if number <= self.parted else self.numbers[number - self.parted - 1]


def original(brought: Brought) -> RecordEntry:
    """The entry that was brought, as it stands there.

    Raises:
        NotReadable: It is no entry.
    """
    line: dict[str, Any] = brought.entry
    if set(line) != set(_LINE) or any(type(line[name]) is not kind for name, kind in _LINE.items()):
        raise NotReadable("what was brought is no entry")
    try:
        content = canonical(line["content"])
    except TypeError as error:
        raise NotReadable(f"what was brought is no entry: {error}") from None
    return RecordEntry(
        line["number"], line["kind"], line["at"], line["by"], content, line["previous"], brought.hash
    )


@dataclass(slots=True)
class Branches:
    """The records that were merged into this one."""

    merges: list[Record[Merged]] = field(default_factory=list)
    due: int = 0
    """How many entries of the last are still to come."""
    tips: dict[str, Branch] = field(default_factory=dict)
    """By the hash of their last entry."""
    own: dict[str, int] = field(default_factory=dict)
    """The numbers of this record's own entries by their hash."""
    left: dict[int, str] = field(default_factory=dict)
    """Why entries that were brought do not count here."""

    def begin(self, record: Record[Merged]) -> None:
        """Take in the head of a record that is merged."""
        self.merges.append(record)
        self.due = record.content.entries

    def with_next(self, content: Brought, number: int) -> Branch:
        """The record that a brought entry is of, with that entry in it.

        Raises:
            NotReadable: It follows nothing that is known here.
        """
        entry = original(content)
        branch = self.tips.get(entry.previous)
        if branch is None and entry.previous in self.own:
            branch = Branch(self.own[entry.previous])
        if branch is None:
            raise NotReadable(f"entry {number} brings entry {entry.number}, which follows nothing here")
        return branch.grown(entry, number, content.signed)

    def take(self, content: Brought, number: int) -> Record[Content]:
        """Take in the next entry that was brought; as it is taken here, with its own time and official.

        Raises:
            NotReadable: It cannot be read, or follows nothing that is known here.
        """
        if not self.due:
            raise NotReadable(f"entry {number} is of another record, and none is being merged")
        branch = self.with_next(content, number)
        self.tips.pop(branch.entries[-1].previous, None)
        self.tips[branch.entries[-1].hash] = branch
        self.due -= 1
        if content.left:
            self.left[number] = content.left
        return branch.newest


def brought_by(entries: Iterable[RecordEntry]) -> list[tuple[int, RecordEntry]]:
    """Every entry that can be read as one that was brought, with the number it has here."""
    found: list[tuple[int, RecordEntry]] = []
    for entry in entries:
        if entry.kind == Brought.KIND:
            try:
                content = read_content(entry)
                assert isinstance(content, Brought)
                found.append((entry.number, original(content)))
            except NotReadable:
                continue
    return found
