"""What officials name: themselves, a car, an entry, a clause; refused, with the cure, where there is none such."""

from __future__ import annotations

from checker.meeting.record.contents import CORRECTABLE, Content
from checker.meeting.record.day import CarDay, Day, Record
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
    for initials in officials:
        if fold(initials) == fold(by):
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
