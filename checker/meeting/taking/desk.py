"""The scales' desk: a queue of cars, typed pad by pad, each with its verdict as soon as the last pad is in.

This is the whole conversation as plain states and keys, without a terminal: a key goes in, and what is to be shown can
be read off. Backspace always leads back: a digit, a pad, or, once the verdict stands, into a correction of the reading.
"""

from __future__ import annotations

from dataclasses import replace

from checker.car.described.standard import WHEELS
from checker.meeting.record.contents import SCRUTINEERING
from checker.meeting.record.day import CarDay
from checker.meeting.session.gear import is_doubted, read_mass
from checker.meeting.session.judging import Judgement
from checker.meeting.session.session import Meeting
from checker.meeting.taking.weighing import Reading, Settled, weigh
from checker.reading.problems import InputError, Problem

CAR, REASON, FUEL, PADS, VERDICT, LEFT = "car", "reason", "fuel", "pads", "verdict", "left"
"""What is asked for; `LEFT` once the official has gone."""

ENTER, BACK, LEAVE = "enter", "back", "leave"
"""Keys that are no characters."""

MISTYPED = "typed wrongly at the scales"
LONGEST, LONGEST_NUMBER = 40, 6
"""Characters that can be typed; so many figures fit the screen."""

_NUMBER = set("0123456789.,")


class Desk:
    """One official's conversation at the scales."""

    def __init__(self, meeting: Meeting, by: str, occasion: str = SCRUTINEERING) -> None:
        """Begin with asking for a car.

        Raises:
            InputError: MT202, no such official.
        """
        self.meeting = meeting
        self.by = meeting.official(by)
        self.occasion = occasion
        self.stage = CAR
        self.typed = ""
        self.loads: list[str] = []
        """What was typed for the pads before the present one, in the order of `WHEELS`."""
        self.car: CarDay | None = None
        self.fuel = ""
        self.again = ""
        self.problems: tuple[Problem, ...] = ()
        """Why the last key was not taken, or what looks wrong with the reading."""
        self.settled: Settled | None = None
        self.judgement: Judgement | None = None
        self._corrects = 0

    # -- what is to be shown -----------------------------------------------------------------------------

    @property
    def pad(self) -> str:
        """The pad that is being typed."""
        return WHEELS[min(len(self.loads), len(WHEELS) - 1)]

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

    # -- keys --------------------------------------------------------------------------------------------

    def key(self, key: str) -> None:
        """Take one key: a character, `ENTER`, `BACK` or `LEAVE`."""
        if key == LEAVE:
            self.stage = LEFT
        elif key == BACK:
            self.problems = ()
            self._back()
        elif key == ENTER:
            self.problems = ()
            try:
                self._enter()
            except InputError as error:
                self.problems = error.problems
        elif self.stage in (PADS, FUEL):
            if key in _NUMBER and len(self.typed) < LONGEST_NUMBER:
                self.typed += key
        elif self.stage != VERDICT and key.isprintable() and len(self.typed) < LONGEST:
            self.typed += key

    def _back(self) -> None:
        if self.stage == VERDICT:
            self._correct()
        elif self.typed:
            self.typed = self.typed[:-1]
        elif self.stage == PADS and self.loads:
            self.typed = self.loads.pop()
        elif self.stage != CAR:
            self._ask_for_a_car()

    def _enter(self) -> None:
        match self.stage:
            case "car":
                self._car()
            case "reason":
                if self.typed.strip():
                    self.again = self.typed.strip()
                    self._next(FUEL)
            case "fuel":
                if self.typed:
                    self.fuel = f"{self.typed.replace(',', '.')} L"
                    self._next(PADS)
            case "pads":
                self._load()
            case _:
                self._after_the_verdict()

    def _next(self, stage: str) -> None:
        self.stage, self.typed = stage, ""

    def _ask_for_a_car(self) -> None:
        self._next(CAR)
        self.loads, self.car, self.fuel, self.again = [], None, "", ""
        self.settled = self.judgement = None
        self._corrects = 0

    def clear(self) -> None:
        """Take back all that is typed for the present question."""
        self.typed = ""

    # -- one car -----------------------------------------------------------------------------------------

    def _car(self) -> None:
        if not self.typed.strip():
            return
        self.meeting.refresh()
        car = self.meeting.car(self.typed.strip(), taking_part=True)
        self.car = car
        # Everything that takes time is done while the official reaches for the next key.
        self.meeting.judgement(car, self.occasion)
        self.meeting.judge.declared(self.meeting.declaration(car))
        if self.weighings >= self.due:
            self._next(REASON)
        else:
            self._next(PADS if self.weighings else FUEL)

    @property
    def is_doubted(self) -> bool:
        """Whether the car was weighed on gear that failed its check."""
        return self.car is not None and is_doubted(self.meeting.day, self.car.weighings(self.occasion))

    def _load(self) -> None:
        if not self.typed:
            return
        read_mass(self.typed, self.meeting.scales)
        self.loads.append(self.typed)
        self.typed = ""
        if len(self.loads) < len(WHEELS):
            return
        try:
            self._record()
        except InputError:
            self.typed = self.loads.pop()
            raise

    def _record(self) -> None:
        assert self.car is not None
        reading = Reading(
            car=self.car.number,
            loads=dict(zip(WHEELS, self.loads, strict=True)),
            occasion=self.occasion,
            fuel=self.fuel if self.again or not self.weighings else "",
            again=self.again,
        )
        if self._corrects and self.settled is not None:
            reading = replace(reading, fuel="", again="", corrects=self._corrects, reason=MISTYPED)
        self.settled = weigh(self.meeting, reading, self.by)
        self.problems = self.settled.warnings
        self._corrects, self.again = 0, ""
        self.stage = VERDICT
        self.judgement = self.meeting.judgement(self.car, self.occasion)

    def keep_verdict(self) -> None:
        """Record the verdict that is shown; done after it was shown, for the official need not wait for it."""
        if self.stage == VERDICT and self.judgement is not None and self.weighings >= self.due:
            self.meeting.record_judgement(self.judgement, self.by)

    def _correct(self) -> None:
        if self.settled is not None:
            self._corrects = self.settled.number
            self.loads = [self.settled.content.loads[wheel].partition(" ")[0] for wheel in WHEELS]
            self.stage, self.typed = PADS, self.loads.pop()

    def _after_the_verdict(self) -> None:
        self.loads = []
        if self.weighings < self.due:
            self._next(PADS)
        else:
            self._ask_for_a_car()
