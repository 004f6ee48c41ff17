"""Days with or without a time of day, to put weighings and checks of the pads in order."""

from __future__ import annotations

from datetime import date

from checker.quantities.days import parse_day
from checker.reading.file_reader import FileReader, Mistake
from checker.reading.patterns import pattern
from checker.reading.quick_dataclasses import dataclass

_TIME = pattern(r"([01][0-9]|2[0-3]):([0-5][0-9])")


@dataclass(frozen=True, slots=True)
class Moment:
    """A day, and the minute of it where that is stated."""

    day: date
    minute: int | None = None
    """From midnight."""

    @property
    def words(self) -> str:
        if self.minute is None:
            return self.day.isoformat()
        return f"{self.day.isoformat()} {self.minute // 60:02}:{self.minute % 60:02}"

    def surely_before(self, other: Moment) -> bool:
        """Whether it is known to lie before the other: on one day, only where both have a time."""
        if self.day != other.day:
            return self.day < other.day
        return self.minute is not None and other.minute is not None and self.minute < other.minute


def read_moment(reader: FileReader, *path: str | int, needed: bool = False) -> Moment | None:
    """The moment at `path`; None where there is none, or it cannot be read and was noted."""
    hint = "write it as in 2026-05-03 08:40"
    return reader.parsed(parse_moment, Mistake.DAY, "a day", *path, hint=hint, needed=needed)


def parse_moment(text: str) -> Moment:
    """Read `2026-05-03` or `2026-05-03 08:40`.

    Raises:
        ValueError: It is neither; the message says why.
    """
    day, _, time = text.strip().partition(" ")
    if not time:
        return Moment(parse_day(day))
    found = _TIME.fullmatch(time.strip())
    if found is None:
        raise ValueError(f"{time.strip()!r} is no time of day; write it as in 08:40")
    return Moment(parse_day(day), int(found[1]) * 60 + int(found[2]))
