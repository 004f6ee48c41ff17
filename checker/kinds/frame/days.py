"""`since` and `until` beside a check: the first and the last day on which it binds, inside one edition.

The day is that of the event, which a declaration always has once it is judged.
"""

from __future__ import annotations

from datetime import date

from checker.car.scene import Scene
from checker.kinds.judging.findings import NotInForce
from checker.kinds.reading.reader import CheckReader
from checker.quantities.days import parse_day
from checker.quantities.formula.compiling import compile_formula
from checker.quantities.formula.expression import Expression
from checker.reading.quick_dataclasses import dataclass

TODAY = "event.date"
DAYS = "since or until"
"""The role of the days among a check's formulas."""


@dataclass(frozen=True, slots=True)
class BindingDays:
    """The days on which a check binds; None: open at that end."""

    since: date | None
    until: date | None
    test: Expression
    """True on these days."""

    def outside(self, scene: Scene) -> NotInForce | None:
        """Why the check does not bind on the day of the scene; None where it does, or where there is no day."""
        day = scene.car.value(TODAY)
        if not isinstance(day, date):
            return None
        if self.since is not None and day < self.since:
            return NotInForce(since=self.since)
        return NotInForce(until=self.until) if self.until is not None and day > self.until else None

    @property
    def words(self) -> str:
        """In words: "from 2027-01-01 until 2027-06-30"."""
        ends = (("from", self.since), ("until", self.until))
        return " ".join(f"{word} {day.isoformat()}" for word, day in ends if day is not None)


def read_days(reader: CheckReader) -> tuple[BindingDays | None, bool]:
    """The days beside a check, if any; and whether they can be used (else the problems are noted)."""
    found: dict[str, date] = {}
    keys = [key for key in ("since", "until") if reader.has(key)]
    for key in keys:
        try:
            found[key] = parse_day(str(reader.get(key)))
        except ValueError as error:
            reader.problem(106, str(error), key, hint="a day is written 2026-03-01")
    if len(found) < len(keys):
        return None, False
    since, until = found.get("since"), found.get("until")
    if since and until and until < since:
        reader.problem(601, "`until` is before `since`", "until")
        return None, False
    if not keys:
        return None, True
    ends = ((">=", since), ("<=", until))
    text = " and ".join(f"{TODAY} {sign} {day.isoformat()}" for sign, day in ends if day is not None)
    return BindingDays(since, until, compile_formula(text, reader.scope)), True
