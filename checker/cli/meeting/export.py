"""`checker meeting export`: the record in tables or as JSON."""

from __future__ import annotations

import click

from checker.cli import exits, output
from checker.cli.meeting.common import day_argument
from checker.cli.sheets import asked_for, deliver_tables, tables
from checker.report.meeting.export import TABLES, as_json, meeting_tables


@click.command(
    "export",
    short_help="Write the record as JSON, or in tables for spreadsheets.",
    epilog="""\b
    Examples:
      checker meeting export day.meeting --output day.json
      checker meeting export day.meeting --csv weighings --output weighings.csv
      checker meeting export day.meeting --xlsx --output day.xlsx""",
)
@day_argument
@tables(*TABLES)
@click.option("--output", "output_file", metavar="FILE", help="Write to a file, all at once or not at all.")
def command(day: str, output_file: str | None) -> int:
    """Write the record for other programs: all of it as JSON, or in tables, in which no text is run as a formula."""
    from checker.cli.options import refuse_overwriting
    from checker.meeting.session.session import Meeting

    refuse_overwriting(output_file, (day,))
    with Meeting.open(day, writing=False) as meeting:
        meeting.refuse_unsound()
        if asked_for(output_file=output_file):
            deliver_tables(meeting_tables(meeting), output_file)
            return exits.COMPLIES
        text = as_json(meeting)
    output.deliver(text, output_file, utf8=True)
    return exits.COMPLIES
