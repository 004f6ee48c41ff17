"""`checker meeting results`: every car's result, and the hash that closes the record."""

from __future__ import annotations

from datetime import UTC, datetime, time
from typing import TYPE_CHECKING

import click

from checker.cli import exits
from checker.cli.meeting.common import day_argument, printing_from
from checker.cli.options import units
from checker.cli.printing import Printing, printing

if TYPE_CHECKING:
    from checker.meeting.session.session import Meeting


@click.command(
    "results",
    short_help="Print every car's result with rulings, and the record's whole hash.",
    epilog="""\b
    Examples:
      checker meeting results day.meeting --output results.txt
      checker meeting results day.meeting --at 14:30""",
)
@day_argument
@click.option(
    "--at", "hour", metavar="HH:MM", help="As it stood at that time of the day, in UTC as on slips."
)
@units
@printing
def command(day: str, hour: str | None, printing: Printing) -> int:
    """Print the results: for every car what was computed, its margins on the scales, what officials decided and what is
    on the entrant's word; and the whole hash of the record.
    """
    from checker.meeting.standing.verifying import recheck, refuse_due
    from checker.report.meeting.board import results_text
    from checker.report.meeting.document import results_document

    with printing_from(day) as meeting:
        if not meeting.faults:
            refuse_due(meeting)
        recheck(meeting, meeting.day.cars.values())
        shown = meeting if hour is None else meeting.as_at(_moment(meeting, hour))
        document = results_document(shown, meeting.day.number)
    printing.document(document, results_text)
    return exits.UNREADABLE if meeting.faults else exits.COMPLIES


def _moment(meeting: Meeting, hour: str) -> datetime:
    """That time of the meeting's day."""
    try:
        return datetime.combine(meeting.on, time.fromisoformat(hour), UTC)
    except ValueError:
        raise click.UsageError(f"'{hour}' is no time of day; write it like 14:30") from None
