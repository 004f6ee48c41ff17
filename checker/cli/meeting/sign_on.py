"""`checker meeting sign-on`: another official joins."""

from __future__ import annotations

import click

from checker.cli import exits
from checker.cli.meeting.common import acknowledge, by_option, day_argument, recording


@click.command(
    "sign-on",
    short_help="Sign on an official who came later.",
    epilog="""\b
    Examples:
      checker meeting sign-on day.meeting AL --by KV""",
)
@day_argument
@click.argument("initials", metavar="INITIALS")
@by_option
def command(day: str, initials: str, by: str) -> int:
    """Sign on another official, who from then on records under INITIALS."""
    from checker.meeting.taking.opening import sign_on

    with recording(day, by) as meeting:
        sign_on(meeting, initials, by)
        acknowledge(meeting, f"{initials} signed on")
    return exits.COMPLIES
