"""A conversation with one official as plain stages and keys, without a terminal.

A key goes in, and what is to be shown can be read off. Backspace leads back, and Escape asks before it leaves: an arrow
key that a slow line cuts in two begins with the same character.
"""

from __future__ import annotations

from checker.meeting.record.car_day import CarDay
from checker.meeting.session.session import Meeting
from checker.reading.problems import InputError, Problem

ENTER, BACK, LEAVE, FORWARD, BACKWARD = "enter", "back", "leave", "forward", "backward"
"""Keys that are no characters; the last two move between fields without storing anything."""

CAR = "car"
"""The stage that every conversation about cars begins with."""

LONGEST = 40
"""Characters that can be typed."""

MISTYPED = "typed wrongly at the desk"


class Conversation:
    """One official at one desk."""

    def __init__(self, meeting: Meeting, by: str, stage: str = CAR) -> None:
        """Begin at a stage.

        Raises:
            InputError: MT202, no such official.
        """
        self.meeting = meeting
        self.by = meeting.official(by)
        self.stage = stage
        self.typed = ""
        self.car: CarDay | None = None
        self.seen = meeting.day.number
        """The last entry that the screen knows of the car."""
        self.problems: tuple[Problem, ...] = ()
        """Why the last key was not taken, or what looks wrong."""
        self.leaving = False
        """Whether it is asked if the official wants to leave."""
        self.left = False

    def key(self, key: str) -> None:
        """Take one key: a character, or one of the named ones."""
        if self.leaving:
            self.left, self.leaving = key == ENTER, False
        elif key == LEAVE:
            self.leaving = True
        elif key == BACK:
            self.problems = ()
            self.back()
        elif key == ENTER:
            self.problems = ()
            try:
                self.enter()
            except InputError as error:
                self.problems = error.problems
        elif key in (FORWARD, BACKWARD):
            self.move(1 if key == FORWARD else -1)
        elif key.isprintable():
            self.character(key)

    def answer(self, text: str) -> None:
        """A whole answer in place of what is typed, ended with Enter."""
        self.clear()
        for character in text:
            self.key(character)
        self.key(ENTER)

    def fill(self, text: str) -> None:
        """A whole answer as it was typed elsewhere: it is taken or refused, and no character of it is left out."""
        self.typed = text
        self.key(ENTER)

    def clear(self) -> None:
        """Take back all that is typed for the present question."""
        self.typed = ""

    def character(self, character: str) -> None:
        if len(self.typed) < LONGEST:
            self.typed += character

    def back(self) -> None:
        """A character back, or where nothing is typed, a question."""
        if self.typed:
            self.typed = self.typed[:-1]
        else:
            self.step_back()

    def next(self, stage: str) -> None:
        """Go on to a stage, with nothing typed yet."""
        self.stage, self.typed = stage, ""

    # -- what each desk does --------------------------------------------------------------------------------

    def enter(self) -> None:
        """Take what is typed."""
        raise NotImplementedError

    def step_back(self) -> None:
        """Go back one question."""
        raise NotImplementedError

    def move(self, step: int) -> None:
        """Go to the next or the last field, where the stage has several."""

    def after_shown(self) -> None:
        """What can wait until the answer stands on the screen."""

    def take_car(self) -> CarDay:
        """The car whose number is typed, as the record stands now; what takes time is done meanwhile.

        Raises:
            InputError: MT203, MT205.
        """
        self.meeting.refresh()
        car = self.meeting.car(self.typed.strip(), taking_part=True)
        self.meeting.judge.declared(self.meeting.declaration(car))
        self.seen = self.meeting.day.number
        return car
