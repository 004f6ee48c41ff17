"""`checker meeting close`: close the day, or open it again."""

from __future__ import annotations

import click

from checker.cli.meeting.common import a_meeting_command, acknowledge, by_option, recording
from checker.cli.options import reason
from checker.cli.printing import Printing


@a_meeting_command(
    "Close the day; with --reopen, go on.",
    "checker meeting close day.meeting --by KV",
    'checker meeting close day.meeting --reopen "a protest came in time" --by KV',
)
@click.option(
    "--reopen",
    metavar="REASON",
    callback=reason,
    help="The meeting was closed, and something is still to be recorded.",
)
@click.option("--provisional", is_flag=True, help="Close though protests are unanswered; the results say so.")
@by_option
def command(day: str, reopen: str | None, provisional: bool, by: str) -> int:
    """Close the meeting: nothing more is recorded, and the hash to print on the results is its last.

    Cars that are left open are listed; they do not hold it up. Protests that are unanswered do.
    """
    from checker.meeting.taking import closing
    from checker.report.meeting.board import left_words

    with recording(day, by) as meeting:
        if reopen is not None:
            closing.reopen(meeting, reopen, by)
            return acknowledge(meeting, "The meeting is open again")
        left = closing.close(meeting, by, provisional=provisional)
        if left:
            with Printing().paged() as page:
                page.put("Left open: " + "; ".join(f"car {one.car} {left_words(one)}" for one in left))
        return acknowledge(meeting, "The meeting is closed")
