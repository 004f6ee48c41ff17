"""`checker pack book`: the rulebook as Markdown, from the pack, to print or publish."""

from __future__ import annotations

import os

import click

from checker.cli import exits
from checker.cli.editions import day_named, edition_named
from checker.cli.options import a_command, day
from checker.cli.printing import Printing, printing_as
from checker.pack.editions.file_heads import formula_of_edition, head_of
from checker.pack.editions.finding import open_folder
from checker.pack.editions.loading import load_edition
from checker.pack.model import Pack
from checker.quantities.folding import fold
from checker.report.rulebook.whole import rulebook


@a_command(
    "The rulebook as Markdown, made from the pack, with changes marked.",
    "checker pack book rulepacks/dunlin --output dunlin.md",
    "checker pack book rulepacks/dunlin --on 2026-07-05 --format html --output dunlin.html",
    "checker pack book rulepacks/dunlin/2026.1.yaml --against rulepacks/dunlin/2025.1.yaml",
)
@click.argument("path", metavar="PATH")
@click.option("--on", callback=day, metavar="DATE", help="What is in force on that day. Without it: today.")
@click.option(
    "--against",
    metavar="PATH",
    help="The rules before, whose differences are marked. Without it: the edition "
    "before in the same folder, if there is one.",
)
@printing_as("html", width=False, plain="markdown")
def command(path: str, on: str | None, against: str | None, printing: Printing) -> int:
    """Write the rulebook of the pack at PATH: contents, clauses with text and check, tables, facts and an index.

    The printed rules and every check come from one source. What is not as in the edition before carries a bar in the
    margin. PATH is a folder of editions, or the file of one; PATH@DATE is what is in force on that day.
    """  # fmt: skip
    printing.refuse_overwriting(path, against)
    judged_on = day_named(on, path)
    pack = edition_named(path, judged_on)
    before = edition_named(against, judged_on) if against is not None else _edition_before(path, pack)
    book = rulebook(pack, before)
    if printing.is_page:
        from checker.report.html.book import markdown_page

        printing.laid_out(markdown_page(book))
    else:
        printing.published(book)
    return exits.COMPLIES


def _of(pack: Pack, file: str) -> bool:
    return fold(formula_of_edition(file)) == fold(pack.name)


def _edition_before(path: str, pack: Pack) -> Pack | None:
    """The last edition in the pack's folder that came into force before it; None where there is none."""
    folder = open_folder(path.partition("@")[0] if not os.path.exists(path) else path)
    heads = [(head_of(file).first, file) for file in (*folder.editions, *folder.siblings)]
    earlier = [(first, file) for first, file in heads if first < pack.first_day and _of(pack, file)]
    return load_edition(max(earlier)[1]) if earlier else None
