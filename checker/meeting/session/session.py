"""One open meeting: the record, the state of the day, and the frozen pack, kept in step.

Whatever an official asks for is decided while the record is held alone and the state is up to date, so two officials
never decide on different states. When `record` has returned, what was asked for is on disk.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Mapping, Sequence
from types import TracebackType

from checker.meeting.record.chain import Entry
from checker.meeting.record.contents import Content, NotReadable, to_plain
from checker.meeting.record.day import CarDay, Day, Record, replay
from checker.meeting.record.refusal import refusal
from checker.meeting.record.schema import texts_in
from checker.meeting.record.store import Clock, Draft, Store, computer_clock, digest_of
from checker.meeting.session.basis import Basis
from checker.meeting.session.judging import Judgement
from checker.meeting.session.named import entered_car, official_of
from checker.meeting.session.rules import Rules

Decide = Callable[[Day], Sequence[Content]]
"""What to record, given the state of the day; raises `InputError` to refuse."""


class Meeting(Basis):
    """An open meeting."""

    def __init__(self, store: Store, day: Day) -> None:
        super().__init__(store, day.opened.content)
        self.day = day
        self.rules = Rules(self)

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
            InputError: MT104 to MT107, what `decide` raises, and what the rules refuse.
        """
        with self.store.appending() as held:
            self._take(held.entries(self.day.number))
            initials = official_of(self.day, by)
            contents = decide(self.day)
            self._coming = {digest_of(data): data for data in files}
            try:
                self._refuse(initials, contents)
            finally:
                by_name, self._coming = self._coming, {}
            added = held.append([_draft(content, initials, by_name) for content in contents])
        self._take(added)
        return added

    def _refuse(self, initials: str, contents: Sequence[Content]) -> None:
        """Send what is to be recorded through the rules, each on the state that those before it leave."""
        day = self.day.copy() if len(contents) > 1 else self.day
        for content in contents:
            self.rules.refuse(day, initials, content)
            if len(contents) > 1:
                day.go_on(Record(day.number + 1, day.latest_at, initials, content, day.number + 1))

    # -- who and what is named ---------------------------------------------------------------------------

    def official(self, by: str) -> str:
        """Initials as they signed on; see `official_of`."""
        return official_of(self.day, by)

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


def _draft(content: Content, initials: str, files: Mapping[str, bytes]) -> Draft:
    plain = to_plain(content)
    named = tuple(files[text] for text in texts_in(plain) if text in files)
    return Draft(content.KIND, initials, plain, named)


def program_version() -> str:
    import checker

    return checker.__version__
