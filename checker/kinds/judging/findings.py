"""What was found, as data: one small value for each thing that a check can have to say.

Nothing here is a sentence. `checker.report` alone knows words, units shown, rounding and width.
"""

from __future__ import annotations

from datetime import date
from typing import Union

from checker.quantities.amount import Amount, Bound, Statement
from checker.reading.quick_dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class InWords:
    """What is words already, written by whoever wrote the rules or a kind of their own."""

    words: str


@dataclass(frozen=True, slots=True)
class AgainstBound:
    """A value against its bound."""

    what: str
    value: Amount
    bound: Bound
    margin: Amount
    """Positive when legal."""
    upper: bool
    """The bound is one that the value may not be above."""
    resolved: bool = True
    """The margin alone decides; not so where it is nearer the bound than the gear resolves and the rule of the
    officials says who has the benefit."""


@dataclass(frozen=True, slots=True)
class Unlimited:
    """A table says `no limit`."""

    what: str = ""


@dataclass(frozen=True, slots=True)
class Equal:
    """A word, truth or list against the one that it must be."""

    what: str
    value: Amount
    wanted: Amount
    met: bool


@dataclass(frozen=True, slots=True)
class Offends:
    """A word that is banned, or that is not among those allowed."""

    word: str
    owner: str = ""
    """The entry whose word it is."""
    family: str = ""
    """The banned word that it belongs to; "" where it is itself that word, or none is banned."""
    banned: bool = True


@dataclass(frozen=True, slots=True)
class NotFound:
    """Words that were looked for."""

    words: tuple[str, ...]
    so_far: bool = False
    """Something was found that may yet turn out to be one of them."""


@dataclass(frozen=True, slots=True)
class ValidUntil:
    """A last day, and the day that it is held to."""

    last: date
    day: date


@dataclass(frozen=True, slots=True)
class NotSo:
    """A statement that is false."""

    statement: Statement


@dataclass(frozen=True, slots=True)
class Guarded:
    """A guard keeps the check from applying."""

    statement: Statement
    truth: bool
    """What the statement is."""


@dataclass(frozen=True, slots=True)
class MetOf:
    """How many branches are met, and how many may or must be."""

    met: int
    count: int
    at_least: bool
    """It is the least number, else the most."""


@dataclass(frozen=True, slots=True)
class NoneOpen:
    """No way is open to the car, and why each of them is not."""

    ways: tuple[Found | None, ...] = ()


@dataclass(frozen=True, slots=True)
class NoneThere:
    """Nothing is declared that the check is made for."""

    what: str
    """The list or category."""
    mode: str
    """pairs, runs, or another: single entries."""
    chosen: bool
    """Only some of them are looked at."""


@dataclass(frozen=True, slots=True)
class NearEdge:
    """A value stands nearer the edge of a case than its gear resolves."""

    edge: str
    off: Amount
    known: Amount
    """The expanded uncertainty of the distance."""


@dataclass(frozen=True, slots=True)
class OtherSide:
    """What the check comes to beyond such an edge."""

    outcome: str
    finding: Found | None


@dataclass(frozen=True, slots=True)
class NotInForce:
    """The clause is not in force on the day: only from, or only until, another."""

    since: date | None = None
    until: date | None = None


@dataclass(frozen=True, slots=True)
class BindsNot:
    """The clause does not bind cars from before a day."""

    before: date


@dataclass(frozen=True, slots=True)
class Instead:
    """Another clause takes the place of this one."""

    clause: str


@dataclass(frozen=True, slots=True)
class Of:
    """A finding about one of several entries."""

    item: str
    finding: Found


@dataclass(frozen=True, slots=True)
class AsFarAsKnown:
    """What was found in a state that is known, where others are not."""

    finding: Found
    state: str
    """The state in words."""


@dataclass(frozen=True, slots=True)
class All:
    """Several findings."""

    findings: tuple[Found, ...]


_Single = (
    InWords | AgainstBound | Unlimited | Equal | Offends | NotFound | ValidUntil | NotSo | Guarded | MetOf
)
_Other = (
    NoneOpen | NoneThere | NearEdge | OtherSide | NotInForce | BindsNot | Instead | Of | AsFarAsKnown | All
)
Found = Union[_Single | _Other]  # noqa: UP007 (a name for all of them)


def all_found(*findings: Found | None) -> Found | None:
    """Several findings as one, each once; None where there are none."""
    found = tuple(dict.fromkeys(one for one in findings if one is not None))
    return All(found) if len(found) > 1 else found[0] if found else None
