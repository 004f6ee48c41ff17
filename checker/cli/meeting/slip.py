"""`checker meeting slip`: what a car's entrant is handed."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from checker.cli import exits
from checker.cli.meeting.common import day_argument, occasion_option, printing_from
from checker.cli.options import units
from checker.cli.printing import Printing, printing

if TYPE_CHECKING:
    from checker.meeting.record.car_day import CarDay
    from checker.meeting.session.session import Meeting
    from checker.report.amounts import Data


@click.command(
    "slip",
    short_help="Print a car's slip: readings, verdict, what to do, the record's hash.",
    epilog="""\b
    Examples:
      checker meeting slip day.meeting 27
      checker meeting slip day.meeting --output slips.txt
      checker meeting slip day.meeting 27 --width 42
      checker meeting slip day.meeting 27 --occasion "after the final" """,
)
@day_argument
@click.argument("cars", nargs=-1, metavar="[CAR...]")
@occasion_option
@units
@printing
def command(day: str, cars: tuple[str, ...], occasion: str, printing: Printing) -> int:
    """Print what the entrant of each CAR is handed; of all that take part, a page each, where none is named.

    It tells the readings, the verdict clause by clause where something fails or is open, what officials decided, what
    is not as declared, how much was verified, and the record's hash: kept, it shows later that nothing was cut off or
    built anew. After a race it also tells which clauses to look at again.
    """
    from checker.meeting.standing.verifying import recheck
    from checker.report.meeting.slip import slip_text

    with printing_from(day) as meeting:
        chosen = [meeting.car(number) for number in cars] or [
            car for car in meeting.day.cars.values() if not car.withdrawn
        ]
        recheck(meeting, chosen)
        slips = [_slip(meeting, car, occasion) for car in chosen]
    if printing.form == "json":
        printing.json(document for document, _ in slips)
    else:
        printing.pages((document for document, _ in slips), slip_text)
    if meeting.faults:
        return exits.UNREADABLE
    return exits.worst(exits.result(complies) for _, complies in slips)


def _slip(meeting: Meeting, car: CarDay, occasion: str) -> tuple[Data, bool | None]:
    """The document of one slip, and whether the car complies."""
    from checker.meeting.record.car_contents import SCRUTINEERING
    from checker.meeting.standing.after_race import look_again
    from checker.meeting.standing.differences import differences
    from checker.report.meeting.document import slip_document

    judgement = meeting.judgement(car, occasion).advised()
    found = differences(meeting, car, judgement.inspection.car)
    again = look_again(meeting, car, judgement.occasion) if judgement.occasion != SCRUTINEERING else []
    return slip_document(meeting, car, judgement, found, again), judgement.inspection.complies
