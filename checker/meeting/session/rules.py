"""The one set of rules by which entries are taken and verified: what may be recorded as the day stands.

Whatever is recorded goes through `Rules.refuse` while the record is held alone; whoever opens a record sends every
entry through it again. So what no official could have recorded is never sound, however well it is hashed.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from checker.car.car import Car
from checker.car.declaration.loading import load_car
from checker.kinds.judging.assessment import PASS
from checker.meeting.record.contents import (
    ALLOW,
    DECISIONS,
    SCRUTINEERING,
    Announced,
    Carried,
    Closed,
    Content,
    Drawn,
    Entered,
    GearChecked,
    Imported,
    Judged,
    Measured,
    Noted,
    Opened,
    Protested,
    Reopened,
    Ruled,
    SignedOn,
    Struck,
    Weighed,
    Withdrawn,
)
from checker.meeting.record.day import CarDay, Day, moment_of, trial_of
from checker.meeting.record.lots import in_drawn_order
from checker.meeting.record.refusal import refusal
from checker.meeting.record.signing import KEY_DIGITS
from checker.meeting.session.basis import Basis
from checker.meeting.session.gear import checked, named_gear
from checker.meeting.session.judging import OFFICIAL
from checker.meeting.session.named import correctable, entered_car, refuse_no_clause
from checker.meeting.session.stating import plain_value
from checker.meeting.session.stating_rules import refuse_announced, refuse_measured, refuse_noted
from checker.meeting.session.weighing_rules import refuse_weighing
from checker.quantities.folding import fold
from checker.reading.nearest import did_you_mean
from checker.reading.strict_yaml import parse_document


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
                _needs_reason(reason, f"why car {car} withdraws")
                entered_car(day, car, taking_part=True)
            case Announced():
                refuse_announced(self._basis, day, content)
                self._read_announced(day, content)
            case GearChecked():
                self._gear_checked(day, content)
            case Weighed():
                if content.taken:
                    _refuse_no_time(content.taken)
                refuse_weighing(self._basis, day, content)
                self._read(day, content)
            case Measured():
                refuse_measured(self._basis, day, content)
                self._read(day, content)
            case Noted():
                refuse_noted(self._basis, day, content)
                self._lost_part(day, content)
            case Struck(entry, reason):
                correctable(day, entry, reason)
            case Judged(car, _, rests_on):
                entered_car(day, car)
                _rests(rests_on, day)
            case Protested():
                self._protested(day, content)
            case Ruled():
                self._ruled(day, content)
            case Drawn():
                self._drawn(day, content)
            case Reopened(reason):
                _needs_reason(reason, "why the meeting is opened again")
                if day.closed is None:
                    raise refusal("MT216", "the meeting is open")
            case Imported(rows=rows) if rows < 1:
                raise refusal("MT302", "a table without rows")
            case Opened():
                raise refusal("MT216", "the meeting is open")
            case Closed():
                self._closed(day, content)
            case Imported() | Carried():
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

    def read_whole(self, day: Day) -> None:
        """Read every car as it stands, which entry by entry would take too long.

        Raises:
            InputError: CDxxx and RDxxx: a declaration or a reading that could not have been taken.
        """
        for car in day.cars.values():
            self._declared(car.entered.content)
            for occasion in car.occasions() or (SCRUTINEERING,):
                readings = self._basis.judge.readings(day, car, occasion)
                self._basis.judge.readable(self._basis.declaration(car), readings)

    def _entered(self, day: Day, content: Entered) -> None:
        car = day.car(content.car)
        if not content.car.strip():
            raise refusal("MT203", "a car without a number")
        if car is not None:
            _needs_reason(content.reason, f"why car {car.number} is entered again")
        if self._reads:
            self._declared(content)

    def _declared(self, content: Entered) -> None:
        document = parse_document(self._basis.file(content.declaration), content.file, "CD")
        declared = load_car(document, self._basis.pack.vocabulary, audience=OFFICIAL)
        if (declared.number, declared.name) != (content.car, content.name):
            message = f"the declaration is of car {declared.number} {declared.name}"
            raise refusal("MT203", f"{message}, not of {content.car} {content.name}")

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

    # -- what must be readable ---------------------------------------------------------------------------

    def _read(self, day: Day, content: Weighed | Measured) -> None:
        if self._reads:
            read_with(self._basis, day, entered_car(day, content.car), content)

    def _read_announced(self, day: Day, content: Announced) -> None:
        """Read it with some car's declaration, as it will be read with every one."""
        cars = [day.car(content.car)] if content.car else list(day.cars.values())[:1]
        for car in cars if self._reads else ():
            assert car is not None
            basis = self._basis
            readings = basis.judge.readings(day, car, car.latest_occasion())
            section, _, key = content.fact.partition(".")
            fact = basis.pack.vocabulary.facts[content.fact]
            readings[section] = {**readings.get(section, {}), key: plain_value(fact, content.value)}
            basis.judge.readable(basis.declaration(car), readings)

    def _lost_part(self, day: Day, noted: Noted) -> None:
        if noted.topic != "lost" or not self._reads:
            return
        car = entered_car(day, noted.car)
        declared = self._basis.judge.declared(self._basis.declaration(car))
        names = [e.label for name in ("components", "ballast") for e in declared.every_entry(name)]
        if fold(noted.part) not in {fold(name) for name in names}:
            hint = did_you_mean(noted.part, names) or "name it as the declaration does"
            raise refusal("MT208", f"car {car.number} has no part '{noted.part}'", hint)

    # -- closing -----------------------------------------------------------------------------------------

    def _closed(self, day: Day, content: Closed) -> None:
        if not day.opened.content.rules:
            return
        left = due(self._basis, day)
        if left:
            numbers = ", ".join(car.number for car in left)
            raise refusal(
                "MT217", f"no verdict stands yet on car {numbers}", "whatever is recorded next judges it"
            )
        unanswered = [
            f"entry {record.number} against car {car.number}, clause {record.content.clause}"
            for car in day.cars.values()
            for record in car.open_protests()
        ]
        if unanswered and not content.provisional:
            hint = "answer them with `meeting rule ... --protest ENTRY`, or close with --provisional"
            raise refusal("MT219", f"protests are unanswered: {'; '.join(unanswered)}", hint)
        if content.provisional and not unanswered:
            raise refusal("MT219", "no protest is unanswered", "leave --provisional away")

    # -- decisions ---------------------------------------------------------------------------------------

    def _protested(self, day: Day, content: Protested) -> None:
        refuse_no_clause(self._basis.pack, content.clause)
        entered_car(day, content.car)
        if content.by_car:
            entered_car(day, content.by_car)
        if not content.text.strip():
            raise refusal("MT209", "what the protest says is not given")

    def _ruled(self, day: Day, ruled: Ruled) -> None:
        car = entered_car(day, ruled.car).number
        if ruled.decision not in DECISIONS:
            raise refusal("MT209", f"'{ruled.decision}' is no decision", f"one of: {', '.join(DECISIONS)}")
        _needs_reason(ruled.reason, f"why clause {ruled.clause} is decided so")
        refuse_no_clause(self._basis.pack, ruled.clause)
        _rests(ruled.rests_on, day)
        if ruled.decision == ALLOW and ruled.computed == PASS:
            message = f"clause {ruled.clause} is met; there is nothing to allow"
            raise refusal("MT209", message, "decide 'stand'")
        if ruled.protest:
            record = day.record(ruled.protest)
            content: Any = record.content if record else None
            if not isinstance(content, Protested) or fold(content.car) != fold(car):
                raise refusal("MT207", f"entry {ruled.protest} is no protest against car {car}")
        standing = entered_car(day, ruled.car).rulings().get(ruled.clause)
        if standing is not None and day.opened.content.rules and not ruled.corrects:
            message = f"clause {ruled.clause} of car {car} is ruled on already, by entry {standing.number}"
            raise refusal(
                "MT207", message, f"say that this ruling stands in its place: --corrects {standing.number}"
            )
        if ruled.corrects:
            content = correctable(day, ruled.corrects, ruled.reason).content
            same = isinstance(content, Ruled) and content.clause == ruled.clause
            if not same or fold(content.car) != fold(car):
                what = f"ruling on clause {ruled.clause} of car {car}"
                raise refusal("MT207", f"entry {ruled.corrects} is no {what}")

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


def due(basis: Basis, day: Day) -> list[CarDay]:
    """The cars that are weighed as often as they are to be, and have no verdict as the record stands."""
    return [
        car
        for car in day.cars.values()
        if not car.withdrawn
        and len(car.weighings(at := car.latest_occasion()))
        >= basis.procedure.weighings_on(at == SCRUTINEERING)
        and day.last_judged(car) is None
    ]


def read_with(basis: Basis, day: Day, car: CarDay, content: Weighed | Measured) -> Car:
    """The car as it is read with one more record.

    Raises:
        InputError: CDxxx and RDxxx: the car's file and the pack do not take it.
    """
    readings: Mapping[str, Any] = basis.judge.readings(day, trial_of(day, car, content), content.occasion)
    return basis.judge.readable(basis.declaration(car), readings)


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


def _refuse_no_time(text: str) -> None:
    try:
        moment_of(text)
    except ValueError as error:
        raise refusal("MT307", f"no time: {error}", "write it as in 2026-05-24T12:40:00+01:00") from None


def _needs_reason(reason: str, what: str) -> None:
    if not reason.strip():
        raise refusal("MT206", f"{what} is not said", "give a reason")


def _rests(rests_on: int, day: Day) -> None:
    """A verdict rests on the record as it stood when it was worked out."""
    if not 0 < rests_on <= day.number:
        raise refusal("MT407", f"it rests on entry {rests_on}, which came later")
