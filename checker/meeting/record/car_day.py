"""One car's day, and the records that it is made of."""

from __future__ import annotations

from datetime import datetime
from typing import Any, Generic, TypeVar, cast

from checker.meeting.record.car_contents import (
    SCRUTINEERING,
    Entered,
    Judged,
    Measured,
    Noted,
    Protested,
    Ruled,
    Weighed,
)
from checker.meeting.record.contents import Content
from checker.quantities.folding import fold
from checker.reading.quick_dataclasses import dataclass, field, replace

SINCE = " (since "
"""Before the day on which a defect was first noted, in the words of one that is carried over."""

C = TypeVar("C", bound=Content)
C_co = TypeVar("C_co", bound=Content, covariant=True)


def moment_of(text: str) -> datetime:
    """A recorded time.

    Raises:
        ValueError: It is none, or does not say its zone.
    """
    moment = datetime.fromisoformat(text)
    if moment.tzinfo is None:
        raise ValueError(f"{text!r} does not say its zone")
    return moment


@dataclass(frozen=True)
class Record(Generic[C_co]):
    """An entry with what it says."""

    number: int
    at: str
    by: str
    content: C_co
    place: int
    """Where it counts in the order of the day: its own number, or that of the entry it corrects."""
    there: int = 0
    """The number that it has in the record it was merged from; 0 where it was recorded in this one."""

    @property
    def read_at(self) -> datetime:
        """When it was read, as far as is known."""
        return moment_of(getattr(self.content, "taken", "") or self.at)


@dataclass(slots=True)
class CarDay:
    """One car's day."""

    number: str
    """As it was entered."""
    entered: Record[Entered]
    """The declaration that counts."""
    withdrawn: str = ""
    """Why it does not take part; "" where it does."""
    records: list[Record[Content]] = field(default_factory=list)
    """Everything about it that counts, in order."""
    judged: list[Record[Judged]] = field(default_factory=list)
    touched: int = 0
    """The newest entry that changed what it is judged by."""

    @property
    def name(self) -> str:
        return self.entered.content.name

    def of(self, kind: type[C]) -> list[Record[C]]:
        """Its records of one kind, in order."""
        return [cast(Record[C], record) for record in self.records if isinstance(record.content, kind)]

    def occasions(self) -> tuple[str, ...]:
        """The occasions on which it was weighed, in the order of the day."""
        return tuple(dict.fromkeys(record.content.occasion for record in self.of(Weighed)))

    def latest_occasion(self) -> str:
        return (self.occasions() or (SCRUTINEERING,))[-1]

    def sets(self, occasion: str) -> list[list[Record[Weighed]]]:
        """Its weighings on an occasion, in sets: a re-weighing begins a new one, and the last set counts."""
        found: list[list[Record[Weighed]]] = []
        for record in self.of(Weighed):
            if record.content.occasion == occasion:
                if record.content.again or not found:
                    found.append([])
                found[-1].append(record)
        return found

    def weighings(self, occasion: str) -> list[Record[Weighed]]:
        """The set that counts on an occasion."""
        return (self.sets(occasion) or [[]])[-1]

    def facts(self) -> dict[str, Record[Measured]]:
        """What officials measured, the newest of each fact."""
        return {record.content.fact: record for record in self.of(Measured)}

    def seen(self) -> frozenset[str]:
        """Clauses that an official looked at on the car and found as declared."""
        return frozenset(record.content.clause for record in self.of(Noted) if record.content.topic == "seen")

    def open_notes(self) -> list[Record[Noted]]:
        """Defects that are open, and seals that are broken: what is noted later on the same ends what was before."""
        found: list[Record[Noted]] = []
        for record in self.of(Noted):
            found = [earlier for earlier in found if not _ends(record.content, earlier.content)]
            if (record.content.topic, record.content.state) in (("defect", "open"), ("seal", "broken")):
                found.append(record)
        return found

    def open_protests(self) -> list[Record[Protested]]:
        """Protests against it that no ruling answers."""
        answered = {record.content.protest for record in self.of(Ruled)}
        return [record for record in self.of(Protested) if record.number not in answered]

    def rulings(self) -> dict[str, Record[Ruled]]:
        """The newest ruling on each clause."""
        return {record.content.clause: record for record in self.of(Ruled)}

    def trial(self, number: int, content: Any) -> CarDay:
        """The car as it would be with one more record, to see whether the car's file and the pack take it."""
        record: Record[Content] = Record(number, "", "", content, number)
        records = [r for r in self.records if r.number != content.corrects]
        if len(records) < len(self.records):
            at = next(i for i, r in enumerate(self.records) if r.number == content.corrects)
            records.insert(at, record)
        else:
            records.append(record)
        return replace(self, records=records)


def _ends(later: Noted, earlier: Noted) -> bool:
    """Whether a note says anew what an earlier one said: of a seal by its place, of a defect in the same words.

    A clause that is looked at again and found as declared has no defect any more.
    """
    if later.topic != earlier.topic:
        return (later.topic, earlier.topic, later.clause) == ("seen", "defect", earlier.clause)
    if later.topic == "seal":
        return fold(later.part) == fold(earlier.part)
    same_clause = later.clause == earlier.clause or not (later.clause and earlier.clause)
    return same_clause and _words(later) == _words(earlier)


def _words(defect: Noted) -> str:
    return fold(defect.text.partition(SINCE)[0])
