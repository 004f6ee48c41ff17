"""`checker meeting strike`: an entry no longer counts, and nothing stands in its place."""

from __future__ import annotations

import click

from checker.cli.meeting.common import a_meeting_command, acknowledge, by_option, reason_option, recording


@a_meeting_command(
    "Say that an entry no longer counts. It stays in the record.",
    'checker meeting strike day.meeting 57 --reason "it was car 72" --by KV',
)
@click.argument("entry", type=int, metavar="ENTRY")
@reason_option("Why; needed.")
@by_option
def command(day: str, entry: int, reason: str, by: str) -> int:
    """Strike a weighing, a measurement, a gear check, a note or a ruling by the number of its entry."""
    from checker.meeting.taking.correcting import strike

    with recording(day, by) as meeting:
        strike(meeting, entry, reason, by)
        return acknowledge(meeting, f"Entry {entry} no longer counts")
