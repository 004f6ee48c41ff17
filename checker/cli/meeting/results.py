"""`checker meeting results`: every car's result, and the hash that closes the record."""

from __future__ import annotations

from datetime import time

import click

from checker.cli import exits
from checker.cli.meeting.common import a_meeting_command, printing_from
from checker.cli.options import units
from checker.cli.printing import Printing, printing


@a_meeting_command(
    "Print every car's result with rulings, and the record's whole hash.",
    "checker meeting results day.meeting --output results.txt",
    "checker meeting results day.meeting --at 14:30",
)
@click.option(
    "--at", "hour", metavar="HH:MM", help="As it stood at that time of the day, in UTC as on slips."
)
@units
@printing
def command(day: str, hour: str | None, printing: Printing) -> int:
    """Print the results: for every car what was computed, its margins on the scales, what officials decided and what is
    on the entrant's word; and the whole hash of the record.
    """
    from checker.report.meeting.board import results_text
    from checker.report.meeting.handing_out import results_of

    at = None if hour is None else _time(hour)
    with printing_from(day) as meeting:
        document = results_of(meeting, at)
    printing.document(document, results_text)
    return exits.UNREADABLE if meeting.faults else exits.COMPLIES


def _time(hour: str) -> time:
    try:
        return time.fromisoformat(hour)
    except ValueError:
        raise click.UsageError(f"'{hour}' is no time of day; write it like 14:30") from None
