"""What a verdict rests on beside what is stated of the car, as data.

Nothing here is a sentence or rounded; `checker.report` alone knows words, units shown and rounding.
"""

from __future__ import annotations

from datetime import date
from enum import StrEnum
from typing import NamedTuple

from checker.car.remarks import Remark, Remarked
from checker.quantities.amount import Amount, Statement
from checker.quantities.kind import Unknown
from checker.reading.quick_dataclasses import dataclass, field


class Taken(StrEnum):
    """What is taken as something, since nothing is stated or known of it."""

    FACT = "fact"
    """By the pack's default, or as the pack assumes."""
    FIELD = "field"
    """Of a list's entries, where some do not state it."""
    FLOOR = "floor"
    """Under the gear, level to within so much."""
    TRACK = "track"
    WHEELBASE = "wheelbase"
    CENTRE_LINE = "centre_line"
    """Of an axle (`name`) whose two tyres differ in section: the middle between their contact centres."""


@dataclass(frozen=True, slots=True)
class TakenAs:
    """A value that stands where nothing is stated."""

    value: Amount | str
    """As the pack writes it, where it is a default."""
    name: str = ""
    """Of the fact or field, or of the gear whose floor it is."""
    what: Taken = Taken.FACT
    right: Amount | None = None
    """Beside what `value` is on the left, for tyres that differ."""


@dataclass(frozen=True, slots=True)
class Believed:
    """What the car's own file says though others are to state it."""

    name: str
    written: str
    """ "" for a field, which several entries state."""
    stated_by: str
    """Who is to state it, as in a pack."""


class OfGear(StrEnum):
    """How gear is taken, and what a weighing cannot show of itself."""

    THE_PACKS = "the_packs"
    """Nobody says what the car was weighed with: on the rules' own."""
    DOUBT_WIDENS = "doubt_widens"
    """Pads in doubt are taken to be out by as much as they differ."""
    CORRECTED = "corrected"
    """The readings are corrected by the stated offsets."""
    NO_COMMON_ERROR = "no_common_error"
    ONE_PLATE = "one_plate"
    """It stood under several loads (`loads`) in turn, so that its error counts for each."""
    PADS_IN_TURN = "pads_in_turn"
    """Each of two stood under two of the loads."""
    PLATES_APART = "plates_apart"
    """Nobody says whether one plate or two stood under the loads; taken as two."""
    TWO_WEIGHINGS = "two_weighings"
    """Two hardly tell how they scatter."""
    TESTED_TOO_LIGHT = "tested_too_light"
    """A test weight that does not prove a pad (`loads`) at what it bore (`tested`)."""


@dataclass(frozen=True, slots=True)
class GearTaken:
    gear: str
    how: OfGear
    loads: tuple[str, ...] = ()
    """Or pads."""
    tested: tuple[Amount, Amount] | None = None


@dataclass(frozen=True, slots=True)
class WhatIf:
    """A weight that nobody has weighed, worked out by the lever rules; or a dimension with which no load is moved."""

    what: Statement
    moves_loads: bool
    since: bool = False
    """It was done since the weighing, as the car's file tells."""


@dataclass(frozen=True, slots=True)
class ErrorFree:
    """Readings that have no stated error, by their full names; never none."""

    names: tuple[str, ...]


class OfApproval(StrEnum):
    """What there is to say of an approval."""

    NO_REGISTER = "no_register"
    NOT_IN_REGISTER = "not_in_register"
    FOR_OTHERS = "for_others"
    """It is for other cars (`names`)."""
    ENDED = "ended"
    """On a day before."""
    BEGINS = "begins"
    """On a day behind."""
    NOT_SHOWN = "not_shown"
    """Whether it applies; why, stands in `unknown`."""
    DOES_NOT_APPLY = "does_not_apply"
    """For its `statement` is false."""
    NOT_CITED = "not_cited"
    NAMES_NO_CAR = "names_no_car"
    NO_LAST_DAY = "no_last_day"
    TOO_BROAD = "too_broad"
    """Both."""
    NOT_NEEDED = "not_needed"
    """Its clauses (`names`) would not be breached without it."""
    BROADER = "broader"
    """Some of its clauses (`names`) would not."""


@dataclass(frozen=True, slots=True)
class ApprovalNote:
    """What became of an approval that was cited, or of one that was not."""

    reference: str
    what: OfApproval
    names: tuple[str, ...] = ()
    day: date | None = None
    statement: Statement = ()
    hint: str = ""
    unknown: Unknown = field(default_factory=Unknown)


Premise = TakenAs | Believed | GearTaken | WhatIf | ErrorFree | ApprovalNote | Remark


class CarNotes(NamedTuple):
    """What is to be told beside a verdict on a car."""

    premises: tuple[Premise, ...] = ()
    """Defaults that were taken, what was believed though others are to state it, and what the weighing rests on."""
    remarks: tuple[Remarked, ...] = ()
    """What was found of weights and gear."""
