"""`checker meeting merge`: take in a copy of the record that was carried on elsewhere."""

from __future__ import annotations

import click

from checker.cli.meeting.common import a_meeting_command, acknowledge, by_option, recording


@a_meeting_command(
    "Take in a copy of the record that was carried on elsewhere.",
    "checker meeting merge day.meeting gauges.meeting --by KV",
    "checker meeting merge day.meeting gauges.meeting --ruling 'car 27' there 'the pads were level there' --by KV",
    "checker meeting merge day.meeting gauges.meeting --ruling all both 'weighed here, gauged there' --by KV",
)
@click.argument("other", metavar="OTHER.meeting")
@click.option(
    "--ruling",
    "rulings",
    nargs=3,
    multiple=True,
    metavar="WHAT SIDE REASON",
    help="What stands where both sides went on about WHAT: here, there, or both. May be repeated; WHAT may be all.",
)
@by_option
def command(day: str, other: str, rulings: tuple[tuple[str, str, str], ...], by: str) -> int:
    """Take in what was recorded in OTHER since the two were one, as on a second laptop; OTHER stays as it is.

    Whatever one side alone went on with goes on. Where both went on about one car, one pad or the like, it is shown,
    nothing is recorded, and you rule on it.
    """
    from checker.meeting.taking.merging import SideRuling, merge

    with recording(day, by) as meeting:
        decided = {about: SideRuling(side, reason) for about, side, reason in rulings}
        taken = merge(meeting, by, other, decided)
        left = f", {taken.left} of them not counting here" if taken.left else ""
        what = f"parted after entry {taken.parted}; {taken.brought} entries of {other} taken in{left}"
        return acknowledge(meeting, f"Merged: {what}. From now on work on with this record alone")
