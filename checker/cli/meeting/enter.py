"""`checker meeting enter`: enter cars with their declarations, late ones too; or withdraw one."""

from __future__ import annotations

import click

from checker.cli import exits, output
from checker.cli.meeting.common import a_meeting_command, acknowledge, by_option, reason_option, recording


@a_meeting_command(
    "Enter cars with their declarations; withdraw one.",
    "checker meeting enter day.meeting cars/ --by KV",
    "checker meeting enter day.meeting entries.csv --by KV",
    "checker meeting enter day.meeting entries.csv --mapping entries-mapping.yaml --by KV",
    "checker meeting enter day.meeting late.yaml --late --by KV",
    'checker meeting enter day.meeting --withdraw 27 --reason "gearbox" --by KV',
)
@click.argument("places", nargs=-1, metavar="[FILE...]")
@click.option("--mapping", metavar="FILE", help="What the headings of a table of entries mean.")
@click.option("--late", is_flag=True, help="These are late entries.")
@click.option("--withdraw", "withdrawn", metavar="CAR", help="This car does not take part any more.")
@reason_option("Why a declaration takes the place of an earlier one, a car is back, or it withdraws.")
@by_option
def command(
    day: str,
    places: tuple[str, ...],
    mapping: str | None,
    late: bool,
    withdrawn: str | None,
    reason: str,
    by: str,
) -> int:
    """Enter the cars whose declarations are given: files, folders of them, or a table of entries as CSV.

    A table has columns car, name, declaration (the path of the car's file), late, and facts of the pack by their names;
    a mapping may give them other headings. A car without a file is entered with what its row states; its
    declaration may be handed in later, with this same command.

    Each declaration is read by the frozen pack and kept in the record to the last byte. One that cannot be used is told
    with its mistakes, and the others are entered.
    """
    from checker.meeting.tables.mapping import ENTRIES, read_mapping
    from checker.meeting.taking.entering import enter, handed_in, withdraw
    from checker.meeting.taking.entry_lists import things
    from checker.reading.strict_yaml import read_document

    if bool(places) == bool(withdrawn):
        raise click.UsageError("give declarations to enter, or --withdraw CAR")
    with recording(day, by) as meeting:
        if withdrawn:
            withdraw(meeting, withdrawn, reason, by)
            return acknowledge(meeting, f"Car {withdrawn} withdrawn")
        how = None
        if mapping is not None:
            document = read_document(mapping, "MT")
            how = read_mapping(document, ENTRIES, things(meeting))
        answers = enter(meeting, handed_in(meeting, places, late, how), by, reason)
        refused = [answer for answer in answers if answer.problems]
        for answer in refused:
            output.complain(f"not entered: {answer.file}")
            output.show_problems(answer.problems)
        if len(refused) < len(answers):
            numbers = ", ".join(answer.car for answer in answers if not answer.problems)
            acknowledge(meeting, f"Entered: {numbers}")
    return exits.UNREADABLE if refused else exits.COMPLIES
