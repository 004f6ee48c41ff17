"""`checker meeting carry`: take over defects, seals and success ballast from the meeting before."""

from __future__ import annotations

import click

from checker.cli import output
from checker.cli.meeting.common import a_meeting_command, acknowledge, by_option, recording


@a_meeting_command(
    "Take over open defects, broken seals and success ballast.",
    "checker meeting carry day.meeting --before last.meeting --results results.csv --by KV",
)
@click.option("--before", default="", metavar="FILE", help="The record of the meeting before.")
@click.option("--results", default="", metavar="FILE", help="Its results: a CSV with columns place and car.")
@by_option
def command(day: str, before: str, results: str, by: str) -> int:
    """Take over what follows the entered cars: open defects, broken seals, and what places mean for ballast."""
    from checker.meeting.tables.given import GivenFile
    from checker.meeting.taking.carrying import carry

    with recording(day, by) as meeting:
        taken = carry(meeting, by, before=before, results=GivenFile.read(results) if results else None)
        if taken.not_entered:
            output.complain(f"in the results, but not entered here: {', '.join(taken.not_entered)}")
        what = f"{len(taken.notes)} defects and seals, {len(taken.announced)} statements taken over"
        return acknowledge(meeting, what)
