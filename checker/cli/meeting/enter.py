"""`checker meeting enter`: enter cars with their declarations, late ones too; or withdraw one."""

from __future__ import annotations

import click

from checker.cli import exits, output
from checker.cli.meeting.common import acknowledge, by_option, day_argument, reason_option


@click.command(
    "enter",
    short_help="Enter cars with their declarations; withdraw one.",
    epilog="""\b
    Examples:
      checker meeting enter day.meeting cars/ --by KV
      checker meeting enter day.meeting entries.csv --by KV
      checker meeting enter day.meeting late.yaml --late --by KV
      checker meeting enter day.meeting --withdraw 27 --reason "gearbox" --by KV""",
)
@day_argument
@click.argument("places", nargs=-1, metavar="[FILE...]")
@click.option("--late", is_flag=True, help="These are late entries.")
@click.option("--withdraw", "withdrawn", metavar="CAR", help="This car does not take part any more.")
@reason_option("Why a declaration takes the place of an earlier one, a car is back, or it withdraws.")
@by_option
def command(
    day: str, places: tuple[str, ...], late: bool, withdrawn: str | None, reason: str, by: str
) -> int:
    """Enter the cars whose declarations are given: files, folders of them, or a CSV with columns car and declaration.

    Each declaration is read by the frozen pack and kept in the record to the last byte. One that cannot be used is told
    with its mistakes, and the others are entered.
    """
    from checker.meeting.session.session import Meeting
    from checker.meeting.taking.entering import enter, handed_in, withdraw

    if bool(places) == bool(withdrawn):
        raise click.UsageError("give declarations to enter, or --withdraw CAR")
    with Meeting.open(day) as meeting:
        first = meeting.day.number + 1
        if withdrawn:
            withdraw(meeting, withdrawn, reason, by)
            acknowledge(meeting, meeting.day.number, f"Car {withdrawn} withdrawn")
            return exits.COMPLIES
        answers = enter(meeting, handed_in(places, late), by, reason)
        refused = [answer for answer in answers if answer.problems]
        for answer in refused:
            output.complain(f"not entered: {answer.file}")
            output.show_problems(answer.problems)
        if len(refused) < len(answers):
            numbers = ", ".join(answer.car for answer in answers if not answer.problems)
            acknowledge(meeting, first, f"Entered: {numbers}")
    return exits.UNREADABLE if refused else exits.COMPLIES
