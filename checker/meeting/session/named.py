"""What officials name: themselves, a car, an entry, a clause; refused, with the cure, where there is none such."""

from __future__ import annotations

from collections.abc import Callable

from checker.meeting.record.car_contents import Entered, Withdrawn
from checker.meeting.record.car_day import CarDay, Record
from checker.meeting.record.contents import CORRECTABLE, Content, Struck
from checker.meeting.record.day import Day
from checker.meeting.record.refusal import refusal
from checker.pack.model import Pack
from checker.quantities.folding import fold
from checker.reading.nearest import did_you_mean


def official_of(day: Day, by: str) -> str:
    """Initials as they signed on; where only one official has, they need not be given.

    Raises:
        InputError: MT202.
    """
    officials = day.officials
    if not by and len(officials) == 1:
        return officials[0]
    if (initials := day.official(by)) is not None:
        return initials
    hint = did_you_mean(by, officials) or f"signed on are: {', '.join(officials)}"
    message = f"no official signs as '{by}'" if by else "it is not said which official this is"
    raise refusal("MT202", message, f"{hint}; give initials with --by")


def entered_car(day: Day, number: str, *, taking_part: bool = False) -> CarDay:
    """A car that is entered.

    Raises:
        InputError: MT203 it is not entered, MT205 it has withdrawn (where it must take part).
    """
    car = day.car(number)
    if car is None:
        numbers = [entered.number for entered in day.cars.values()]
        hint = did_you_mean(number, numbers) or "enter it first, with its declaration"
        raise refusal("MT203", f"car {number} is not entered", hint)
    if taking_part and car.withdrawn:
        message = f"car {car.number} has withdrawn: {car.withdrawn}"
        raise refusal("MT205", message, "enter it again, with a reason, if it is back")
    return car


def refuse_changed(day: Day, number: str, seen: int, bears: Callable[[Content], bool]) -> None:
    """Refuse what was decided on a screen that no longer shows the car as it is.

    Args:
        day: The state of the day.
        number: Of the car.
        seen: The last entry that the screen knew.
        bears: Whether an entry on the car bears on what was decided; its declaration always does.

    Raises:
        InputError: MT218, with what came.
    """
    came: list[str] = []
    for record in day.records(seen):
        content = record.content
        target = day.record(content.entry) if isinstance(content, Struck) else record
        about: Content | None = target.content if target is not None else None
        if about is None or fold(getattr(about, "car", "")) != fold(number):
            continue
        if isinstance(about, Entered | Withdrawn) or bears(about):
            came.append(f"entry {record.number} ({content.KIND} by {record.by})")
    if came:
        message = f"car {number} has changed since it was put on this screen: {', '.join(came)}"
        raise refusal(
            "MT218", message, "nothing was recorded; look at it as it is now, and enter what still holds"
        )


def correctable(day: Day, number: int, reason: str) -> Record[Content]:
    """An entry that may be corrected or struck.

    Raises:
        InputError: MT206 no reason, MT207 there is no such entry, or it counts no longer, or is of a kind that stays.
    """
    record = day.record(number)
    if record is None:
        raise refusal("MT207", f"there is no entry {number}", f"the last is {day.number}")
    gone = day.gone_by(number)
    if gone is not None:
        raise refusal(
            "MT207", f"entry {number} no longer counts since entry {gone}", f"correct entry {gone} instead"
        )
    if not isinstance(record.content, CORRECTABLE):
        message = f"entry {number} ({record.content.KIND}) cannot be corrected"
        raise refusal("MT207", message, "record what is so now; the order of the record tells which is newer")
    if not reason.strip():
        raise refusal("MT206", f"why entry {number} is corrected is not said", "give a reason")
    return record


def refuse_no_clause(pack: Pack, number: str) -> None:
    """Refuse the number of a clause that the pack does not have.

    Raises:
        InputError: MT212.
    """
    if number not in pack.clauses:
        first, *_, last = pack.clauses
        hint = did_you_mean(number, pack.clauses) or f"clauses run from {first} to {last}"
        raise refusal("MT212", f"the pack has no clause {number}", hint)


def needs_reason(reason: str, what: str) -> None:
    """Refuse a decision without its reason.

    Raises:
        InputError: MT206.
    """
    if not reason.strip():
        raise refusal("MT206", f"{what} is not said", "give a reason")


def entered_with(day: Day, once: str) -> int:
    """The entry that came with a form of that one-time number; 0 where none did."""
    sent = (record.number for record in day.records() if getattr(record.content, "once", "") == once)
    return next(sent, 0) if once else 0
