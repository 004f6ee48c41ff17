"""What the entries of a record say: one frozen value for each kind.

Everything is text, whole numbers, truths, and lists and maps of text, so that it has one exact canonical form.
Quantities are kept as the official wrote them, with their units, and read by the pack's types when they are used.
A correction is a new entry of the same kind whose `corrects` names the old one, with a reason; nothing is overwritten.
"""

from __future__ import annotations

from dataclasses import KW_ONLY, dataclass
from typing import ClassVar

RULES = 1
"""The present rules. By those before (0) a meeting could be closed with verdicts and protests outstanding, weighings
that disagree were averaged, and a second ruling on a clause needed not say which it stands in place of."""

SCRUTINEERING = "scrutineering"
"""The first occasion of a day. Others are named when they come: "after the final"."""


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


@dataclass(frozen=True, slots=True)
class Withdrawn:
    """A car that does not take part any more."""

    KIND: ClassVar[str] = "withdrawn"
    car: str
    reason: str


@dataclass(frozen=True, slots=True)
class Announced:
    """What the organiser states, for all cars or for one: that the meeting is wet, the place at the meeting before."""

    KIND: ClassVar[str] = "announced"
    fact: str
    value: str
    car: str = ""
    source: str = ""


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


TOPICS = ("seen", "defect", "seal", "sample", "lost", "remark")


@dataclass(frozen=True, slots=True)
class Struck:
    """An entry that no longer counts, with nothing in its place."""

    KIND: ClassVar[str] = "struck"
    entry: int
    reason: str


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


STAND, REJECT, ALLOW = DECISIONS = ("stand", "reject", "allow")


@dataclass(frozen=True, slots=True)
class Imported:
    """A table of weighings that was read; its rows follow as entries of their own."""

    KIND: ClassVar[str] = "imported"
    file: str
    sha256: str
    mapping: str
    """SHA-256 of the mapping."""
    rows: int


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


@dataclass(frozen=True, slots=True)
class Drawn:
    """A random order, or a sample, that anybody can draw again from its seed."""

    KIND: ClassVar[str] = "drawn"
    purpose: str
    seed: str
    among: list[str]
    drawn: list[str]


@dataclass(frozen=True, slots=True)
class Closed:
    """The end of the day: the tally, and the hash to be printed is this entry's own."""

    KIND: ClassVar[str] = "closed"
    tally: dict[str, int]
    provisional: bool = False
    """A protest was still unanswered, so that the results may change."""


@dataclass(frozen=True, slots=True)
class Reopened:
    """The meeting goes on after it was closed."""

    KIND: ClassVar[str] = "reopened"
    reason: str


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
