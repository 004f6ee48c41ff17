"""`checker meeting board`: who is weighed, complies, fails, waits."""

from __future__ import annotations

import json
import time

import click

from checker.cli import exits, output
from checker.cli.meeting.common import day_argument
from checker.cli.options import page_for, printing


@click.command(
    "board",
    short_help="Show every car: weighed, complies, fails, waits; --watch refreshes.",
    epilog="""\b
    Examples:
      checker meeting board day.meeting
      checker meeting board day.meeting --watch""",
)
@day_argument
@click.option("--watch", is_flag=True, help="Stay, and show what is new every second, until Ctrl-C.")
@printing
def command(day: str, watch: bool, form: str, output_file: str | None, width: int | None) -> int:
    """Show where every car stands, the most pressing first, and what comes next for it."""
    from checker.meeting.session.session import Meeting
    from checker.report.meeting.board import board_text
    from checker.report.meeting.document import meeting_document

    if watch and (form == "json" or output_file is not None):
        raise click.UsageError("--watch shows text on the terminal")
    with Meeting.open(day, writing=False) as meeting:
        if form == "json":
            output.deliver(
                json.dumps(meeting_document(meeting), ensure_ascii=False) + "\n", output_file, utf8=True
            )
            return exits.COMPLIES
        shown = -1
        while True:
            if meeting.day.number != shown:
                page = page_for(width, output_file)
                board_text(meeting_document(meeting), page, _room() if watch else None)
                output.deliver((_CLEAR if watch else "") + page.text(), output_file)
                output.flush()
                shown = meeting.day.number
            if not watch:
                return exits.COMPLIES
            time.sleep(1)
            meeting.refresh()


_CLEAR = "\x1b[H\x1b[2J"


def _room() -> int:
    """How many cars the terminal has lines for."""
    import shutil

    return max(5, shutil.get_terminal_size().lines - 8)
