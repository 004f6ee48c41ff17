"""Why a value cannot be told, as data: what is wrong, and what of the car or the rules is named in saying so.

Rooms before `report` tell a reason too, as in a problem of a pack or in a record. So each kind of reason holds its one
wording, and whoever tells it hands in how amounts are shown.
"""

from __future__ import annotations

from collections.abc import Callable
from enum import Enum
from typing import Any

from checker.reading.quick_dataclasses import dataclass


class Why(Enum):
    """What is wrong: a clause of a sentence, with `{}` for each part. Every room lists what it finds."""


@dataclass(frozen=True, slots=True)
class Reason:
    """Something that is wrong, with the parts of its clause; no text is made before it is told."""

    why: Why
    parts: tuple[object, ...] = ()
    """Names, words, numbers, days, an `Amount` where it has a unit, another reason; or a row of them, told in one."""

    def told(self, show: Callable[[Any], str] = str) -> str:
        """The clause.

        Args:
            show: Tells a part; without it, amounts are in the units of the rules.
        """
        return str(self.why.value).format(*(_part(part, show) for part in self.parts))


def _part(part: object, show: Callable[[Any], str]) -> str:
    if isinstance(part, tuple):
        return "".join(map(show, part))
    return part.told(show) if isinstance(part, Reason) else show(part)


class NoValue(Why):
    NO_RESULT = "{}"
    """What a function of plain numbers or days says of those that it has no result for."""
    BY_ZERO = "{} is zero, and nothing can be divided by it"
    NOT_WHOLE = "{} is not a whole number of {}"
    NONE_TO_TAKE_OF = "there is nothing to take the {} of"
    EMPTY = "there is no {} of an empty list"
    FEWER = "there are {}, and number {} is asked for"
    FEWER_VALUES = "there are {} values, and number {} is asked for"
    ONE_PLACE = "two entries of {} have one place in the order of their running total"
    MAY_BE = "{} may be {}: say which"
    NOT_KNOWN = "'{}' is no {} that this pack knows"
    MISSPELT = "'{}' is no {} that this pack knows; did you mean '{}'?"
    NO_ROW = "table {} has no row for {}"
    SEVERAL_ROWS = "table {} has several rows, none of them the nearest, for {}"
    NO_LIMIT = "the table sets no limit"
