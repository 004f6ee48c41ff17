"""`checker meeting export`: the record in tables or as JSON."""

from __future__ import annotations

from checker.cli import exits
from checker.cli.meeting.common import a_meeting_command
from checker.cli.printing import Printing, writing
from checker.cli.sheets import asked_for, deliver_tables, tables
from checker.report.meeting.export import TABLES, as_json, meeting_tables


@a_meeting_command(
    "Write the record as JSON, or in tables for spreadsheets.",
    "checker meeting export day.meeting --output day.json",
    "checker meeting export day.meeting --csv weighings --output weighings.csv",
    "checker meeting export day.meeting --xlsx --output day.xlsx",
)
@tables(*TABLES)
@writing("json")
def command(day: str, printing: Printing) -> int:
    """Write the record for other programs: all of it as JSON, or in tables, in which no text is run as a formula."""
    from checker.meeting.session.session import Meeting

    printing.refuse_overwriting(day)
    with Meeting.open(day, writing=False) as meeting:
        meeting.refuse_unsound()
        if asked_for(printing):
            deliver_tables(meeting_tables(meeting), printing)
        else:
            printing.published(as_json(meeting))
    return exits.COMPLIES
