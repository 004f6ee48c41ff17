"""Finds mistakes in a declaration, a readings file or a gear file, under codes that stay the same for ever.
They have the same shape, so the same numbers serve all: CD203 in a car's own file is RD203 in an official's and
GR203 in a club's file of its gear.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from checker.car.described.stated import GEAR, READINGS, WHAT_IF
from checker.car.described.vocabulary import Vocabulary
from checker.reading.document import COMMAND_LINE, Document
from checker.reading.nearest import did_you_mean
from checker.reading.paths import format_path
from checker.reading.problems import Path, Problems, Span

CODES = {
    201: "a section, key or field that the pack does not know",
    202: "a mapping, a list or a single value was wanted; or nothing is written",
    203: "a quantity without its unit, with an unknown unit, or that cannot be read",
    204: "a quantity of another dimension, or a unit where none belongs",
    205: "a word that is not among those allowed",
    206: "a day that cannot be read or is not in the calendar, or a month or year where a day is wanted",
    207: "below zero, where only zero or more is possible",
    208: "outside the range that the pack gives, so taken for a slip",
    209: "a percentage above 100 %",
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
"""What each problem is, by the number after CD, RD or GR."""

_PREFIX = {READINGS: "RD", GEAR: "GR"}


@dataclass(frozen=True, slots=True)
class Reader:
    """One file being read for one pack, and the problems found so far."""

    document: Document
    vocabulary: Vocabulary
    problems: Problems
    origin: str
    """Of what the file says: `DECLARED`, `READINGS` or `GEAR`."""
    instruments: frozenset[str]
    """Names of all instruments that the files or the pack describe."""

    def code(self, number: int) -> str:
        return f"{_PREFIX.get(self.origin, 'CD')}{number}"

    def problem(
        self,
        number: int,
        message: str,
        path: Path,
        *,
        hint: str = "",
        at_key: bool = False,
        within: tuple[int, int] | None = None,
        related: tuple[tuple[str, Span], ...] = (),
        warning: bool = False,
    ) -> None:
        """Note a problem of the value at `path`, of its key, or of a stretch within its text."""
        if at_key:
            span = self.document.key_span(path)
        elif within:
            span = self.document.span_within(path, *within)
        else:
            span = self.document.span(path)
        self.problems.add(self.code(number), message, span, hint=hint, related=related, warning=warning)

    def origin_at(self, span: Span) -> str:
        """The origin of a value: what-if where it stands on the command line."""
        return WHAT_IF if span.file == COMMAND_LINE else self.origin

    def mapping(self, path: Path, what: str) -> dict[str, object]:
        """The mapping at `path`; empty where nothing is written or, with a problem noted, something else."""
        data = self.document.get(path)
        if isinstance(data, dict):
            return data
        if data is not None:
            self.problem(202, f"{name_of(path)} holds {shape(data)}; {what} was wanted", path)
        return {}

    def sequence(self, path: Path, what: str) -> list[object] | None:
        """The list at `path`; None where nothing is written or, with a problem noted, something else."""
        data = self.document.get(path)
        if isinstance(data, list):
            return data
        if data is not None:
            hint = "begin it with a dash, or put it in [ ]"
            self.problem(202, f"{name_of(path)} holds {shape(data)}; {what} was wanted", path, hint=hint)
        return None

    def unknown_key(self, path: Path, what: str, choices: Iterable[str]) -> None:
        """Note that the last part of `path` is no key that the pack knows; the nearest is offered."""
        key = str(path[-1])
        known = tuple(choices)
        hint = did_you_mean(key, known)
        if not hint and 0 < len(known) <= 12:
            hint = f"known here: {', '.join(known)}"
        self.problem(201, f"{name_of(path)}: there is no {what} {key!r}", path, hint=hint, at_key=True)


def name_of(path: Path) -> str:
    """The path in words for messages."""
    return format_path(path) or "the file"


def shape(data: object) -> str:
    """What stands there, in words."""
    if isinstance(data, dict):
        return "a mapping"
    if isinstance(data, list):
        return "a list"
    return "nothing" if data is None else "a single value"
