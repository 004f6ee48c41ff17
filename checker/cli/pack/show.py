"""`checker pack show`: the packs that are found, or one pack in words."""

from __future__ import annotations

import click

from checker.cli import exits
from checker.cli.editions import edition_for
from checker.cli.options import IN_FORCE, a_command
from checker.cli.printing import Printing, text_printing
from checker.pack.editions.finding import find_packs, open_folder
from checker.pack.model import Clause, Pack
from checker.reading.problems import InputError
from checker.report.rulebook.in_words import pack_text, packs_text


@a_command(
    "Show a pack in words: its clauses, facts and tables, without a car.",
    "checker pack show",
    "checker pack show rulepacks/dunlin",
    "checker pack show rulepacks/dunlin --clause 3.1",
)
@click.argument("path", required=False, metavar="[PATH]")
@IN_FORCE
@click.option(
    "--clause",
    "numbers",
    multiple=True,
    metavar="NUMBER",
    help="Only this clause. May be given several times.",
)
@text_printing
def command(path: str | None, on: str | None, numbers: tuple[str, ...], printing: Printing) -> int:
    """Show the rule pack at PATH in words, or list the packs that are found.

    Each clause stands with the check that is made of it, so that a rulebook's author sees how it was understood.
    """
    printing.refuse_overwriting(path)
    if path is None:
        if on is not None or numbers:
            raise click.UsageError("--on and --clause need the PATH of a pack")
        packs, problems = find_packs()
        with printing.paged() as page:
            packs_text(packs, page)
        if problems:
            raise InputError(problems)
        return exits.COMPLIES
    pack = edition_for(open_folder(path), on)
    chosen = _chosen(pack, numbers) if numbers else None
    with printing.paged() as page:
        pack_text(pack, page, chosen)
    return exits.COMPLIES


def _chosen(pack: Pack, numbers: tuple[str, ...]) -> list[Clause]:
    from checker.cli.options import refuse_unknown_clause

    for number in numbers:
        refuse_unknown_clause(number, pack)
    return [pack.clauses[number] for number in numbers]
