"""Plays the sample meeting from its files into a meeting of its own:

    python samples/meeting/replay.py day.meeting

Every step is recorded as the officials' commands would record it, at the time that the script gives, so that the record
is the same to the last digit of its last hash whenever it is played with the same version of the program.
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Mapping
from datetime import UTC, datetime, timedelta
from fractions import Fraction
from pathlib import Path
from typing import Any

from checker.car.described.standard import WHEELS
from checker.meeting.record.car_contents import (
    SCRUTINEERING,
    Noted,
    Protested,
    Weighed,
)
from checker.meeting.session.gear import checked
from checker.meeting.session.session import Meeting
from checker.meeting.tables.given import GivenFile
from checker.meeting.tables.scale_reading import ScaleReading
from checker.meeting.taking.carrying import carry
from checker.meeting.taking.closing import close
from checker.meeting.taking.draw import draw
from checker.meeting.taking.entering import enter, withdraw
from checker.meeting.taking.entry_lists import Handed
from checker.meeting.taking.importing import import_weighings
from checker.meeting.taking.measuring import Finding, measure, note
from checker.meeting.taking.opening import Opening, open_meeting
from checker.meeting.taking.ruling import Ruling, protest, rule
from checker.meeting.taking.weighing import weigh
from checker.pack.editors.schema_parts import DAY, DIALECT, TEXT, closed, several, words
from checker.quantities.display import decimal_text
from checker.reading.document import Document
from checker.reading.excerpt import render
from checker.reading.file_reader import Codes, FileReader
from checker.reading.problems import InputError
from checker.reading.strict_yaml import read_document
from checker.report.words.findings import found_words

HERE = Path(__file__).resolve().parent
PACK = HERE.parent.parent / "rulepacks" / "dunlin"

Step = Mapping[str, Any]

STEPS: Mapping[str, tuple[tuple[str, ...], tuple[str, ...]]] = {
    "enter": (("cars",), ("late",)),
    "carry": (("results",), ()),
    "check": (("pads", "applied", "shown"), ()),
    "draw": (("sample", "purpose", "seed"), ()),
    "seen": (("car", "clauses"), ()),
    "measure": (("car", "facts"), ()),
    "gauge": (("car", "fact", "size", "result"), ()),
    "weigh": (("car", "loads"), ("fuel", "wear", "again", "corrects", "reason", "occasion")),
    "import": (("file", "mapping"), ()),
    "judge": (("car",), ()),
    "note": (("car", "topic", "part", "text"), ("state", "occasion")),
    "withdraw": (("car", "reason"), ()),
    "protest": (("car", "clause", "by_car", "text"), ()),
    "rule": (("car", "clause", "decision", "reason"), ("protest",)),
    "close": ((), ()),
}
"""What each step says beside its time, its official and what is done: what it needs, and what may be left out."""
OF_EVERY_STEP = ("at", "by", "do")
OF_A_DAY = ("day", "title", "officials", "steps")


class ScriptClock:
    """The time of the step that is being played; entries of one step are a second apart."""

    def __init__(self, day: str) -> None:
        self.day = day
        self.now = datetime.fromisoformat(f"{day}T00:00:00").replace(tzinfo=UTC)

    def set(self, time: str) -> None:
        self.now = max(self.now, datetime.fromisoformat(f"{self.day}T{time}:00").replace(tzinfo=UTC))

    def __call__(self) -> datetime:
        self.now += timedelta(seconds=1)
        return self.now


class Player:
    """Plays steps into a meeting."""

    def __init__(self, meeting: Meeting, folder: Path) -> None:
        self.meeting = meeting
        self.folder = folder
        self.protest = 0
        self.doing: dict[str, Callable[[Step, str], None]] = {
            "enter": self._enter,
            "carry": lambda step, by: void(carry(self.meeting, by, results=self._given(step["results"]))),
            "check": self._check,
            "draw": lambda step, by: void(
                draw(self.meeting, by, purpose=step["purpose"], sample=step["sample"], seed=step["seed"])
            ),
            "weigh": self._weigh,
            "import": lambda step, by: void(
                import_weighings(self.meeting, self._given(step["file"]), self._given(step["mapping"]), by)
            ),
            "measure": self._measure,
            "gauge": self._gauge,
            "seen": self._seen,
            "note": self._note,
            "judge": lambda step, by: void(self.meeting.judge_and_record(self.meeting.car(step["car"]), by)),
            "withdraw": lambda step, by: withdraw(self.meeting, step["car"], step["reason"], by),
            "protest": self._protest,
            "rule": self._rule,
            "close": lambda _, by: void(close(self.meeting, by)),
        }

    def play(self, step: Step) -> None:
        self.doing[step["do"]](step, step["by"])

    def _file(self, name: str) -> str:
        return str(self.folder / name)

    def _given(self, name: str) -> GivenFile:
        return GivenFile.read(self.folder / name)

    def _enter(self, step: Step, by: str) -> None:
        handed = [Handed(self._file(f"cars/{name}"), bool(step.get("late"))) for name in step["cars"]]
        for answer in enter(self.meeting, handed, by):
            if answer.problems:
                raise InputError(answer.problems)

    def _check(self, step: Step, by: str) -> None:
        scales = self.meeting.gear["pads"]
        checks = [checked(scales, pad, step["applied"], step["shown"]) for pad in step["pads"]]
        self.meeting.record(by, lambda _: checks)

    def _weigh(self, step: Step, by: str) -> None:
        occasion = step.get("occasion", SCRUTINEERING)
        corrects = 0
        if step.get("corrects") == "first":
            corrects = self.meeting.car(step["car"]).weighings(occasion)[0].number
        loads = {
            wheel: decimal_text(Fraction(load)) for wheel, load in zip(WHEELS, step["loads"], strict=True)
        }
        weigh(
            self.meeting,
            ScaleReading(
                car=step["car"],
                loads=loads,
                occasion=occasion,
                fuel=step.get("fuel", ""),
                wear=step.get("wear", ""),
                again=step.get("again", ""),
                corrects=corrects,
                reason=step.get("reason", ""),
            ),
            by,
        )

    def _measure(self, step: Step, by: str) -> None:
        findings = [Finding(step["car"], fact, str(value)) for fact, value in step["facts"].items()]
        void(measure(self.meeting, findings, by))

    def _gauge(self, step: Step, by: str) -> None:
        void(
            measure(
                self.meeting, [Finding(step["car"], step["fact"], step["size"], gauge=step["result"])], by
            )
        )

    def _seen(self, step: Step, by: str) -> None:
        notes = [Noted(step["car"], SCRUTINEERING, "seen", "", clause=clause) for clause in step["clauses"]]
        void(note(self.meeting, notes, by))

    def _note(self, step: Step, by: str) -> None:
        occasion = step.get("occasion", SCRUTINEERING)
        noted = Noted(
            step["car"], occasion, step["topic"], step["text"], part=step["part"], state=step.get("state", "")
        )
        void(note(self.meeting, [noted], by))

    def _protest(self, step: Step, by: str) -> None:
        self.protest = protest(
            self.meeting, Protested(step["car"], step["clause"], step["text"], step["by_car"]), by
        )

    def _rule(self, step: Step, by: str) -> None:
        answers = self.protest if step.get("protest") == "last" else 0
        void(
            rule(
                self.meeting,
                Ruling(step["car"], step["clause"], step["decision"], step["reason"], answers),
                by,
                found_words,
            )
        )


def void(_: object) -> None:
    """Nothing is made of what a step gives back."""


def read_script(document: Document) -> Step:
    """The day's script.

    Raises:
        InputError: A key is missing or not known (MT251).
    """
    reader = FileReader(document, Codes("MT", 251))
    _keys(reader, OF_A_DAY, (), what="a day")
    for at, step in enumerate(reader.listed("steps", needed=True)):
        do = reader.word(tuple(STEPS), "steps", at, "do") if isinstance(step, dict) else ""
        needed, more = STEPS.get(do, ((), ()))
        _keys(reader, (*OF_EVERY_STEP, *needed), more, "steps", at, what="a step")
    reader.problems.raise_if_any()
    script: Step = reader.mapping(needed=True)
    return script


def _keys(
    reader: FileReader, needed: tuple[str, ...], more: tuple[str, ...], *path: str | int, what: str
) -> None:
    given = reader.mapping(*path, needed=True)
    reader.known_keys((*needed, *more), *path, what=what, filled=True)
    for key in needed:
        if key not in given:
            reader.problem(251, f"{what} says `{key}`", *path)


def day_schema() -> dict[str, Any]:
    """The JSON Schema of a day's script, kept in `day.schema.json`."""
    steps = {
        do: closed(
            {"do": {"const": do}, "at": TEXT, "by": TEXT, **{key: {} for key in (*needed, *more)}}, *needed
        )
        for do, (needed, more) in STEPS.items()
    }
    step = {
        "type": "object",
        "required": list(OF_EVERY_STEP),
        "properties": {"do": words(STEPS)},
        "allOf": [
            {"if": {"properties": {"do": {"const": do}}}, "then": schema} for do, schema in steps.items()
        ],
    }
    keys = {"day": DAY, "title": TEXT, "officials": several(TEXT, least=1), "steps": several(step)}
    return {"$schema": DIALECT, "title": "A day to be played", **closed(keys, *OF_A_DAY)}


def replay(path: str | Path, folder: Path = HERE) -> Meeting:
    """The sample meeting in a new file.

    Raises:
        InputError: A step is refused, or the file is there already.
    """
    script = read_script(read_document(folder / "day.yaml", "MT"))
    clock = ScriptClock(script["day"])
    clock.set("06:45")
    opening = Opening(
        str(PACK), script["day"], tuple(script["officials"]), script["title"], name="the sample meeting"
    )
    meeting = open_meeting(path, opening, clock)
    player = Player(meeting, folder)
    for step in script["steps"]:
        clock.set(step["at"])
        player.play(step)
    return meeting


def main(path: str) -> int:
    try:
        meeting = replay(path)
    except InputError as error:
        for problem in error.problems:
            print(render(problem), file=sys.stderr)
        return 3
    weighings = sum(len(car.of(Weighed)) for car in meeting.day.cars.values())
    print(
        f"{path}: {meeting.day.number} entries, {len(meeting.day.cars)} cars, {weighings} weighings that count"
    )
    print(f"last hash {meeting.day.hash}")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1] if len(sys.argv) > 1 else "day.meeting"))
