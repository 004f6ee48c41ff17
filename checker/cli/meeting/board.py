"""`checker meeting board`: who is weighed, complies, fails, waits."""

from __future__ import annotations

import itertools
import time
from functools import partial

import click

from checker.cli import exits, output
from checker.cli.live import Screen
from checker.cli.meeting.common import a_meeting_command, printing_from
from checker.cli.options import units
from checker.cli.printing import Printing, printing


@a_meeting_command(
    "Show every car: weighed, complies, fails, waits; --watch refreshes.",
    "checker meeting board day.meeting",
    "checker meeting board day.meeting --watch",
)
@click.option("--watch", is_flag=True, help="Stay, and show what is new every second, until Ctrl-C.")
@units
@printing
def command(day: str, watch: bool, printing: Printing) -> int:
    """Show where every car stands, the most pressing first, and what comes next for it."""
    from checker.report.meeting.board import board_text
    from checker.report.meeting.document import meeting_document

    if watch and (printing.form != "text" or printing.file is not None):
        raise click.UsageError("--watch shows text on the terminal")
    with printing_from(day) as meeting:
        if printing.form == "json":
            printing.json([meeting_document(meeting)])
            return exits.COMPLIES
        if not watch or not output.stdout_is_terminal():
            while True:
                with printing.paged() as page:
                    board_text(meeting_document(meeting), page)
                output.flush()
                if not watch:
                    return exits.UNREADABLE if meeting.faults else exits.COMPLIES
                while not meeting.refresh():
                    time.sleep(1)
        with Screen() as screen:
            for turn in itertools.count():
                document = meeting_document(meeting)
                room = max(_FEWEST, screen.lines - _AROUND)
                screen.show(partial(board_text, document, most=room, turn=turn))
                for _ in range(_SECONDS_A_PAGE):
                    time.sleep(1)
                    if meeting.refresh():
                        break
    return exits.COMPLIES


_SECONDS_A_PAGE = 8
_FEWEST, _AROUND = 5, 9
"""Cars on a page at the least, and lines around them."""
