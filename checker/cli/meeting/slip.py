"""`checker meeting slip`: what a car's entrant is handed."""

from __future__ import annotations

import click

from checker.cli import exits, output
from checker.cli.meeting.common import a_meeting_command, occasion_option, printing_from
from checker.cli.options import units
from checker.cli.printing import Printing, printing

_RECEIPTS = {"58": 32, "80": 48}
"""Letters a line by the width of the paper in mm: common practice, no source."""
_FEED = "\n" * 5
"""Between slips, past the blade (common practice, no source)."""


@a_meeting_command(
    "Print a car's slip: readings, verdict, what to do, the record's hash.",
    "checker meeting slip day.meeting 27",
    "checker meeting slip day.meeting --output slips.txt",
    "checker meeting slip day.meeting 27 --receipt 58 --output slip.txt",
    'checker meeting slip day.meeting 27 --occasion "after the final"',
)
@click.argument("cars", nargs=-1, metavar="[CAR...]")
@occasion_option
@click.option(
    "--receipt",
    type=click.Choice(list(_RECEIPTS)),
    help="For a receipt printer whose paper is so many mm wide: plain text in ASCII, 32 or 48 letters a line.",
)
@units
@printing
def command(day: str, cars: tuple[str, ...], occasion: str, receipt: str | None, printing: Printing) -> int:
    """Print what the entrant of each CAR is handed; of all that take part, a page each, where none is named.

    It tells the readings, the verdict clause by clause where something fails or is open, what officials decided, what
    is not as declared, how much was verified, and the record's hash: kept, it shows later that nothing was cut off or
    built anew. After a race it also tells which clauses to look at again.
    """
    from checker.meeting.standing.verifying import recheck
    from checker.report.meeting.handing_out import slip_of
    from checker.report.meeting.slip import slip_text
    from checker.report.page import Page

    if receipt is not None and (printing.form != "text" or printing.width is not None):
        raise click.UsageError(
            "--receipt is plain text of its own width: it goes with no --format and no --width"
        )
    with printing_from(day) as meeting:
        chosen = [meeting.car(number) for number in cars] or [
            car for car in meeting.day.cars.values() if not car.withdrawn
        ]
        recheck(meeting, chosen)
        slips = [slip_of(meeting, car, occasion) for car in chosen]
    if printing.form == "json":
        printing.json(document for document, _ in slips)
    elif receipt is not None:
        strips = []
        for document, _ in slips:
            strips.append(Page(_RECEIPTS[receipt]))
            slip_text(document, strips[-1])
        printing.text(output.in_ascii(_FEED.join(strip.text() for strip in strips) + _FEED))
    else:
        printing.pages((document for document, _ in slips), slip_text)
    if meeting.faults:
        return exits.UNREADABLE
    return exits.worst(exits.result(complies) for _, complies in slips)
