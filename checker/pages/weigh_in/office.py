"""One meeting held open for many devices.

Whatever is asked or entered is done in one thread, one thing after the other, by the functions that the terminal's
commands use; those may be used on the same record meanwhile. What was entered is on disk before it is acknowledged.
"""

from __future__ import annotations

import asyncio
import secrets
import time
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from contextlib import suppress
from contextvars import copy_context
from hashlib import file_digest
from threading import Lock
from typing import TypeVar

from checker.meeting.record.chain import RecordFault
from checker.meeting.record.signing import Signer
from checker.meeting.record.soundness import flaws
from checker.meeting.record.store import Store
from checker.meeting.session.named import entered_with
from checker.meeting.session.session import Meeting
from checker.meeting.taking.judging import judge_due
from checker.reading.problems import InputError

T = TypeVar("T")

_SECONDS_BETWEEN_LOOKS = 0.5


def new_once() -> str:
    """A one-time number for a form."""
    return secrets.token_hex(16)


class _Held:
    """A meeting held open in a thread of its own."""

    def __init__(self, day: str, *, writing: bool) -> None:
        self._thread = ThreadPoolExecutor(1, "meeting")
        self._context = copy_context()  # the units asked for are those of the command
        self._meeting = self._run(lambda: Meeting.open(day, writing=writing))

    def _run(self, act: Callable[[], T]) -> T:
        return self._thread.submit(self._context.run, act).result()

    def ask(self, question: Callable[[Meeting], T]) -> T:
        def act() -> T:
            self._meeting.refresh()
            return question(self._meeting)

        return self._run(act)

    def close(self) -> None:
        self._run(lambda: self._meeting.store.close())
        self._thread.shutdown()


class _Watched(_Held):
    """One that is held against its file at every question: what is told to readers is what the file says now.

    As long as not a byte has changed, nothing has. Once one has, the chain has to lead to the very entry that is known
    here, and every kept file to be what its name says; otherwise the record is opened anew, with all that is wrong.
    """

    def __init__(self, day: str) -> None:
        super().__init__(day, writing=False)
        self._day = day
        self._bytes = ""
        """The digest of the file when it was last looked over."""
        self._known = self._meeting.day.number, self._meeting.day.hash

    def ask(self, question: Callable[[Meeting], T]) -> T:
        def act() -> T:
            with open(self._day, "rb") as opened:
                found = file_digest(opened, "sha256").hexdigest()
            if found != self._bytes:
                self._look_over()
                self._bytes = found
            return question(self._meeting)

        return self._run(act)

    def _look_over(self) -> None:
        if not self._meeting.faults:
            self._meeting.refresh()
            self._note()
            if self._is_as_known() and not self._meeting.faults:
                return
        self._meeting.store.close()
        self._meeting = Meeting.open(self._day, writing=False)
        number, last = self._known
        entries = self._meeting.store.entries(number - 1)[:1]
        if [entry.hash for entry in entries] != [last]:
            message = f"entry {number} was in the record while these pages were open, and is not any more"
            self._meeting.faults.append(RecordFault(number, "MT401", message))
        self._note()

    def _note(self) -> None:
        """What is known from now on: the last entry of a record that is sound."""
        if not self._meeting.faults:
            self._known = self._meeting.day.number, self._meeting.day.hash

    def _is_as_known(self) -> bool:
        number, last = self._known
        with Store.open(self._day, writing=False, suspect=True) as store:
            entries = store.entries()
            return [one.hash for one in entries[number - 1 : number]] == [last] and not flaws(store, entries)


def _state_told(meeting: Meeting) -> str:
    return f"{meeting.day.number}{' not sound' if meeting.faults else ''}"


class Office:
    """The meeting behind all pages: once for officials, and once for readers, whom no official waits for."""

    def __init__(self, day: str) -> None:
        """Open a meeting's file for writing.

        Raises:
            InputError: As `Meeting.open`.
        """
        self.day = day
        self._apart, self._context = Lock(), copy_context()
        self._desk = _Held(day, writing=True)
        try:
            self._readers = _Watched(day)
        except BaseException:
            self._desk.close()
            raise
        self._looked, self._latest = 0.0, ""

    def ask(self, question: Callable[[Meeting], T]) -> T:
        """An answer for an official, by the record as it stands now.

        Raises:
            InputError: What the question raises.
        """
        return self._desk.ask(question)

    def look(self, question: Callable[[Meeting], T]) -> T:
        """An answer for readers, by the record as it stands now; nothing is entered in it.

        Raises:
            InputError: The record cannot be read any more.
            OSError: So for its file.
        """
        return self._readers.ask(question)

    def enter(self, by: str, signer: Signer | None, once: str, act: Callable[[Meeting], object]) -> int:
        """Enter what a form says, unless that form was entered already.

        Args:
            by: Initials of the official.
            signer: The official's unlocked key, where there is one.
            once: The one-time number of the form, which the entry keeps.
            act: Records it; the first entry that it records is the form's.

        Returns:
            The number of the form's entry, on disk; 0 where nothing was to be recorded.

        Raises:
            InputError: Why it was not recorded.
        """

        def enter(meeting: Meeting) -> int:
            if number := entered_with(meeting.day, once):
                return number
            meeting.once, meeting.signer = once, signer
            try:
                judge_due(meeting, by)
                act(meeting)
                judge_due(meeting, by)
            except InputError:
                if not entered_with(meeting.day, once):
                    raise  # else it is on disk, and only its verdict could not be worked out
            finally:
                meeting.once, meeting.signer = "", None
            return entered_with(meeting.day, once)

        return self.ask(enter)

    async def latest(self) -> str:
        """The number of the last entry, and whether the record is sound, looked up once for all who ask within half a
        second; what cannot be read now is as it was."""
        now = time.monotonic()
        if now - self._looked > _SECONDS_BETWEEN_LOOKS:
            self._looked = now
            with suppress(InputError, OSError):
                self._latest = await asyncio.to_thread(self.look, _state_told)
        return self._latest

    def apart(self, question: Callable[[Meeting], T]) -> T:
        """An answer by the record as whoever opens it now finds it, worked out apart: it may take long, and what it
        finds wrong holds nobody up.

        Raises:
            InputError: As `Meeting.open`, and what the question raises.
        """

        def act() -> T:
            with Meeting.open(self.day, writing=False) as meeting:
                return question(meeting)

        with self._apart:
            return self._context.run(act)

    def close(self) -> None:
        self._desk.close()
        self._readers.close()
