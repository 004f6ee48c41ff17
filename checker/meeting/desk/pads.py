"""The desk for the check of the pads: nothing on them, then the test weight on each.

Four figures are typed, looked over, and recorded in one go: first what each pad shows with nothing on it, then what it
shows under the test weight.
"""

from __future__ import annotations

from checker.car.described.standard import WHEELS
from checker.meeting.desk.conversation import Conversation
from checker.meeting.record.contents import GearChecked
from checker.meeting.session.gear import Gear, checked, named_gear, read_mass
from checker.meeting.session.session import Meeting
from checker.meeting.taking.checking import check_pads

WEIGHT, ZEROS, LOADED, DONE = "weight", "zeros", "loaded", "done"
"""What is asked for: how heavy the test weight is, what shows with nothing on, what shows under it."""


class PadsDesk(Conversation):
    """One official at the pads with a test weight."""

    def __init__(self, meeting: Meeting, by: str, name: str) -> None:
        """Begin with asking for the test weight.

        Raises:
            InputError: MT202 no such official, MT211 no such gear.
        """
        super().__init__(meeting, by, WEIGHT)
        self.gear: Gear = named_gear(meeting.gear, name)
        self.applied = ""
        self.shown: dict[str, str] = {}
        """What each pad shows, as far as it is typed."""
        self.pad = WHEELS[0]
        self.found: list[GearChecked] = []
        """The checks that are on disk."""

    def character(self, character: str) -> None:
        if character in "0123456789.,-":
            super().character(character)

    def enter(self) -> None:
        if self.stage == WEIGHT:
            if self.typed:
                self.applied = read_mass(self.typed, self.gear)
                self._begin(ZEROS)
        elif self.stage == DONE:
            self.left = True
        elif self.typed:
            checked(self.gear, self.pad, self._on_the_pad, self.typed)
            self.shown[self.pad] = self.typed
            missing = [wheel for wheel in WHEELS if wheel not in self.shown]
            if missing:
                self._go_to(missing[0])
            else:
                self._record()

    def step_back(self) -> None:
        if self.stage in (ZEROS, LOADED) and self.pad != WHEELS[0]:
            self.move(-1)
        elif self.stage == ZEROS:
            self.next(WEIGHT)

    def move(self, step: int) -> None:
        if self.stage in (ZEROS, LOADED):
            if self.typed:
                self.shown[self.pad] = self.typed
            self._go_to(WHEELS[(WHEELS.index(self.pad) + step) % len(WHEELS)])

    @property
    def _on_the_pad(self) -> str:
        return self.applied if self.stage == LOADED else "0"

    def _begin(self, stage: str) -> None:
        self.stage, self.shown = stage, {}
        self._go_to(WHEELS[0])

    def _go_to(self, wheel: str) -> None:
        self.pad, self.typed = wheel, self.shown.get(wheel, "")

    def _record(self) -> None:
        self.found += check_pads(self.meeting, self.gear, self._on_the_pad, self.shown, self.by)
        if self.stage == ZEROS:
            self._begin(LOADED)
        else:
            self.next(DONE)
