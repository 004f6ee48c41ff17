"""The one set of rules by which entries are taken and verified: what may be recorded as the day stands.

Whatever is recorded goes through `Rules.refuse` while the record is held alone; whoever opens a record sends every
entry through it again. So what no official could have recorded is never sound, however well it is hashed.
"""

from __future__ import annotations

import re
from collections.abc import Iterable

from checker.meeting.record.branches import original
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
from checker.meeting.record.car_day import moment_of
from checker.meeting.record.chain import hash_of
from checker.meeting.record.contents import (
    Announced,
    Brought,
    Carried,
    Closed,
    Content,
    Drawn,
    GearChecked,
    Imported,
    Merged,
    Opened,
    Reopened,
    SignedOn,
    Struck,
)
from checker.meeting.record.day import Day
from checker.meeting.record.lots import in_drawn_order
from checker.meeting.record.refusal import refusal
from checker.meeting.record.signing import KEY_DIGITS
from checker.meeting.session.basis import Basis
from checker.meeting.session.gear import checked, named_gear
from checker.meeting.session.named import correctable, entered_car, entered_with, needs_reason
from checker.meeting.session.reading_rules import read_announced, read_declared, read_with, refuse_no_part
from checker.meeting.session.ruling_rules import refuse_closed, refuse_later, refuse_protested, refuse_ruled
from checker.meeting.session.stating_rules import refuse_announced, refuse_measured, refuse_noted
from checker.meeting.session.weighing_rules import refuse_weighing
from checker.quantities.folding import fold
from checker.reading.patterns import pattern


class Rules:
    """What may be recorded in one meeting.

    Args:
        basis: What the meeting is judged by.
        reads: Whether also to read what is recorded with the car's file and the pack, which takes its time.
    """

    def __init__(self, basis: Basis, *, reads: bool = True) -> None:
        self._basis = basis
        self._reads = reads

    def refuse(self, day: Day, by: str, content: Content) -> None:
        """Refuse what may not be recorded as the day stands.

        Args:
            day: The state before the entry.
            by: Initials, as they signed on.
            content: What is to be recorded.

        Raises:
            InputError: MT2xx, MT309, CDxxx and RDxxx: why not.
        """
        if by not in day.officials:
            signed = f"signed on are: {', '.join(day.officials)}"
            raise refusal("MT202", f"no official signs as '{by}'", signed)
        if day.closed is not None and not isinstance(content, Reopened):
            message = f"the meeting was closed by {day.closed.by}"
            raise refusal("MT201", message, "reopen it with a reason, if something is still to be recorded")
        if isinstance(content, Brought):
            self._brought(day, by, content)
            return
        if day.branches.due:
            file = day.branches.merges[-1].content.file
            message = f"{day.branches.due} entries of '{file}' are missing"
            raise refusal("MT221", message)
        _refuse_sent_twice(day, content)
        self._allowed(day, by, content)

    def _brought(self, day: Day, by: str, content: Brought) -> None:
        """An entry of a merged record comes in its order; what counts here goes through the same rules."""
        head = day.branches.merges[-1] if day.branches.due else None
        if head is None or head.by != by:
            raise refusal("MT221", "an entry of another record, and none is being merged")
        taken = day.branches.with_next(content, day.number + 1).newest
        there, last = original(content), day.branches.due == 1
        if hash_of(there.text) != there.hash or (last and there.hash != head.content.hash):
            raise refusal("MT221", f"it brings entry {there.number} otherwise than it was written")
        if content.left:
            needs_reason(content.left, f"why entry {there.number} does not count here")
        elif isinstance(taken.content, Closed | Reopened):
            raise refusal("MT201", "closing there closes nothing here", "rule on it: closing here REASON")
        else:
            if taken.by not in day.officials:
                raise refusal("MT202", f"no official signs as '{taken.by}'")
            self._allowed(day, taken.by, taken.content)

    def _allowed(self, day: Day, by: str, content: Content) -> None:
        """What may be recorded by an official who has signed on, in a meeting that is open for it."""
        self._refuse_half_an_import(day, by, content)
        self._refuse_misspelt(day, content)
        match content:
            case SignedOn(initials, key):
                if not key or initials not in day.officials:
                    refuse_alike((*day.officials, initials))
                if key and (
                    initials in day.keys or len(key) != KEY_DIGITS or set(key) - set("0123456789abcdef")
                ):
                    raise refusal("MT220", f"{initials} signs already, or this is no key")
            case Entered():
                self._entered(day, content)
            case Withdrawn(car, reason):
                needs_reason(reason, f"why car {car} withdraws")
                entered_car(day, car, taking_part=True)
            case Announced():
                refuse_announced(self._basis, day, content)
                if self._reads:
                    read_announced(self._basis, day, content)
            case GearChecked():
                self._gear_checked(day, content)
            case Weighed():
                if content.taken:
                    _refuse_no_time(content.taken)
                refuse_weighing(self._basis, day, content)
                if self._reads:
                    read_with(self._basis, day, entered_car(day, content.car), content)
            case Measured():
                refuse_measured(self._basis, day, content)
                if self._reads:
                    read_with(self._basis, day, entered_car(day, content.car), content)
            case Noted():
                refuse_noted(self._basis, day, content)
                if self._reads and content.topic == "lost":
                    refuse_no_part(self._basis, day, content)
            case Struck(entry, reason):
                correctable(day, entry, reason)
            case Judged(car, _, rests_on):
                entered_car(day, car)
                refuse_later(rests_on, day)
            case Protested():
                refuse_protested(self._basis, day, content)
            case Ruled():
                refuse_ruled(self._basis, day, content)
            case Drawn():
                self._drawn(day, content)
            case Reopened(reason):
                needs_reason(reason, "why the meeting is opened again")
                if day.closed is None:
                    raise refusal("MT216", "the meeting is open")
            case Imported(rows=rows) if rows < 1:
                raise refusal("MT302", "a table without rows")
            case Opened():
                raise refusal("MT216", "the meeting is open")
            case Closed():
                refuse_closed(self._basis, day, content)
            case Merged():
                if content.entries < 1:
                    raise refusal("MT221", "a record without entries of its own")
            case Imported() | Carried() | Brought():
                pass

    # -- cars and officials ------------------------------------------------------------------------------

    def _refuse_misspelt(self, day: Day, content: Content) -> None:
        """A car is named as it was entered."""
        number = getattr(content, "car", "")
        car = day.car(number) if number else None
        if car is not None and car.number != number and not isinstance(content, Entered):
            raise refusal("MT203", f"car {number} is entered as {car.number}")

    def _refuse_half_an_import(self, day: Day, by: str, content: Content) -> None:
        """The rows of a table come in one go after it, from the official who brought it, and from nowhere else."""
        source = content.source if isinstance(content, Weighed) else ""
        head = day.imports[-1] if day.rows_due else None
        if head is not None:
            if not source.startswith(f"{head.content.file}, line ") or head.by != by:
                message = f"{day.rows_due} of the weighings of '{head.content.file}' are missing"
                raise refusal("MT310", message)
        elif source:
            raise refusal(
                "MT310", f"a weighing says that it is from '{source}', and no such table was imported"
            )

    def _entered(self, day: Day, content: Entered) -> None:
        car = day.car(content.car)
        if not content.car.strip():
            raise refusal("MT203", "a car without a number")
        if car is not None:
            needs_reason(content.reason, f"why car {car.number} is entered again")
        if self._reads:
            read_declared(self._basis, content)

    # -- gear --------------------------------------------------------------------------------------------

    def _gear_checked(self, day: Day, content: GearChecked) -> None:
        gear = named_gear(self._basis.gear, content.gear)
        again = checked(gear, content.pad, content.applied, content.shown)
        if (again.pad, again.allowed, again.good) != (content.pad, content.allowed, content.good):
            raise refusal("MT406", f"the check of {content.gear} is not what it is said to be")
        if content.corrects:
            correctable(day, content.corrects, content.reason)
        if content.since:
            _refuse_no_time(content.since)
            if content.good:
                raise refusal("MT307", "the check is good, so the gear was never out", "leave --since away")

    def _drawn(self, day: Day, content: Drawn) -> None:
        for number in content.among:
            entered_car(day, number, taking_part=True)
        if not content.among or len(set(content.among)) < len(content.among):
            raise refusal("MT214", "nothing can be drawn from these")
        if (
            not content.drawn
            or content.drawn != in_drawn_order(content.seed, content.among)[: len(content.drawn)]
        ):
            raise refusal("MT406", "the draw does not follow from its seed")


def refuse_alike(officials: Iterable[str]) -> None:
    """Refuse initials that are empty, or that two officials share.

    Raises:
        InputError: MT213.
    """
    initials = list(officials)
    if not initials or not all(one == " ".join(one.split()) and one for one in initials):
        hint = "give their initials: --official KV --official TB"
        raise refusal("MT213", "a meeting is run by officials, and none is named", hint)
    if len({fold(one) for one in initials}) < len(initials):
        raise refusal("MT213", "two officials have the same initials", "tell them apart, as in KV and KV2")


_ONCE = pattern(r"[0-9a-f]{32}", re.ASCII)


def _refuse_sent_twice(day: Day, content: Content) -> None:
    """A form is entered once; of several entries the first bears its number."""
    once = getattr(content, "once", "")
    if number := entered_with(day, once):
        raise refusal("MT223", f"this form was entered already, as entry {number}")
    if once and not _ONCE.fullmatch(once):
        raise refusal("MT223", "this form bears no one-time number", "load the page anew")


def _refuse_no_time(text: str) -> None:
    try:
        moment_of(text)
    except ValueError as error:
        raise refusal("MT307", f"no time: {error}", "write it as in 2026-05-24T12:40:00+01:00") from None
