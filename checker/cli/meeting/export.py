"""`checker meeting export`: the record as CSV or JSON."""

from __future__ import annotations

import click

from checker.cli import exits, output
from checker.cli.meeting.common import day_argument
from checker.meeting.standing.export import TABLES, as_json, table


@click.command(
    "export",
    short_help="Write the record as JSON, or a table of it as CSV.",
    epilog="""\b
    Examples:
      checker meeting export day.meeting --output day.json
      checker meeting export day.meeting --csv weighings --output weighings.csv""",
)
@day_argument
@click.option(
    "--csv", "table_name", type=click.Choice(list(TABLES)), help="This table as CSV. Without it: all as JSON."
)
@click.option("--output", "output_file", metavar="FILE", help="Write to a file, all at once or not at all.")
def command(day: str, table_name: str | None, output_file: str | None) -> int:
    """Write the record for other programs. Cells that a spreadsheet would run as formulas are made text."""
    from checker.cli.options import refuse_overwriting
    from checker.meeting.session.session import Meeting

    refuse_overwriting(output_file, (day,))
    with Meeting.open(day, writing=False) as meeting:
        meeting.refuse_unsound()
        text = table(meeting, table_name) if table_name else as_json(meeting)
    output.deliver(text, output_file, utf8=True)
    return exits.COMPLIES
