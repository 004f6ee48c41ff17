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
from contextvars import copy_context
from typing import TypeVar

from checker.meeting.record.signing import Signer
from checker.meeting.session.named import entered_with
from checker.meeting.session.session import Meeting
from checker.meeting.taking.judging import judge_due

T = TypeVar("T")

_SECONDS_BETWEEN_LOOKS = 0.5


def new_once() -> str:
    """A one-time number for a form."""
    return secrets.token_hex(16)


class Office:
    """The meeting behind all pages."""

    def __init__(self, day: str) -> None:
        """Open a meeting's file for writing.

        Raises:
            InputError: As `Meeting.open`.
        """
        self._thread = ThreadPoolExecutor(1, "meeting")
        self._context = copy_context()  # the units asked for are those of the command
        self._meeting = self._run(lambda: Meeting.open(day))
        self._looked, self._latest = 0.0, self._meeting.day.number

    def _run(self, act: Callable[[], T]) -> T:
        return self._thread.submit(self._context.run, act).result()

    def ask(self, question: Callable[[Meeting], T]) -> T:
        """An answer by the record as it stands now.

        Raises:
            InputError: What the question raises.
        """

        def act() -> T:
            self._meeting.refresh()
            return question(self._meeting)

        return self._run(act)

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
            finally:
                meeting.once, meeting.signer = "", None
            return entered_with(meeting.day, once)

        return self.ask(enter)

    async def latest(self) -> int:
        """The number of the last entry, looked up once for all who ask within half a second."""
        now = time.monotonic()
        if now - self._looked > _SECONDS_BETWEEN_LOOKS:
            self._looked = now
            self._latest = await asyncio.to_thread(self.ask, lambda meeting: meeting.day.number)
        return self._latest

    def close(self) -> None:
        """Let go of the file."""
        self._run(self._meeting.store.close)
        self._thread.shutdown()
