"""`checker pack compare`: what one pack says otherwise than another, clause by clause, in the rulebook's words."""

from __future__ import annotations

import click

from checker.cli import exits
from checker.cli.editions import day_named, edition_named, what_changes_between
from checker.cli.options import a_command
from checker.cli.printing import Printing, printing_as
from checker.report.change.comparison import comparison_document, comparison_markdown, comparison_text
from checker.studies.change.comparison import compare


@a_command(
    "What changed between two packs, clause by clause, and by how much.",
    "checker pack compare rulepacks/dunlin/2025.1.yaml rulepacks/dunlin/2026.1.yaml",
    "checker pack compare rulepacks/dunlin@2026-06-30 rulepacks/dunlin@2026-07-20 --format markdown",
)
@click.argument("old", metavar="OLD")
@click.argument("new", metavar="NEW")
@printing_as("json", "markdown", "html")
def command(old: str, new: str, printing: Printing) -> int:
    """Tell what NEW says otherwise than OLD: added, withdrawn, renumbered, reworded, tightened or relaxed.

    OLD and NEW are each the file of an edition, or the folder of a pack. A file alone is that edition without
    bulletins; PATH@DATE is what is in force on that day, bulletins included. Between two days of one pack, what changes
    by itself (the end of a transition, a date in a rule) is told too. Compared is what the rules mean: the order
    of a file, the unit of a quantity and the way a formula is written do not matter.
    """
    printing.refuse_overwriting(old, new)
    before, after = (edition_named(place, day_named(None, place)) for place in (old, new))
    between = what_changes_between(old, new)
    document = comparison_document(before, after, compare(before, after), between)
    if printing.form == "markdown":
        printing.text(comparison_markdown(document))
    else:
        printing.document(document, comparison_text)
    return exits.COMPLIES
