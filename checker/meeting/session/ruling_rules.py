"""Which protests, rulings and closings may be recorded."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from checker.kinds.judging.assessment import PASS
from checker.meeting.record.car_contents import ALLOW, DECISIONS, SCRUTINEERING, Protested, Ruled
from checker.meeting.record.car_day import CarDay
from checker.meeting.record.contents import Closed
from checker.meeting.record.day import Day
from checker.meeting.record.refusal import refusal
from checker.meeting.session.basis import Basis
from checker.meeting.session.named import correctable, entered_car, needs_reason, refuse_no_clause
from checker.quantities.folding import fold


def refuse_protested(basis: Basis, day: Day, content: Protested) -> None:
    """Refuse a protest against no car, from none, or about nothing."""
    refuse_no_clause(basis.pack, content.clause)
    entered_car(day, content.car)
    if content.by_car:
        entered_car(day, content.by_car)
    if not content.text.strip():
        raise refusal("MT209", "what the protest says is not given")


def refuse_ruled(basis: Basis, day: Day, ruled: Ruled) -> None:
    """Refuse a ruling without a reason, on what is met, or beside one that stands."""
    car = entered_car(day, ruled.car).number
    if ruled.decision not in DECISIONS:
        raise refusal("MT209", f"'{ruled.decision}' is no decision", f"one of: {', '.join(DECISIONS)}")
    needs_reason(ruled.reason, f"why clause {ruled.clause} is decided so")
    refuse_no_clause(basis.pack, ruled.clause)
    refuse_later(ruled.rests_on, day)
    if ruled.decision == ALLOW and ruled.computed == PASS:
        message = f"clause {ruled.clause} is met; there is nothing to allow"
        raise refusal("MT209", message, "decide 'uphold'")
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


def refuse_closed(basis: Basis, day: Day, content: Closed) -> None:
    """Refuse to close while a verdict is outstanding, or a protest where the results are not provisional."""
    if not day.opened.content.rules:
        return
    refuse_outstanding(due(basis, day))
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


def refuse_outstanding(cars: Sequence[CarDay]) -> None:
    """Refuse to go on while these cars have no verdict.

    Raises:
        InputError: MT217.
    """
    if cars:
        message = f"no verdict stands yet on car {', '.join(car.number for car in cars)}"
        raise refusal("MT217", message, "whatever is recorded next judges it")


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


def refuse_later(rests_on: int, day: Day) -> None:
    """A verdict rests on the record as it stood when it was worked out."""
    if not 0 < rests_on <= day.number:
        raise refusal("MT407", f"it rests on entry {rests_on}, which came later")
