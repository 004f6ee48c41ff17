"""What the entries of a record say: one frozen value for each kind.

Everything is text, whole numbers, truths, and lists and maps of text, so that it has one exact canonical form.
Quantities are kept as the official wrote them, with their units, and read by the pack's types when they are used.
A correction is a new entry of the same kind whose `corrects` names the old one, with a reason; nothing is overwritten.
"""

from __future__ import annotations

from typing import ClassVar

from checker.meeting.record.car_contents import (
    Entered,
    Judged,
    Measured,
    Noted,
    Protested,
    Ruled,
    Weighed,
    Withdrawn,
)
from checker.reading.quick_dataclasses import KW_ONLY, dataclass

RULES = 1
"""The present rules. By those before (0) a meeting could be closed with verdicts and protests outstanding, weighings
that disagree were averaged, and a second ruling on a clause needed not say which it stands in place of."""


@dataclass(frozen=True, slots=True)
class Opened:
    """The first entry: what the day is judged by."""

    KIND: ClassVar[str] = "opened"
    meeting: str
    """A random name, so that no two records are alike."""
    title: str
    on: str
    """The day judged for, YYYY-MM-DD."""
    pack: str
    _: KW_ONLY
    edition: str
    pack_place: str
    """The pack's path as it was given."""
    pack_sha256: str
    pack_files: dict[str, str]
    """SHA-256 of every file of the pack by its name in the pack's folder; the bytes are kept in the record."""
    officials: list[str]
    program: str
    """Version of the program."""
    gear: str = ""
    """SHA-256 of the file that describes the gear in use; "" where it is that of the pack."""
    procedure: str = ""
    """SHA-256 of the procedure's file; "" where none was given."""
    rules: int = 0
    """By which rules its entries are taken, see `RULES`."""


@dataclass(frozen=True, slots=True)
class SignedOn:
    """An official who came later, or one who signs what he records from here on."""

    KIND: ClassVar[str] = "signed_on"
    initials: str
    key: str = ""
    """The public key that his entries are signed for, in hex; "" where they are not."""
    once: str = ""


@dataclass(frozen=True, slots=True)
class Announced:
    """What the organiser states, for all cars or for one: that the meeting is wet, the place at the meeting before."""

    KIND: ClassVar[str] = "announced"
    fact: str
    value: str
    car: str = ""
    source: str = ""
    once: str = ""


@dataclass(frozen=True, slots=True)
class GearChecked:
    """A zero or a test weight on one pad, or on gear that has none."""

    KIND: ClassVar[str] = "gear_checked"
    gear: str
    pad: str
    """The wheel whose mark the pad bears; "" for gear without pads."""
    applied: str
    """What stood on it, "0 kg" for a zero check."""
    shown: str
    _: KW_ONLY
    allowed: str
    """The largest error that counts as good, as it was when the check was made."""
    good: bool
    corrects: int = 0
    reason: str = ""
    since: str = ""
    """Of a bad check: since when, in UTC, the official says that the gear was out; "": since the last good check."""
    once: str = ""


@dataclass(frozen=True, slots=True)
class Struck:
    """An entry that no longer counts, with nothing in its place."""

    KIND: ClassVar[str] = "struck"
    entry: int
    reason: str
    once: str = ""


@dataclass(frozen=True, slots=True)
class Imported:
    """A table of weighings that was read; its rows follow as entries of their own."""

    KIND: ClassVar[str] = "imported"
    file: str
    sha256: str
    mapping: str
    """SHA-256 of the mapping."""
    rows: int
    once: str = ""


@dataclass(frozen=True, slots=True)
class Carried:
    """What was taken over from the meeting before; the defects, seals and places follow as entries of their own."""

    KIND: ClassVar[str] = "carried"
    on: str
    """The day of the meeting before; "" where there was only a results file."""
    hash: str
    """Last hash of its record."""
    results: str
    """SHA-256 of the results file; "" where there was none."""
    once: str = ""


@dataclass(frozen=True, slots=True)
class Drawn:
    """A random order, or a sample, that anybody can draw again from its seed."""

    KIND: ClassVar[str] = "drawn"
    purpose: str
    seed: str
    among: list[str]
    drawn: list[str]
    once: str = ""


@dataclass(frozen=True, slots=True)
class Closed:
    """The end of the day: the tally, and the hash to be printed is this entry's own."""

    KIND: ClassVar[str] = "closed"
    tally: dict[str, int]
    provisional: bool = False
    """A protest was still unanswered, so that the results may change."""
    once: str = ""


@dataclass(frozen=True, slots=True)
class Reopened:
    """The meeting goes on after it was closed."""

    KIND: ClassVar[str] = "reopened"
    reason: str
    once: str = ""


@dataclass(frozen=True, slots=True)
class Merged:
    """Another copy of this record, which was carried on elsewhere, is taken in; its entries follow, each whole."""

    KIND: ClassVar[str] = "merged"
    file: str
    hash: str
    """Of its last entry."""
    entries: int
    """How many follow."""
    rulings: dict[str, str]
    """What the official decided where both had gone on, by what it is about: "here: the pads were level"."""
    once: str = ""


@dataclass(frozen=True, slots=True)
class Brought:
    """An entry of a record that is merged, as it was written there."""

    KIND: ClassVar[str] = "brought"
    entry: dict[str, object]
    """The line that was hashed there."""
    hash: str
    signed: str = ""
    """The signature that it bears there."""
    left: str = ""
    """Why it does not count here."""


HERE, THERE, BOTH = SIDES = ("here", "there", "both")


Content = (
    Opened
    | SignedOn
    | Entered
    | Withdrawn
    | Announced
    | GearChecked
    | Weighed
    | Measured
    | Noted
    | Struck
    | Judged
    | Protested
    | Ruled
    | Imported
    | Carried
    | Drawn
    | Closed
    | Reopened
    | Merged
    | Brought
)

CORRECTABLE = (GearChecked, Weighed, Measured, Noted, Ruled)
