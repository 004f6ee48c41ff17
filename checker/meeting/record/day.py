"""The state of the day, worked out from the record alone by going through its entries in order.

Nothing here is kept on disk: whoever holds the record can work it all out again. What was corrected or struck no longer
counts, but a correction stands in the place of what it corrects, so that a first weighing stays the first.
"""

from __future__ import annotations

from dataclasses import fields
from datetime import timedelta
from typing import Any, TypeVar, cast

from checker.meeting.record.branches import Branches
from checker.meeting.record.car_contents import (
    Entered,
    Judged,
    Measured,
    Noted,
    Protested,
    Ruled,
    Weighed,
    Withdrawn,
)
from checker.meeting.record.car_day import CarDay, Record, moment_of
from checker.meeting.record.chain import FIRST, RecordEntry
from checker.meeting.record.content_form import NotReadable, read_content
from checker.meeting.record.contents import (
    CORRECTABLE,
    Announced,
    Brought,
    Carried,
    Closed,
    Content,
    Drawn,
    GearChecked,
    Imported,
    Merged,
    Opened,
    Reopened,
    SignedOn,
    Struck,
)
from checker.quantities.folding import fold
from checker.reading.quick_dataclasses import KW_ONLY, dataclass, field, replace

S = TypeVar("S", "Day", "CarDay", "Branches")


@dataclass(slots=True)
class Day:
    """The whole meeting up to one entry."""

    opened: Record[Opened]
    number: int = 0
    """Of the last entry."""
    hash: str = FIRST
    """Of the last entry."""
    officials: list[str] = field(default_factory=list)
    _: KW_ONLY
    keys: dict[str, str] = field(default_factory=dict)
    """The public keys of officials who sign, by their initials."""
    cars: dict[str, CarDay] = field(default_factory=dict)
    """By folded racing number, in the order entered."""
    gear_checks: list[Record[GearChecked]] = field(default_factory=list)
    announced: list[Record[Announced]] = field(default_factory=list)
    imports: list[Record[Imported]] = field(default_factory=list)
    carried: list[Record[Carried]] = field(default_factory=list)
    draws: list[Record[Drawn]] = field(default_factory=list)
    closed: Record[Closed] | None = None
    rows_due: int = 0
    """How many weighings of the last table are still to come."""
    branches: Branches = field(default_factory=Branches)
    """Copies of this record that were carried on elsewhere and merged."""
    latest_at: str = ""
    """The latest time that an entry bears so far."""
    set_back: list[tuple[int, timedelta]] = field(default_factory=list)
    """Entries before which the clock was set back, and by how much."""
    _all: dict[int, Record[Content]] = field(default_factory=dict)
    """Every entry by its number, those that no longer count included."""
    _gone: dict[int, int] = field(default_factory=dict)
    """Entries that no longer count, each with the one that corrected or struck it."""

    def car(self, number: str) -> CarDay | None:
        """The car of that racing number."""
        return self.cars.get(fold(number))

    def official(self, by: str) -> str | None:
        """Initials as they signed on."""
        return next((one for one in self.officials if fold(one) == fold(by)), None)

    def record(self, number: int) -> Record[Content] | None:
        """An entry of the record."""
        return self._all.get(number)

    def records(self, after: int = 0) -> list[Record[Content]]:
        """Every entry above that number, those that no longer count included."""
        return [record for number, record in self._all.items() if number > after]

    def gone_by(self, number: int) -> int | None:
        """The entry that corrected or struck this one, if any."""
        return self._gone.get(number)

    def announced_for(self, car: str) -> dict[str, Record[Announced]]:
        """What the organiser stated that counts for a car: the newest, its own before what is for all."""
        own = [r for r in self.announced if r.content.car and fold(r.content.car) == fold(car)]
        return {r.content.fact: r for r in (*(r for r in self.announced if not r.content.car), *own)}

    def bearing(self, car: CarDay) -> int:
        """The newest entry that bears on how a car is judged."""
        announced = [record.number for record in self.announced_for(car.number).values()]
        return max([car.touched, *announced])

    def last_judged(self, car: CarDay) -> Judged | None:
        """What was last recorded as computed for a car, if nothing that bears on it has come since."""
        if not car.judged or car.judged[-1].content.rests_on < self.bearing(car):
            return None
        return car.judged[-1].content

    # -- going on ----------------------------------------------------------------------------------------

    def add(self, entry: RecordEntry) -> None:
        """Take in the next entry.

        Raises:
            NotReadable: The entry says what none can say at this place.
        """
        self.go_on(recorded(entry), entry.hash)

    def go_on(self, record: Record[Content], hash_hex: str = "") -> None:
        """Take in what the next entry says; without its hash on a copy only, to see what would come of it.

        Raises:
            NotReadable: As `add`.
        """
        self._watch_clock(record)
        self._all[record.number] = record
        self._take(record)
        self.number, self.hash = record.number, hash_hex
        self.branches.own[hash_hex] = record.number

    def copy(self) -> Day:
        """The same state, to go on from apart."""
        found = _with_own_lists(self)
        found.cars = {key: _with_own_lists(car) for key, car in self.cars.items()}
        found.branches = _with_own_lists(self.branches)
        return found

    def _watch_clock(self, entry: Record[Content]) -> None:
        try:
            moment = moment_of(entry.at)
            latest = moment_of(self.latest_at) if self.latest_at else moment
            if moment < latest:
                self.set_back.append((entry.number, latest - moment))
        except (ValueError, TypeError):
            raise NotReadable(f"entry {entry.number} bears no time: {entry.at!r}") from None
        self.latest_at = max(self.latest_at, entry.at) if moment >= latest else self.latest_at

    def _take(self, record: Record[Content]) -> None:
        content = record.content
        match content:
            case Opened():
                raise NotReadable(f"entry {record.number} opens a meeting that is open already")
            case SignedOn(initials, key):
                if initials not in self.officials:
                    self.officials.append(initials)
                if key:
                    self.keys[initials] = key
            case Entered():
                self._enter(record, content)
            case Withdrawn(number, reason):
                self._needed(record, number).withdrawn = reason or "withdrawn"
            case Struck():
                self._strike(record, content)
            case Judged(car=number):
                self._needed(record, number).judged.append(cast(Record[Judged], record))
            case Announced():
                self.announced.append(cast(Record[Announced], record))
            case GearChecked():
                self._place(record, cast(list[Record[Content]], self.gear_checks))
            case Weighed(car=number) | Measured(car=number):
                car = self._needed(record, number)
                self._place(record, car.records)
                car.touched = record.number
                self.rows_due = max(0, self.rows_due - 1)
            case Noted(car=number) | Protested(car=number) | Ruled(car=number):
                self._place(record, self._needed(record, number).records)
            case Imported():
                self.imports.append(cast(Record[Imported], record))
                self.rows_due = content.rows
            case Carried():
                self.carried.append(cast(Record[Carried], record))
            case Drawn():
                self.draws.append(cast(Record[Drawn], record))
            case Closed():
                self.closed = cast(Record[Closed], record)
            case Reopened():
                self.closed = None
            case Merged():
                self.branches.begin(cast(Record[Merged], record))
            case Brought():
                self._bring(record, content)

    def _bring(self, record: Record[Content], content: Brought) -> None:
        brought = self._all[record.number] = self.branches.take(content, record.number)
        first = self.branches.merges[-1].number
        if not content.left:
            self._take(brought)
        else:
            self._gone[record.number] = first
            if isinstance(brought.content, Weighed):
                self.rows_due = max(0, self.rows_due - 1)
        if not self.branches.due:  # what was judged there was judged without what was recorded here
            for car in self.cars.values():
                if any(one.number > first for one in (*car.records, *car.judged, car.entered)):
                    car.touched = record.number

    def _enter(self, record: Record[Content], content: Entered) -> None:
        car = self.car(content.car)
        entered = cast(Record[Entered], record)
        if car is None:
            self.cars[fold(content.car)] = CarDay(content.car, entered, touched=record.number)
        else:
            car.entered, car.withdrawn, car.touched = entered, "", record.number

    def _needed(self, record: Record[Content], number: str) -> CarDay:
        car = self.car(number)
        if car is None:
            raise NotReadable(f"entry {record.number} is of car {number}, which was not entered before it")
        return car

    def _place(self, record: Record[Content], among: list[Record[Content]]) -> None:
        """Add a record, or put a correction in the place of what it corrects."""
        corrected = getattr(record.content, "corrects", 0)
        if not corrected:
            among.append(record)
            return
        at = self._standing(record, corrected, among)
        if type(among[at].content) is not type(record.content):
            raise NotReadable(f"entry {record.number} corrects entry {corrected}, which is of another kind")
        among[at] = replace(record, place=among[at].place)
        self._gone[corrected] = record.number

    def _strike(self, record: Record[Content], content: Struck) -> None:
        target = self._all.get(content.entry)
        if target is None or not isinstance(target.content, CORRECTABLE):
            raise NotReadable(f"entry {record.number} strikes entry {content.entry}, which cannot be struck")
        if isinstance(target.content, GearChecked):
            among = cast(list[Record[Content]], self.gear_checks)
        else:
            car = self._needed(record, target.content.car)
            among = car.records
            if isinstance(target.content, Weighed | Measured):
                car.touched = record.number
        del among[self._standing(record, content.entry, among)]
        self._gone[content.entry] = record.number

    def _standing(self, record: Record[Content], number: int, among: list[Record[Content]]) -> int:
        for at, standing in enumerate(among):
            if standing.number == number:
                return at
        raise NotReadable(
            f"entry {record.number} is about entry {number}, which does not count there any more"
        )


def recorded(entry: RecordEntry) -> Record[Content]:
    """An entry with what it says.

    Raises:
        NotReadable: It says what no entry can.
    """
    return Record(entry.number, entry.at, entry.by, read_content(entry), entry.number)


def begin(entry: RecordEntry) -> Day:
    """The state after the first entry.

    Raises:
        NotReadable: It does not open a meeting.
    """
    content = read_content(entry)
    if not isinstance(content, Opened):
        raise NotReadable(f"entry {entry.number} does not open the meeting")
    if entry.by not in content.officials[:1]:
        raise NotReadable(f"entry {entry.number} is signed by one who did not open the meeting")
    record: Record[Opened] = Record(entry.number, entry.at, entry.by, content, entry.number)
    day = Day(record, entry.number, entry.hash, list(content.officials), latest_at=entry.at)
    day._all[entry.number] = record
    day.branches.own[entry.hash] = entry.number
    return day


def _with_own_lists(state: S) -> S:
    """The same values in lists and maps of their own."""
    copies: dict[str, Any] = {}
    for its_field in fields(state):
        value = getattr(state, its_field.name)
        if isinstance(value, list | dict):
            copies[its_field.name] = value.copy()
    return replace(state, **copies)
