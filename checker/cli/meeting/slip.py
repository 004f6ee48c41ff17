"""`checker meeting slip`: what a car's entrant is handed."""

from __future__ import annotations

import click

from checker.cli import exits
from checker.cli.meeting.common import day_argument, occasion_option, printing_from
from checker.cli.options import units
from checker.cli.printing import Printing, printing


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
    from checker.report.meeting.handing_out import slip_of
    from checker.report.meeting.slip import slip_text

    with printing_from(day) as meeting:
        chosen = [meeting.car(number) for number in cars] or [
            car for car in meeting.day.cars.values() if not car.withdrawn
        ]
        recheck(meeting, chosen)
        slips = [slip_of(meeting, car, occasion) for car in chosen]
    if printing.form == "json":
        printing.json(document for document, _ in slips)
    else:
        printing.pages((document for document, _ in slips), slip_text)
    if meeting.faults:
        return exits.UNREADABLE
    return exits.worst(exits.result(complies) for _, complies in slips)
