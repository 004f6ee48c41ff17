"""`checker meeting slip`: what a car's entrant is handed."""

from __future__ import annotations

import json

import click

from checker.cli import exits, output
from checker.cli.meeting.common import car_argument, day_argument, occasion_option
from checker.cli.options import page_for, printing


@click.command(
    "slip",
    short_help="Print a car's slip: readings, verdict, what to do, the record's hash.",
    epilog="""\b
    Examples:
      checker meeting slip day.meeting 27
      checker meeting slip day.meeting 27 --width 42
      checker meeting slip day.meeting 27 --occasion "after the final" """,
)
@day_argument
@car_argument
@occasion_option
@printing
def command(day: str, car: str, occasion: str, form: str, output_file: str | None, width: int | None) -> int:
    """Print what CAR's entrant is handed.

    It tells the readings, the verdict clause by clause where something fails or is open, what officials decided, what
    is not as declared, how much was verified, and the record's hash: kept, it shows later that nothing was cut off or
    built anew. After a race it also tells which clauses to look at again.
    """
    from checker.meeting.record.contents import SCRUTINEERING
    from checker.meeting.session.session import Meeting
    from checker.meeting.standing.after_race import look_again
    from checker.meeting.standing.differences import differences
    from checker.report.meeting.document import slip_document
    from checker.report.meeting.slip import slip_text

    with Meeting.open(day, writing=False) as meeting:
        entered = meeting.car(car)
        judgement = meeting.judgement(entered, occasion)
        found = differences(meeting, entered, judgement.inspection.car)
        again = (
            look_again(meeting, entered, judgement.occasion) if judgement.occasion != SCRUTINEERING else []
        )
        document = slip_document(meeting, entered, judgement, found, again)
        if form == "json":
            output.deliver(json.dumps(document, ensure_ascii=False) + "\n", output_file, utf8=True)
        else:
            page = page_for(width, output_file)
            slip_text(document, page)
            output.deliver(page.text(), output_file)
        return exits.result(judgement.inspection.complies)
