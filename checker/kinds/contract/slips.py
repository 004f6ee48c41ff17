"""What a pen may get wrong in a check as it is written: each slip is tried on a pack's cases, to see who notices.

A kind only says where which slip may happen; places are paths below the check.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from checker.reading.problems import Path
from checker.reading.quick_dataclasses import dataclass
from checker.reading.values import Plain


@dataclass(frozen=True, slots=True)
class Misread:
    """A number, amount, day or truth misread, or any part of a formula."""

    path: Path


@dataclass(frozen=True, slots=True)
class LeftOut:
    """What stands there forgotten."""

    path: Path
    what: str


@dataclass(frozen=True, slots=True)
class OtherValue:
    """Another value in its place."""

    path: Path
    other: Any


@dataclass(frozen=True, slots=True)
class Renamed:
    """The same value under another key."""

    key: str
    other: str


@dataclass(frozen=True, slots=True)
class Opposite:
    """A statement turned into its opposite."""

    path: Path


@dataclass(frozen=True, slots=True)
class Stranger:
    """A word exchanged for one that it has nothing to do with."""

    path: Path


Slip = Misread | LeftOut | OtherValue | Renamed | Opposite | Stranger


def slips_in(path: Path, written: Plain) -> Iterator[Slip]:
    """The slips that what is written somewhere invites by its form alone: a formula, a number, a list, a mapping.

    Checks that stand in it are left out, for they have their own.
    """
    if isinstance(written, dict):
        for key, value in written.items():
            yield from slips_in((*path, key), value)
    elif not isinstance(written, list):
        yield Misread(path)
    elif not any(isinstance(one, dict) for one in written):
        if len(written) > 1:
            yield from (LeftOut((*path, place), str(one)) for place, one in enumerate(written))
        elif written:
            word = isinstance(written[0], str)
            yield Stranger((*path, 0)) if word else Misread((*path, 0))
