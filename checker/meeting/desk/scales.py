"""The scales' desk: a queue of cars, typed wheel by wheel, each with its verdict as soon as the last wheel is in.

What looks like a slip of the finger is asked about before it is stored; any wheel can be gone back to, also after the
verdict, which then makes a correction. That a car may not be weighed again is said before anybody rolls it on.
"""

from __future__ import annotations

from typing import Any

from checker.car.described.standard import WHEELS
from checker.meeting.desk.conversation import CAR, MISTYPED, Conversation
from checker.meeting.record.car_contents import SCRUTINEERING, Weighed
from checker.meeting.record.car_day import CarDay, Record
from checker.meeting.session.gear import is_doubted, read_mass
from checker.meeting.session.judging import Judgement
from checker.meeting.session.session import Meeting
from checker.meeting.session.weighing_rules import DRIVER, WEAR, refuse_too_many
from checker.meeting.tables.scale_reading import ScaleReading
from checker.meeting.taking.weighing import (
    Settled,
    assumed_state,
    not_as_presented,
    refuse_state,
    settle,
    weigh,
)
from checker.reading.problems import InputError
from checker.reading.quick_dataclasses import replace

REASON, STATE, LOADS, DOUBT, VERDICT = "reason", "state", "loads", "doubt", "verdict"
"""What is asked for after the car: why again, fuel and the like, the loads, whether a doubtful reading is right."""

LONGEST_NUMBER = 6
"""Characters of a load that can be typed; so many figures fit the screen."""

SLIPS = ("MT312", "MT313")
"""What looks like a slip of the finger, or like another car."""

SAID_TO_BE_RIGHT = "said to be right at the scales"
"""What is recorded where the official lets a doubtful reading stand."""

_NUMBER = set("0123456789.,")
_SWITCHES = {"d": "driver", "t": "tyres", "w": "wear"}
"""Keys that change what is taken of the car's state."""


class ScalesDesk(Conversation):
    """One official's conversation at the scales."""

    def __init__(self, meeting: Meeting, by: str, occasion: str = SCRUTINEERING) -> None:
        super().__init__(meeting, by)
        self.occasion = occasion
        self.loads: dict[str, str] = {}
        """What is typed for each wheel."""
        self.wheel = WHEELS[0]
        """Under which the pad is being read."""
        self.state: dict[str, str] = {}
        """Fuel, driver, tyres and wear that the reading is recorded with."""
        self.again = ""
        self.settled: Settled | None = None
        self.judgement: Judgement | None = None
        self._corrects = 0
        self._asked = False
        """Whether the official has said that a doubtful reading is right."""

    # -- what is to be shown -----------------------------------------------------------------------------

    @property
    def weighings(self) -> int:
        """How many weighings of the present set are done."""
        return len(self.car.weighings(self.occasion)) if self.car else 0

    @property
    def due(self) -> int:
        """How many it takes."""
        return self.meeting.procedure.weighings_on(self.occasion == SCRUTINEERING)

    @property
    def pads_stand(self) -> str:
        """How the pads are to stand for the weighing that is being typed."""
        if self._corrects and self.settled:
            return self.settled.content.pads
        return "as marked" if self.again or not self.weighings else self.meeting.procedure.pads

    @property
    def is_doubted(self) -> bool:
        """Whether the car was weighed on gear that failed its check."""
        return self.car is not None and is_doubted(self.meeting.day, self.car.weighings(self.occasion))

    @property
    def _asks_state(self) -> bool:
        """Whether fuel and the like are said with the reading that is typed, and not taken from the one before."""
        return not self._corrects and (bool(self.again) or not self.weighings)

    @property
    def is_correcting(self) -> bool:
        return bool(self._corrects)

    # -- keys --------------------------------------------------------------------------------------------

    def character(self, character: str) -> None:
        if self.stage == STATE and character.lower() in _SWITCHES:
            self._switch(_SWITCHES[character.lower()])
        elif self.stage in (LOADS, STATE):
            if character in _NUMBER and len(self.typed) < LONGEST_NUMBER:
                self.typed += character
        elif self.stage in (CAR, REASON):
            super().character(character)

    def step_back(self) -> None:
        if self.stage == VERDICT:
            self._correct()
        elif self.stage == DOUBT:
            self._go_to(WHEELS[-1])
        elif self.stage == LOADS and (self.wheel != WHEELS[0] or self._asks_state):
            self.move(-1)
        elif self.stage != CAR:
            self._ask_for_a_car()

    def move(self, step: int) -> None:
        """To another wheel; what was typed for this one is kept."""
        if self.stage in (VERDICT, DOUBT):
            self.step_back()
        elif self.stage == LOADS:
            self._keep_typed()
            if step < 0 and self.wheel == WHEELS[0] and self._asks_state:
                self.next(STATE)
                self.typed = self.state["fuel"].partition(" ")[0]
                return
            self._go_to(WHEELS[(WHEELS.index(self.wheel) + step) % len(WHEELS)])

    def enter(self) -> None:
        match self.stage:
            case "car":
                self._car()
            case "reason":
                if reason := self.typed.strip():
                    assert self.car is not None
                    refuse_too_many(self.meeting, self.meeting.day, self.car, self.occasion, reason)
                    self.weigh_again(reason)
            case "state":
                if fuel := f"{self.typed.replace(',', '.')} L" if self.typed else self.state["fuel"]:
                    assert self.car is not None
                    state = {**self.state, "fuel": fuel}
                    refuse_state(self.meeting, self.car, self.occasion, state, self.again)
                    self.state = state
                    self._go_to(WHEELS[0])
            case "loads":
                self._load()
            case "doubt":
                self._asked = True
                self._record()
            case _:
                self._after_the_verdict()

    def look_back(self, record: Record[Weighed]) -> None:
        """Show what stands since a reading that is on disk."""
        self.car = self.meeting.car(record.content.car)
        self.settled = Settled(record.content, not_as_presented(self.meeting, record.content), record.number)
        self.judgement = self.meeting.judgement(self.car, self.occasion)
        self.next(VERDICT)
        self.problems = (*self.settled.warnings, *self.judgement.doubts)

    # -- one car -----------------------------------------------------------------------------------------

    def _ask_for_a_car(self) -> None:
        self.next(CAR)
        self.loads, self.car, self.state, self.again = {}, None, {}, ""
        self.settled = self.judgement = None
        self._corrects, self._asked = 0, False

    def _car(self) -> None:
        if not self.typed.strip():
            return
        car = self.take_car()
        before = car.weighings(self.occasion)
        if len(before) >= self.due:  # whether it may be weighed again is said before it rolls on
            self._refuse_again(car)
        self.car = car
        self.meeting.judgement(car, self.occasion)
        if self.weighings >= self.due:
            self.next(REASON)
        elif before:
            self.state = assumed_state(self.meeting, car, before[-1].content)
            self._go_to(WHEELS[0])
        else:
            self._ask_for_the_state()

    def _refuse_again(self, car: CarDay) -> None:
        """Unless the procedure knows incidents that would be a reason, and the reason is still to be asked for."""
        if not self.meeting.procedure.incidents:
            refuse_too_many(self.meeting, self.meeting.day, car, self.occasion, again="to be asked")

    def weigh_again(self, reason: str) -> None:
        """Go on to the state of a car that is weighed again."""
        self.again = reason
        self._ask_for_the_state()

    def _ask_for_the_state(self) -> None:
        assert self.car is not None
        self.next(STATE)
        self.state = assumed_state(self.meeting, self.car, None)

    def _switch(self, key: str) -> None:
        """The next word for the driver, the tyres or the wear."""
        assert self.car is not None
        declared = self.meeting.judge.declared(self.meeting.declaration(self.car))
        words = {"driver": DRIVER, "wear": WEAR, "tyres": declared.tyre_sets}[key]
        if words:
            at = words.index(self.state[key]) + 1 if self.state[key] in words else 0
            self.state[key] = words[at % len(words)]

    # -- the wheels --------------------------------------------------------------------------------------

    def _go_to(self, wheel: str) -> None:
        self.stage, self.wheel, self.typed = LOADS, wheel, self.loads.get(wheel, "")
        self._asked = False

    def _keep_typed(self) -> None:
        if self.typed:
            self.loads[self.wheel] = self.typed

    def _load(self) -> None:
        if not self.typed:
            return
        read_mass(self.typed, self.meeting.scales)
        self.loads[self.wheel] = self.typed
        missing = [wheel for wheel in WHEELS if wheel not in self.loads]
        if missing:
            self._go_to(missing[0])
        else:
            self._record()

    def _record(self) -> None:
        assert self.car is not None
        reading = ScaleReading(self.car.number, {wheel: self.loads[wheel] for wheel in WHEELS}, self.occasion)
        if self._corrects:
            reading = replace(reading, corrects=self._corrects, reason=MISTYPED)
        elif self.again or not self.weighings:
            state: dict[str, Any] = {**self.state, "again": self.again}
            reading = replace(reading, **state)
        if self._asked:
            reading = replace(reading, confirmed=SAID_TO_BE_RIGHT)
        if not self._asked:
            slips = [p for p in settle(self.meeting, self.meeting.day, reading).warnings if p.code in SLIPS]
            if slips:
                self.stage, self.typed, self.problems = DOUBT, "", tuple(slips)
                return
        try:
            self.settled = weigh(self.meeting, reading, self.by, seen=self.seen)
        except InputError as error:
            if error.problems[0].code == "MT218":  # it is looked at anew before anything is typed for it
                self._ask_for_a_car()
            raise
        self.seen = self.settled.number
        self.problems = self.settled.warnings
        self._corrects, self.again, self._asked = 0, "", False
        self.next(VERDICT)
        self.judgement = self.meeting.judgement(self.car, self.occasion)
        if self.judgement.open_because:
            self.problems = tuple(self.judgement.doubts)

    def after_shown(self) -> None:
        """Record the verdict that is shown."""
        if self.stage == VERDICT and self.judgement is not None and self.weighings >= self.due:
            try:
                self.meeting.record_judgement(self.judgement, self.by)
            except InputError as error:
                self.problems = error.problems

    def _correct(self) -> None:
        if self.settled is not None:
            self._corrects = self.settled.number
            self.loads = {wheel: load.partition(" ")[0] for wheel, load in self.settled.content.loads.items()}
            self._go_to(WHEELS[-1])

    def _after_the_verdict(self) -> None:
        self.loads = {}
        if self.weighings < self.due:
            self._go_to(WHEELS[0])
        else:
            self._ask_for_a_car()
