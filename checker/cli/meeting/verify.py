"""`checker meeting verify`: that nothing was changed, and that every verdict comes out again."""

from __future__ import annotations

import click

from checker.cli import exits
from checker.cli.meeting.common import a_meeting_command
from checker.cli.printing import Printing, printing


@a_meeting_command(
    "Find every change to a record, and work out its verdicts again.",
    "checker meeting verify day.meeting",
    'checker meeting verify day.meeting --hash "3f2a 91c0 7d1e 44b8 0c57" ',
)
@click.option(
    "--hash",
    "printed",
    multiple=True,
    metavar="HASH",
    help="Printed on a slip or on results. May be repeated.",
)
@click.option("--quick", is_flag=True, help="Do not work out the verdicts again.")
@printing
def command(day: str, printed: tuple[str, ...], quick: bool, printing: Printing) -> int:
    """Look a record over from itself alone: entries changed, taken out, put in or moved; files; verdicts.

    With a hash from paper it also finds a tail that was cut off and a record that was built anew. It ends in 1 where
    anything is found.
    """
    from checker.meeting.standing.verifying import verify
    from checker.report.meeting.verification import verification_document, verification_text

    document = verification_document(verify(day, printed, recompute=not quick))
    printing.document(document, verification_text)
    return exits.COMPLIES if document["sound"] else exits.FAILS
