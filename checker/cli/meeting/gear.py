"""`checker meeting gear`: check the gear, and see which cars a bad check puts in doubt."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from checker.cli import exits
from checker.cli.meeting.common import a_meeting_command, acknowledge, by_option, printing_from, recording
from checker.cli.options import units
from checker.cli.printing import Printing

if TYPE_CHECKING:
    from checker.meeting.session.session import Meeting


@a_meeting_command(
    "Check zero or a test weight; a failed check lists the cars in doubt.",
    "checker meeting gear day.meeting pads --pad front_left --shows 0.0 --by TB",
    "checker meeting gear day.meeting pads --pad front_left --weight 20 --shows 20.5 --by TB",
    "checker meeting gear day.meeting pads --pad rear_left --weight 20 --shows 11 --since 12:40 --by TB",
    "checker meeting gear day.meeting",
)
@click.argument("name", required=False, metavar="[GEAR]")
@click.option(
    "--pad", default="", metavar="WHEEL", help="The wheel whose mark the pad bears, such as front_left."
)
@click.option(
    "--weight", "applied", default="0", metavar="MASS", help="The test weight. Without it: a zero check."
)
@click.option("--shows", "shown", metavar="MASS", help="What the display shows.")
@click.option(
    "--since",
    default="",
    metavar="TIME",
    help="Of a bad check: since when the gear was out, for instance 12:40. Without it: since the last good check.",
)
@by_option
@units
def command(
    day: str, name: str | None, pad: str, applied: str, shown: str | None, since: str, by: str
) -> int:
    """Record a zero or test-weight check of GEAR; without GEAR, show the newest checks and every car in doubt.

    With GEAR alone a desk opens that asks for all four pads, empty and under the test weight.

    A check is good within the gear's permissible error. One that fails puts in doubt every car weighed on that gear
    since the last good check of the same kind, until it is weighed again.
    """
    from checker.meeting.session.gear import doubts, named_gear
    from checker.meeting.taking.checking import check_gear
    from checker.report.words.recorded import written

    if name is not None and shown is None:
        if pad or applied != "0":
            raise click.UsageError("--shows is needed: what does the display show?")
        from checker.cli.meeting.keys import hold
        from checker.meeting.desk.pads import PadsDesk

        return hold(day, by, lambda meeting: PadsDesk(meeting, by, name))
    if name is None or shown is None:
        with printing_from(day) as meeting:
            return _show(meeting)
    with recording(day, by) as meeting:
        content = check_gear(meeting, named_gear(meeting.gear, name), pad, applied, shown, by, since)
        if not content.good:
            cars = list(dict.fromkeys(doubt.car for doubt in doubts(meeting.day)))
            with Printing().paged() as page:
                showed, applied_to, allowed = map(written, (content.shown, content.applied, content.allowed))
                page.put(f"{showed} for {applied_to} is beyond the {allowed} that are allowed.")
                if cars:
                    page.put(f"In doubt, to be weighed again: cars {', '.join(cars)}.")
                else:
                    page.put("No car was weighed since the last good check.")
        _tell_of_the_set(meeting, content.gear)
        acknowledge(meeting, f"{content.gear} {pad} {'good' if content.good else 'BAD'}")
    return exits.COMPLIES if content.good else exits.FAILS


def _tell_of_the_set(meeting: Meeting, gear: str) -> None:
    """That all pads are out by one same part, which no check of one pad shows."""
    from checker.meeting.session.gear import notices
    from checker.report.words.remarks import remark_words

    with Printing().paged() as page:
        for notice in notices(meeting.day, {gear: meeting.gear[gear]}):
            page.put(f"{'. '.join(remark_words(notice))}.")


def _show(meeting: Meeting) -> int:
    from checker.meeting.session.gear import doubts
    from checker.report.meeting.document import meeting_document

    document = meeting_document(meeting)
    with Printing().paged() as page:
        for check in document["gear"]:
            result = "good" if check["good"] else "BAD"
            pad = f" {check['pad']}" if check["pad"] else ""
            page.put(
                f"{check['gear']}{pad}: {check['shown']} for {check['applied']}, {result} (entry {check['entry']})"
            )
        if not document["gear"]:
            page.put("Nothing has been checked yet.")
        for words in document["gear_warnings"]:
            page.put(f"{words}.")
        found = doubts(meeting.day)
        for doubt in found:
            page.put(
                f"car {doubt.car}: entry {doubt.weighing.number} is in doubt since check {doubt.check.number}"
            )
    return exits.FAILS if found else exits.COMPLIES
