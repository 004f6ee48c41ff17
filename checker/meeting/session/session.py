"""One open meeting: the record, the state of the day, and the frozen pack, kept in step.

Whatever an official asks for is decided while the record is held alone and the state is up to date, so two officials
never decide on different states. When `record` has returned, what was asked for is on disk.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Mapping, Sequence
from datetime import date
from types import TracebackType

from checker.meeting.record.chain import Entry
from checker.meeting.record.contents import Content, Judged, NotReadable, Reopened, to_plain
from checker.meeting.record.day import CarDay, Day, replay
from checker.meeting.record.frozen import check_digest, thaw
from checker.meeting.record.refusal import refusal
from checker.meeting.record.schema import texts_in
from checker.meeting.record.store import Clock, Draft, Store, computer_clock, digest_of
from checker.meeting.session.gear import Gear, gear_of, scales_of
from checker.meeting.session.judging import Judge, Judgement
from checker.meeting.session.procedure import Procedure, read_procedure
from checker.pack.model import Pack
from checker.quantities.folding import fold
from checker.reading.document import Document
from checker.reading.nearest import did_you_mean
from checker.reading.strict_yaml import parse_document

Decide = Callable[[Day], Sequence[Content]]
"""What to record, given the state of the day; raises `InputError` to refuse."""


class Meeting:
    """An open meeting."""

    def __init__(self, store: Store, day: Day) -> None:
        self.store = store
        self.day = day
        self._pack: Pack | None = None
        self._procedure: Procedure | None = None
        self._judge: Judge | None = None
        self._gear_file: Document | None = None
        self._gear: dict[str, Gear] | None = None
        self._declarations: dict[str, Document] = {}

    @classmethod
    def of(cls, store: Store) -> Meeting:
        """The meeting that a store holds, as it stands now.

        Raises:
            InputError: MT407; then the store is closed.
        """
        try:
            return cls(store, replay(store.entries()))
        except NotReadable as error:
            store.close()
            raise refusal("MT407", f"'{store.path}': {error}", "verify the record") from None

    @classmethod
    def open(
        cls, path: str | os.PathLike[str], *, writing: bool = True, clock: Clock = computer_clock
    ) -> Meeting:
        """An existing meeting.

        Raises:
            InputError: MT101 to MT109, MT407.
        """
        return cls.of(Store.open(path, writing=writing, clock=clock))

    def __enter__(self) -> Meeting:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.store.close()

    # -- what the day is judged by -----------------------------------------------------------------------

    @property
    def on(self) -> date:
        """The day of the meeting."""
        return date.fromisoformat(self.day.opened.content.on)

    @property
    def pack(self) -> Pack:
        """The frozen pack; read once.

        Raises:
            InputError: MT215, it is not the one the meeting was opened with, or cannot be read.
        """
        if self._pack is None:
            opened = self.day.opened.content
            files = {name: self.store.file(digest) for name, digest in opened.pack_files.items()}
            pack = thaw(files, self.on)
            check_digest(pack, opened.pack_sha256)
            self._pack = pack
        return self._pack

    @property
    def procedure(self) -> Procedure:
        if self._procedure is None:
            digest = self.day.opened.content.procedure
            if digest:
                document = parse_document(self.store.file(digest), "procedure.yaml", "MT")
                self._procedure = read_procedure(document, self.pack)
            else:
                self._procedure = Procedure()
        return self._procedure

    @property
    def judge(self) -> Judge:
        if self._judge is None:
            self._judge = Judge(self.pack, self.on, self.procedure, self.gear_file)
        return self._judge

    @property
    def gear_file(self) -> Document | None:
        """The meeting's own description of its gear, if it brought one."""
        digest = self.day.opened.content.gear
        if digest and self._gear_file is None:
            self._gear_file = parse_document(self.store.file(digest), "gear.yaml", "GR")
        return self._gear_file

    @property
    def gear(self) -> dict[str, Gear]:
        """All gear by name."""
        if self._gear is None:
            self._gear = gear_of(self.pack, self.gear_file)
        return self._gear

    @property
    def scales(self) -> Gear | None:
        """What cars are weighed on where nobody says."""
        return scales_of(self.gear, self.gear_file)

    def declaration(self, car: CarDay) -> Document:
        """The car's file as it was entered."""
        digest = car.entered.content.declaration
        if digest not in self._declarations:
            data = self.store.file(digest)
            self._declarations[digest] = parse_document(data, car.entered.content.file, "CD")
        return self._declarations[digest]

    # -- looking and recording ---------------------------------------------------------------------------

    def refresh(self) -> bool:
        """Take in what others have recorded meanwhile; whether there was anything."""
        return self._take(self.store.entries(self.day.number))

    def _take(self, entries: Sequence[Entry]) -> bool:
        try:
            for entry in entries:
                self.day.add(entry)
        except NotReadable as error:
            raise refusal("MT407", f"'{self.store.path}': {error}", "verify the record") from None
        return bool(entries)

    def record(self, by: str, decide: Decide, files: Sequence[bytes] = ()) -> list[Entry]:
        """Record what `decide` says, all of it or nothing; on disk when this returns.

        Args:
            by: Initials of the official.
            decide: Called while the record is held alone; it may raise `InputError` to refuse.
            files: Files that the contents may name by their SHA-256; those that are named are kept.

        Raises:
            InputError: MT201 closed, MT202 no such official, MT104 to MT107, and what `decide` raises.
        """
        with self.store.appending() as held:
            self._take(held.entries(self.day.number))
            initials = self.official(by)
            contents = decide(self.day)
            self._refuse_closed(contents)
            by_name = {digest_of(data): data for data in files}
            added = held.append([_draft(content, initials, by_name) for content in contents])
        self._take(added)
        return added

    def official(self, by: str) -> str:
        """Initials as they signed on; where only one official has, they need not be given.

        Raises:
            InputError: MT202.
        """
        officials = self.day.officials
        if not by and len(officials) == 1:
            return officials[0]
        for initials in officials:
            if fold(initials) == fold(by):
                return initials
        hint = did_you_mean(by, officials) or f"signed on are: {', '.join(officials)}"
        message = f"no official signs as '{by}'" if by else "it is not said which official this is"
        raise refusal("MT202", message, f"{hint}; give initials with --by")

    def _refuse_closed(self, contents: Sequence[Content]) -> None:
        if self.day.closed is not None and not isinstance(contents[0] if contents else None, Reopened):
            message = f"the meeting was closed by {self.day.closed.by}"
            raise refusal("MT201", message, "reopen it with a reason, if something is still to be recorded")

    # -- cars --------------------------------------------------------------------------------------------

    def car(self, number: str, *, taking_part: bool = False) -> CarDay:
        """A car that is entered; see `entered_car`."""
        return entered_car(self.day, number, taking_part=taking_part)

    def judgement(self, car: CarDay, occasion: str = "", *, afresh: bool = False) -> Judgement:
        """The verdict on a car as the record stands.

        Raises:
            InputError: Its declaration or a reading cannot be used.
        """
        at = occasion or car.latest_occasion()
        return self.judge.judge(self.day, car, self.declaration(car), at, afresh=afresh)

    def judge_and_record(self, car: CarDay, by: str, occasion: str = "") -> Judgement:
        """The verdict on a car, recorded so that it can be worked out again and compared."""
        judgement = self.judgement(car, occasion)
        self.record_judgement(judgement, by)
        return judgement

    def record_judgement(self, judgement: Judgement, by: str) -> None:
        """Record a verdict with the entry that it rests on."""
        self.record(by, lambda _: [judgement.as_content(program_version())])

    def last_judged(self, car: CarDay) -> Judged | None:
        """What was last recorded as computed for a car, if nothing that bears on it has come since."""
        if not car.judged or car.judged[-1].content.rests_on < self.day.bearing(car):
            return None
        return car.judged[-1].content


def entered_car(day: Day, number: str, *, taking_part: bool = False) -> CarDay:
    """A car that is entered.

    Raises:
        InputError: MT203 it is not entered, MT205 it has withdrawn (where it must take part).
    """
    car = day.car(number)
    if car is None:
        numbers = [entered.number for entered in day.cars.values()]
        hint = did_you_mean(number, numbers) or "enter it first, with its declaration"
        raise refusal("MT203", f"car {number} is not entered", hint)
    if taking_part and car.withdrawn:
        message = f"car {car.number} has withdrawn: {car.withdrawn}"
        raise refusal("MT205", message, "enter it again, with a reason, if it is back")
    return car


def _draft(content: Content, initials: str, files: Mapping[str, bytes]) -> Draft:
    plain = to_plain(content)
    named = tuple(files[text] for text in texts_in(plain) if text in files)
    return Draft(content.KIND, initials, plain, named)


def program_version() -> str:
    import checker

    return checker.__version__
