"""`checker meeting results`: every car's result, and the hash that closes the record."""

from __future__ import annotations

import json

import click

from checker.cli import exits, output
from checker.cli.meeting.common import day_argument
from checker.cli.options import page_for, printing


@click.command(
    "results",
    short_help="Print every car's result with rulings, and the record's whole hash.",
    epilog="""\b
    Examples:
      checker meeting results day.meeting --output results.txt""",
)
@day_argument
@printing
def command(day: str, form: str, output_file: str | None, width: int | None) -> int:
    """Print the results: what was computed for every car, what officials decided, and the whole hash of the record."""
    from checker.meeting.session.session import Meeting
    from checker.report.meeting.board import results_text
    from checker.report.meeting.document import meeting_document

    with Meeting.open(day, writing=False) as meeting:
        document = meeting_document(meeting)
    if form == "json":
        output.deliver(json.dumps(document, ensure_ascii=False) + "\n", output_file, utf8=True)
    else:
        page = page_for(width, output_file)
        results_text(document, page)
        output.deliver(page.text(), output_file)
    return exits.COMPLIES
