"""What the entries of a record say of one car: a frozen value for each kind; see `checker.meeting.record.contents`."""

from __future__ import annotations

from typing import ClassVar

from checker.reading.quick_dataclasses import KW_ONLY, dataclass

# `once` is the one-time number of the form that an entry was sent with: one that is sent twice is entered once.

SCRUTINEERING = "scrutineering"
"""The first occasion of a day. Others are named when they come: "after the final"."""


@dataclass(frozen=True, slots=True)
class Entered:
    """A car with its declaration, or a declaration in place of an earlier one."""

    KIND: ClassVar[str] = "entered"
    car: str
    name: str
    declaration: str
    """SHA-256 of the file; the bytes are kept in the record."""
    file: str
    late: bool = False
    reason: str = ""
    """Why an earlier declaration was replaced, or a withdrawn car is back."""
    listed: bool = False
    """The declaration is what a list of entries states; the entrant's own may still come."""
    _: KW_ONLY
    once: str = ""


@dataclass(frozen=True, slots=True)
class Withdrawn:
    """A car that does not take part any more."""

    KIND: ClassVar[str] = "withdrawn"
    car: str
    reason: str
    once: str = ""


@dataclass(frozen=True, slots=True)
class Weighed:
    """One reading of the pads, or of a weighbridge."""

    KIND: ClassVar[str] = "weighed"
    car: str
    occasion: str
    loads: dict[str, str]
    """By wheel, axle or side, or `total`."""
    gear: str
    _: KW_ONLY
    pads: str
    """How the pads stood: as marked, swapped side to side, swapped diagonally."""
    fuel: str
    driver: str
    tyres: str
    wear: str
    again: str = ""
    """Why the car is weighed anew; such a reading begins a new set, and earlier ones no longer count."""
    source: str = ""
    """Where it was imported from: "file.csv, line 12"."""
    taken: str = ""
    """When it was read, in UTC, where that is told by more than the entry: by the table it was imported from."""
    confirmed: str = ""
    """Why it is right though it looks wrong, in the words of the official who looked."""
    corrects: int = 0
    reason: str = ""
    once: str = ""


@dataclass(frozen=True, slots=True)
class Measured:
    """One fact as an official measured, read or saw it."""

    KIND: ClassVar[str] = "measured"
    car: str
    occasion: str
    fact: str
    """`section.name`, or `list.entry.field`."""
    value: str
    """As it would stand in a file."""
    _: KW_ONLY
    gear: str = ""
    gauge: str = ""
    """For a gauge of the size `value`: "go" where it went, "no-go" where it did not; "" for a measured value."""
    corrects: int = 0
    reason: str = ""
    once: str = ""


@dataclass(frozen=True, slots=True)
class Noted:
    """What was seen or done and is no fact of the pack: a clause looked at, a defect, a seal, a sample, a lost part."""

    KIND: ClassVar[str] = "noted"
    car: str
    occasion: str
    topic: str
    """One of `TOPICS`."""
    text: str
    _: KW_ONLY
    clause: str = ""
    part: str = ""
    """The component that was lost, or the place of a seal."""
    state: str = ""
    """Of a seal: fitted, intact or broken. Of a defect: open or mended."""
    carried: bool = False
    """It came from the meeting before."""
    corrects: int = 0
    reason: str = ""
    once: str = ""


TOPICS = ("seen", "defect", "seal", "sample", "lost", "remark")


@dataclass(frozen=True, slots=True)
class Judged:
    """What was computed and shown, so that it can be computed again and compared."""

    KIND: ClassVar[str] = "judged"
    car: str
    occasion: str
    rests_on: int
    """The entry up to which the record was looked at."""
    complies: str
    """"yes", "no" or "open"."""
    _: KW_ONLY
    outcomes: dict[str, str]
    """By clause."""
    margins: dict[str, str]
    """By clause, exact: "4.65 kg" as "93/20 kg"."""
    program: str
    doubt: str = ""
    """Why the weighings settle nothing, where they do not."""


@dataclass(frozen=True, slots=True)
class Protested:
    """A protest against a car."""

    KIND: ClassVar[str] = "protested"
    car: str
    clause: str
    text: str
    by_car: str = ""
    once: str = ""


@dataclass(frozen=True, slots=True)
class Ruled:
    """What an official decided on one clause, beside what was computed."""

    KIND: ClassVar[str] = "ruled"
    car: str
    clause: str
    decision: str
    """"stand": the computed outcome stands; "reject"; "allow"."""
    reason: str
    _: KW_ONLY
    computed: str
    """The outcome that was computed when the official decided."""
    found: str
    """Its sentence."""
    rests_on: int
    protest: int = 0
    """The protest that it answers."""
    corrects: int = 0
    once: str = ""


STAND, REJECT, ALLOW = DECISIONS = ("stand", "reject", "allow")
