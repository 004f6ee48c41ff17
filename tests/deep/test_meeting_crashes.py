"""A meeting goes on while its programs die between any two statements, and is held against a plain list of its entries.

Each step is one thing that an official does, in a process of its own that may be killed before the statement of a given
number reaches the database. What was acknowledged must stand in the record; what was not may stand there whole, or not
at all; nothing that stood there before may change, and the record is always sound.
"""

from __future__ import annotations

import os
import signal
import sqlite3
import tempfile
from collections.abc import Callable
from pathlib import Path
from unittest.mock import patch

import pytest
from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, rule

from checker.meeting.record import store as store_module
from checker.meeting.record.car_contents import Protested
from checker.meeting.record.chain import RecordEntry
from checker.meeting.record.database import connect
from checker.meeting.record.store import Store
from checker.meeting.session.session import Meeting
from checker.meeting.standing.verifying import verify
from checker.meeting.taking.closing import close, reopen
from checker.meeting.taking.correcting import strike
from checker.meeting.taking.measuring import announce
from checker.meeting.taking.opening import sign_on
from checker.meeting.taking.ruling import protest
from checker.reading.problems import InputError
from tests.meeting.days import a_meeting, car_text, shifted, weighed
from tests.meeting.processes import forked

CARS = ("7", "8")
DONE, REFUSED = b"done", b"refused"
cars = st.sampled_from(CARS)
deaths = st.one_of(st.none(), st.integers(1, 60))


def _dying(before: int | None) -> Callable[[str, str], sqlite3.Connection]:
    """A connection whose process is killed before the statement of that number."""
    count = 0

    def look(_statement: str) -> None:
        nonlocal count
        count += 1
        if count == before:
            os.kill(os.getpid(), signal.SIGKILL)

    def dying(path: str, mode: str) -> sqlite3.Connection:
        database = connect(path, mode)
        database.set_trace_callback(look)
        return database

    return dying


class MeetingThatGoesOn(RuleBasedStateMachine):
    def __init__(self) -> None:
        super().__init__()
        self.folder = tempfile.TemporaryDirectory()
        self.file = Path(self.folder.name) / "day.meeting"
        self.entries: list[RecordEntry] = []

    @initialize()
    def opened(self) -> None:
        with a_meeting(Path(self.folder.name), {car: car_text(car, f"Bird {car}") for car in CARS}):
            pass
        self.entries = self._on_disk()

    def teardown(self) -> None:
        self.folder.cleanup()

    @rule(car=cars, heavier=st.sampled_from([0.0, 0.5, 40.0]), death=deaths)
    def weighs(self, car: str, heavier: float, death: int | None) -> None:
        self._does(lambda meeting: weighed(meeting, car, shifted(front_left=heavier)), death)

    @rule(wet=st.sampled_from(["true", "false"]), death=deaths)
    def announces(self, wet: str, death: int | None) -> None:
        self._does(lambda meeting: announce(meeting, "event.wet", wet, "KV"), death)

    @rule(initials=st.sampled_from(["AB", "CD"]), death=deaths)
    def signs_on(self, initials: str, death: int | None) -> None:
        self._does(lambda meeting: sign_on(meeting, initials, "KV"), death)

    @rule(car=cars, clause=st.sampled_from(["1", "3"]), death=deaths)
    def protests(self, car: str, clause: str, death: int | None) -> None:
        against = Protested(car=car, clause=clause, text="too low", by_car="8" if car == "7" else "7")
        self._does(lambda meeting: protest(meeting, against, "TB"), death)

    @rule(back=st.integers(0, 3), death=deaths)
    def strikes(self, back: int, death: int | None) -> None:
        number = max(1, len(self.entries) - back)
        self._does(lambda meeting: strike(meeting, number, "typed twice", "KV"), death)

    @rule(death=deaths)
    def closes(self, death: int | None) -> None:
        self._does(lambda meeting: close(meeting, "KV", provisional=True), death)

    @rule(death=deaths)
    def reopens(self, death: int | None) -> None:
        self._does(lambda meeting: reopen(meeting, "a car was forgotten", "KV"), death)

    @invariant()
    def the_record_is_sound(self) -> None:
        if self.entries:
            found = verify(self.file, recompute=False)
            assert found.sound, [fault.message for fault in found.faults]
            assert found.hash == self.entries[-1].hash

    def _does(self, act: Callable[[Meeting], object], death: int | None) -> None:
        def work(pipe: int) -> None:
            with patch.object(store_module, "connect", _dying(death)):
                try:
                    with Meeting.open(self.file) as meeting:
                        act(meeting)
                    os.write(pipe, DONE)
                except InputError:
                    os.write(pipe, REFUSED)

        process, pipe = forked(work)
        _, status = os.waitpid(process, 0)
        answer = os.read(pipe, 100)
        os.close(pipe)
        assert answer or os.WIFSIGNALED(status), "it ended without an answer and was not killed"
        now = self._on_disk()
        assert now[: len(self.entries)] == self.entries, "what stood in the record has changed"
        if answer == DONE:
            assert len(now) > len(self.entries), "what was acknowledged is not there"
        self.entries = now

    def _on_disk(self) -> list[RecordEntry]:
        with Store.open(self.file, writing=False) as store:
            return store.entries()


TestMeetingThatGoesOn = pytest.mark.deep(
    pytest.mark.skipif(not hasattr(os, "fork"), reason="needs processes that can be forked and killed")(
        MeetingThatGoesOn.TestCase
    )
)
TestMeetingThatGoesOn.settings = settings(deadline=None, max_examples=40, stateful_step_count=20)
