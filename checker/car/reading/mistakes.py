"""Finds mistakes in a declaration and the files beside it, under codes that stay the same for ever.
They have the same shape, so the same numbers serve all: CD203 in a car's own file is RD203 in an official's, GR203 in
a club's file of its gear and SH203 in a file of what may be done to a car.
"""

from __future__ import annotations

from collections.abc import Iterable

from checker.car.described.stated import GEAR, READINGS, WHAT_IF
from checker.car.described.vocabulary import Vocabulary
from checker.reading.document import COMMAND_LINE
from checker.reading.file_reader import Codes, FileReader, Mistake, name_of
from checker.reading.nearest import did_you_mean
from checker.reading.problems import Path
from checker.reading.quick_dataclasses import dataclass

__all__ = ["CODES", "Reader", "codes_of", "name_of"]

CODES = {
    201: "a section, key or field that the pack does not know",
    202: "a mapping, a list or a single value was wanted; or nothing is written",
    203: "a quantity without its unit, with an unknown unit, or that cannot be read",
    204: "a quantity of another dimension, or a unit where none belongs",
    205: "a word that is not among those allowed",
    206: "a day that cannot be read or is not in the calendar, or a month or year where a day is wanted",
    207: "below zero, where only zero or more is possible",
    208: "outside the range that the pack gives, so taken for a slip",
    209: "a value that may stand once in a list stands twice",
    210: "true or false, a text, a number or a count was wanted",
    211: "`formula` is absent or names another pack",
    212: "`car.number` is absent, is not text in quotes, or differs from the declaration's",
    213: "a fact that is not for the entrant to state; it is not counted (warning)",
    214: "a weighing that contradicts itself or the rest of the file",
    215: "two entries with one label (warning in a declaration), or readings that fit no one entry",
    216: "an instrument that is described nowhere",
    217: "a category that the pack does not know",
    218: "a field that is worked out from others and not declared",
    219: "a place that is given twice, or lies beyond the car",
    220: "tyre sections that do not fit the width over tyres",
    221: "gear that is not to be trusted: a pad out of order, calibration run out (warning)",
    222: "a day after the one that the car is judged for: no evidence, so it is not counted (warning)",
}
"""What each problem is, by the number after CD, RD, GR or SH."""

SHELF = "shelf"
"""Of a file that says what may be done to a car."""

_NUMBERS = {
    Mistake.UNKNOWN_KEY: 201,
    Mistake.UNREADABLE: 203,
    Mistake.UNIT: 203,
    Mistake.OTHER_KIND: 204,
    Mistake.WORD: 205,
    Mistake.DAY: 206,
    Mistake.BELOW_ZERO: 207,
    Mistake.TRUTH: 210,
}


def codes_of(origin: str) -> Codes:
    """The codes of a file of that origin: `DECLARED`, `READINGS`, `GEAR` or `SHELF`."""
    return Codes({READINGS: "RD", GEAR: "GR", SHELF: "SH"}.get(origin, "CD"), 202, _NUMBERS)


@dataclass(slots=True, kw_only=True)
class Reader(FileReader):
    """One file being read for one pack, and the problems found so far."""

    vocabulary: Vocabulary
    origin: str
    """Of what the file says: `DECLARED`, `READINGS` or `GEAR`."""
    instruments: frozenset[str]
    """Names of all instruments that the files or the pack describe."""

    def origin_at(self, path: Path) -> str:
        """The origin of the value at `path`: what-if where it stands on the command line."""
        edited = self.document.edited_sections
        if not edited or (path and path[0] not in edited):
            return self.origin
        return WHAT_IF if self.document.file_at(path) == COMMAND_LINE else self.origin

    def unknown_name(self, what: str, choices: Iterable[str], *path: str | int) -> None:
        """Note that the last part of `path` is no name that the pack knows; the nearest is offered."""
        key, known = str(path[-1]), tuple(choices)
        hint = did_you_mean(key, known)
        if not hint and 0 < len(known) <= 12:
            hint = f"known here: {', '.join(known)}"
        message = f"{name_of(path)}: there is no {what} {key!r}"
        self.key_problem(Mistake.UNKNOWN_KEY, message, *path, hint=hint)
