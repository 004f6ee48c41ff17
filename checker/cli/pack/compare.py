"""`checker pack compare`: what one pack says otherwise than another, clause by clause, in the rulebook's words."""

from __future__ import annotations

import json

import click

from checker.cli import exits, output
from checker.cli.editions import day_named, edition_named, what_changes_between
from checker.cli.options import page_for, refuse_overwriting, text_printing, with_options
from checker.report.change.comparison import comparison_document, comparison_markdown, comparison_text
from checker.studies.change.comparison import compare

_FORM = click.option(
    "--format",
    "form",
    type=click.Choice(["text", "json", "markdown"]),
    default="text",
    show_default=True,
    help="markdown is for publishing; json prints one document and nothing else.",
)


@click.command(
    "compare",
    short_help="What changed between two packs, clause by clause, and by how much.",
    epilog="""\b
    Examples:
      checker pack compare rulepacks/dunlin/2025.1.yaml rulepacks/dunlin/2026.1.yaml
      checker pack compare rulepacks/dunlin@2026-06-30 rulepacks/dunlin@2026-07-20 --format markdown""",
)
@click.argument("old", metavar="OLD")
@click.argument("new", metavar="NEW")
@with_options(_FORM)
@text_printing
def command(old: str, new: str, form: str, output_file: str | None, width: int | None) -> int:
    """Tell what NEW says otherwise than OLD: added, withdrawn, renumbered, reworded, tightened or relaxed.

    OLD and NEW are each the file of an edition, or the folder of a pack. A file alone is that edition without
    bulletins; PATH@DATE is what is in force on that day, bulletins included. Between two days of one pack, what changes
    by itself (the end of a transition, a date in a rule) is told too. Compared is what the rules mean: the order
    of a file, the unit of a quantity and the way a formula is written do not matter.
    """
    refuse_overwriting(output_file, (old, new))
    before, after = (edition_named(place, day_named(None, place)) for place in (old, new))
    between = what_changes_between(old, new)
    document = comparison_document(before, after, compare(before, after), between)
    if form == "json":
        output.deliver(json.dumps(document, ensure_ascii=False) + "\n", output_file, utf8=True)
    elif form == "markdown":
        output.deliver(comparison_markdown(document), output_file)
    else:
        page = page_for(width, output_file)
        comparison_text(document, page)
        output.deliver(page.text(), output_file)
    return exits.COMPLIES
