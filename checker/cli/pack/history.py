"""`checker pack history`: one clause through all editions and bulletins."""

from __future__ import annotations

import click

from checker.cli import exits
from checker.cli.options import a_command
from checker.cli.printing import Printing, printing_as
from checker.pack.editions.finding import open_folder
from checker.report.change.history import history_markdown, history_text
from checker.studies.change.history import history


@a_command(
    "A clause's wording and numbers through all editions and bulletins.",
    "checker pack history rulepacks/dunlin 3.3",
    "checker pack history rulepacks/dunlin 3.3 --format markdown --output clause-3.3.md",
)
@click.argument("pack", metavar="PACK")
@click.argument("clause", metavar="CLAUSE")
@printing_as("markdown", "html")
def command(pack: str, clause: str, printing: Printing) -> int:
    """Tell how CLAUSE of PACK came to be what it is: each version with its day, edition, bulletins and reasons.

    The clause is named by its newest number and followed back through the numbers that it had before.
    """
    try:
        versions = history(open_folder(pack), clause)
    except KeyError:
        raise click.UsageError(f"no edition of {pack} has a clause '{clause}'") from None
    if printing.form == "markdown":
        printing.text(history_markdown(versions))
    else:
        with printing.paged() as page:
            history_text(versions, page)
    return exits.COMPLIES
