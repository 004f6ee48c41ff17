"""`checker meeting announce`: what the organiser states, for all cars or for one."""

from __future__ import annotations

import click

from checker.cli.meeting.common import a_meeting_command, acknowledge, by_option, recording


@a_meeting_command(
    "Record what the organiser states: a wet meeting, a car's last place.",
    "checker meeting announce day.meeting event.declared_wet yes --by KV",
    "checker meeting announce day.meeting results.last_place winner --car 27 --by KV",
)
@click.argument("fact", metavar="FACT")
@click.argument("value", metavar="VALUE")
@click.option("--car", default="", metavar="CAR", help="For this car only. Without it: for all.")
@by_option
def command(day: str, fact: str, value: str, car: str, by: str) -> int:
    """Record what the organiser states of a FACT that the pack keeps for the organiser.

    Cars that were judged before are judged again.
    """
    from checker.meeting.taking.judging import judge_again
    from checker.meeting.taking.measuring import announce

    with recording(day, by) as meeting:
        announce(meeting, fact, value, by, car=car)
        judged = judge_again(meeting, by)
        return acknowledge(
            meeting, f"{fact} {value}; judged again: {', '.join(o.number for o in judged) or 'none'}"
        )
