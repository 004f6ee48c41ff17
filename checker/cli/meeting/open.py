"""`checker meeting open`: begin a day's record."""

from __future__ import annotations

import click

from checker.cli.meeting.common import a_meeting_command, acknowledge
from checker.cli.options import day as a_day


@a_meeting_command(
    "Begin a day's record: the pack is frozen, officials sign on.",
    "checker meeting open day.meeting --pack rulepacks/dunlin --on 2026-05-24 --official KV --official TB",
)
@click.option(
    "--pack", required=True, metavar="PATH", help="Rule pack: a file, a folder of editions, or its name."
)
@click.option("--on", required=True, callback=a_day, metavar="DATE", help="The day of the meeting.")
@click.option(
    "--official",
    "officials",
    multiple=True,
    required=True,
    metavar="INITIALS",
    help="May be given several times.",
)
@click.option("--title", default="", metavar="WORDS", help="What the meeting is called.")
@click.option("--gear", metavar="FILE", help="Describes the gear in use, where it is not that of the pack.")
@click.option(
    "--procedure", metavar="FILE", help="How the day runs. Without it: procedure.yaml beside the pack."
)
def command(
    day: str,
    pack: str,
    on: str,
    officials: tuple[str, ...],
    title: str,
    gear: str | None,
    procedure: str | None,
) -> int:
    """Begin the record of a day in a new file, DAY.meeting.

    The pack as it reads on that day, the procedure and the gear are kept in the record: what happens to their files
    later changes nothing. The first official opens the meeting.
    """
    from checker.meeting.taking.opening import Opening, open_meeting

    opening = Opening(pack, on, officials, title, gear, procedure)
    with open_meeting(day, opening) as meeting:
        opened = meeting.day.opened.content
        return acknowledge(meeting, f"{opened.title}, {opened.on}, {opened.pack} {opened.edition} opened")
