"""One open meeting: the record, the state of the day, and the frozen pack, kept in step.

Whatever an official asks for is decided while the record is held alone and the state is up to date, so two officials
never decide on different states. When `record` has returned, what was asked for is on disk.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Mapping, Sequence
from datetime import datetime
from itertools import takewhile
from types import TracebackType
from typing import Any

from checker.meeting.record.car_day import CarDay, Record
from checker.meeting.record.chain import RecordEntry, RecordFault, faults
from checker.meeting.record.content_form import NotReadable, to_plain
from checker.meeting.record.contents import Content
from checker.meeting.record.day import Day, begin, recorded
from checker.meeting.record.refusal import refusal
from checker.meeting.record.rows import Clock, RecordDraft, computer_clock, digest_of
from checker.meeting.record.schema import texts_in
from checker.meeting.record.signing import Signer, signature_faults
from checker.meeting.record.soundness import flaws
from checker.meeting.record.store import Store
from checker.meeting.session.basis import Basis
from checker.meeting.session.disagreeing import disagreements
from checker.meeting.session.judging import Judgement
from checker.meeting.session.named import entered_car, official_of
from checker.meeting.session.rules import Rules
from checker.meeting.session.ruling_rules import due
from checker.reading.problems import InputError
from checker.reading.quick_dataclasses import replace

Decide = Callable[[Day], Sequence[Content]]
"""What to record, given the state of the day; raises `InputError` to refuse."""


class Meeting(Basis):
    """An open meeting."""

    def __init__(self, store: Store, day: Day) -> None:
        super().__init__(store, day.opened.content)
        self.day = day
        self.faults: list[RecordFault] = []
        """What is wrong with the record; nothing is added to one that is not sound."""
        self.recorded: list[RecordEntry] = []
        """The entries that were recorded through this."""
        self.sent: list[RecordEntry] = []
        """These, and any of which an interruption left unknown whether they came into the file."""
        self.signer: Signer | None = None
        """The unlocked key of the official who records."""
        self.once = ""
        """The one-time number of the form that is being entered; "" where it comes from none."""
        self._taking = Rules(self)
        self._taken = Rules(self, reads=False)

    @classmethod
    def of(cls, store: Store, *, adding: bool = True) -> Meeting:
        """The meeting that a store holds, as it stands now: every entry goes through the rules that took it.

        Raises:
            InputError: MT407, or MT410 where something is to be added to a record that is not sound; then the store
                is closed.
        """
        try:
            entries = store.entries()
            meeting = cls.begun(store, entries)
            meeting.faults += flaws(store, entries)
            signed = store.signatures()
            meeting.faults += signature_faults(entries, signed, check=False)
            for entry in entries[1:]:
                meeting.take(entry)
            for branch in meeting.day.branches.tips.values():
                theirs = signature_faults(branch.chain(entries), branch.signatures(signed), check=False)
                meeting.faults += [
                    RecordFault(branch.numbers[0], f.code, f"in a merged record: {f.message}") for f in theirs
                ]
            if adding:
                meeting.refuse_unsound()
        except BaseException:
            store.close()
            raise
        return meeting

    @classmethod
    def begun(cls, store: Store, entries: Sequence[RecordEntry]) -> Meeting:
        """The meeting as its first entry left it.

        Raises:
            InputError: MT407, no meeting was opened.
        """
        try:
            if not entries:
                raise NotReadable("the record is empty")
            meeting = cls(store, begin(entries[0]))
        except NotReadable as error:
            raise _not_readable(store, error) from None
        try:
            _ = meeting.procedure, meeting.gear
        except InputError as error:
            meeting.faults += [RecordFault(1, p.code, p.message) for p in error.problems]
        return meeting

    @classmethod
    def open(
        cls, path: str | os.PathLike[str], *, writing: bool = True, clock: Clock = computer_clock
    ) -> Meeting:
        """An existing meeting.

        Raises:
            InputError: MT101 to MT109, MT404, MT407; MT410 where it is not sound and is opened for writing.
        """
        return cls.of(Store.open(path, writing=writing, clock=clock), adding=writing)

    def as_at(self, moment: datetime) -> Meeting:
        """The meeting as it stood then, to be looked at only: all entries before the first that bears a later time.

        Raises:
            InputError: MT407; nothing had been recorded by then.
        """
        entries = self.store.entries()
        before = list(takewhile(lambda entry: datetime.fromisoformat(entry.at) <= moment, entries))
        if not before:
            hint = f"the first entry is of {entries[0].at}"
            raise refusal("MT407", f"nothing had been recorded by {moment:%H:%M} UTC", hint)
        earlier = Meeting.begun(self.store, before)
        for entry in before[1:]:
            earlier.take(entry)
        earlier.faults = list(self.faults)
        return earlier

    def __enter__(self) -> Meeting:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.store.close()

    # -- looking and recording ---------------------------------------------------------------------------

    def refresh(self) -> bool:
        """Take in what others have recorded meanwhile; whether there was anything."""
        return self._take(self.store.entries(self.day.number - 1))

    def take(self, entry: RecordEntry) -> None:
        """Take in an entry that was recorded; what could not have been taken then is a fault.

        Raises:
            InputError: MT407, it says what none can say at its place.
        """
        try:
            record = recorded(entry)
            try:
                self._taken.refuse(self.day, record.by, record.content)
            except InputError as error:
                said = "; ".join(problem.message for problem in error.problems)
                message = f"entry {entry.number} ({entry.kind}) could not have been recorded: {said}"
                self.faults.append(RecordFault(entry.number, "MT410", message))
            self.day.go_on(record, entry.hash)
        except NotReadable as error:
            raise _not_readable(self.store, error) from None

    def _take(self, entries: Sequence[RecordEntry]) -> bool:
        """Take in what follows the last entry that is known, which stands first; whether there was anything."""
        known, following = entries[:1], entries[1:]
        if [entry.hash for entry in known] != [self.day.hash]:
            message = f"entry {self.day.number} is no longer what it was when the record was opened"
            self.faults.append(RecordFault(self.day.number, "MT401", message))
        self.faults += faults(following, self.day.number, self.day.hash)
        for entry in following:
            self.take(entry)
        return bool(following)

    def refuse_unsound(self) -> None:
        """Refuse to go on from a record that is not sound.

        Raises:
            InputError: MT410.
        """
        if self.faults:
            message = f"'{self.store.path}' is not sound: {self.faults[0].message}"
            more = f" (and {len(self.faults) - 1} more)" if len(self.faults) > 1 else ""
            hint = "verify it; keep it as it is, and work on from the newest copy that is sound"
            raise refusal("MT410", message + more, hint)

    def record(self, by: str, decide: Decide, files: Sequence[bytes] = ()) -> list[RecordEntry]:
        """Record what `decide` says, all of it or nothing; on disk when this returns.

        Args:
            by: Initials of the official.
            decide: Called while the record is held alone; it may raise `InputError` to refuse.
            files: Files that the contents may name by their SHA-256; those that are named are kept.

        Raises:
            InputError: MT104 to MT107, MT410, what `decide` raises, and what the rules refuse.
        """
        with self.store.appending() as held:
            self._take(held.entries(self.day.number - 1))
            self.refuse_unsound()
            initials = official_of(self.day, by)
            sign = self._signing(initials)
            self._coming = {digest_of(data): data for data in files}
            try:
                contents = self._numbered(decide(self.day))
                self._refuse(initials, contents)
            finally:
                by_name, self._coming = self._coming, {}
            added = held.append([_draft(content, initials, by_name, sign) for content in contents])
            self.sent += added
        for entry in added:
            self.day.add(entry)
        self.recorded += added
        return added

    def _numbered(self, contents: Sequence[Content]) -> Sequence[Content]:
        """With the number of the form on the first that can bear one."""
        first: Any = contents[0] if contents else None
        return (
            [replace(first, once=self.once), *contents[1:]]
            if self.once and hasattr(first, "once")
            else contents
        )

    def _signing(self, initials: str) -> Callable[[str], str] | None:
        public = self.day.keys.get(initials)
        if public is None:
            return None
        if self.signer is None or self.signer.public != public:
            hint = "name the file of the key with CHECKER_KEY, and unlock it with its PIN"
            raise refusal("MT220", f"{initials} signs what is recorded, and the key is not unlocked", hint)
        return self.signer.sign

    def _refuse(self, initials: str, contents: Sequence[Content]) -> None:
        """Send what is to be recorded through the rules, each on the state that those before it leave."""
        day = self.day.copy() if len(contents) > 1 else self.day
        for content in contents:
            self._taking.refuse(day, initials, content)
            if len(contents) > 1:
                day.go_on(Record(day.number + 1, day.latest_at, initials, content, day.number + 1))

    # -- who and what is named ---------------------------------------------------------------------------

    def official(self, by: str) -> str:
        """Initials as they signed on; see `official_of`."""
        return official_of(self.day, by)

    def car(self, number: str, *, taking_part: bool = False) -> CarDay:
        """A car that is entered; see `entered_car`."""
        return entered_car(self.day, number, taking_part=taking_part)

    def judgement(
        self, car: CarDay, occasion: str = "", *, afresh: bool = False, measured: bool = False
    ) -> Judgement:
        """The verdict on a car as the record stands; see `Judge.judge`.

        Raises:
            InputError: Its declaration or a reading cannot be used.
        """
        at = occasion or car.latest_occasion()
        how = {"afresh": afresh, "measured": measured}
        judgement = self.judge.judge(self.day, car, self.declaration(car), at, **how)
        if not self.day.opened.content.rules:
            return judgement
        reasons = disagreements(self, car, at, judgement.inspection.car)
        return judgement.left_open(reasons, self.judge.on_weights) if reasons else judgement

    def due(self) -> list[CarDay]:
        """The cars that are weighed as often as they are to be, and have no verdict as the record stands."""
        return due(self, self.day)

    def judge_and_record(self, car: CarDay, by: str, occasion: str = "") -> Judgement:
        """The verdict on a car, recorded so that it can be worked out again and compared."""
        judgement = self.judgement(car, occasion)
        self.record_judgement(judgement, by)
        return judgement

    def record_judgement(self, judgement: Judgement, by: str) -> None:
        """Record a verdict with the entry that it rests on."""
        self.record(by, lambda _: [judgement.as_content(program_version())])


def _not_readable(store: Store, error: NotReadable) -> InputError:
    return refusal("MT407", f"'{store.path}': {error}", "verify the record")


def _draft(
    content: Content, initials: str, files: Mapping[str, bytes], sign: Callable[[str], str] | None
) -> RecordDraft:
    plain = to_plain(content)
    named = tuple(files[text] for text in texts_in(plain) if text in files)
    return RecordDraft(content.KIND, initials, plain, named, sign)


def program_version() -> str:
    import checker

    return checker.__version__
