"""`checker pack history`: one clause through all editions and bulletins."""

from __future__ import annotations

import click

from checker.cli import exits, output
from checker.cli.options import page_for, text_printing, with_options
from checker.pack.editions.finding import open_folder
from checker.report.change.history import history_markdown, history_text
from checker.studies.change.history import history

FORM = click.option(
    "--format",
    "form",
    type=click.Choice(["text", "markdown"]),
    default="text",
    show_default=True,
    help="markdown is for publishing.",
)


@click.command(
    "history",
    short_help="A clause's wording and numbers through all editions and bulletins.",
    epilog="""\b
    Examples:
      checker pack history rulepacks/dunlin 3.3
      checker pack history rulepacks/dunlin 3.3 --format markdown --output clause-3.3.md""",
)
@click.argument("pack", metavar="PACK")
@click.argument("clause", metavar="CLAUSE")
@with_options(FORM)
@text_printing
def command(pack: str, clause: str, form: str, output_file: str | None, width: int | None) -> int:
    """Tell how CLAUSE of PACK came to be what it is: each version with its day, edition, bulletins and reasons.

    The clause is named by its newest number and followed back through the numbers that it had before.
    """
    try:
        versions = history(open_folder(pack), clause)
    except KeyError:
        raise click.UsageError(f"no edition of {pack} has a clause '{clause}'") from None
    if form == "markdown":
        output.deliver(history_markdown(versions), output_file)
    else:
        page = page_for(width, output_file)
        history_text(versions, page)
        output.deliver(page.text(), output_file)
    return exits.COMPLIES
