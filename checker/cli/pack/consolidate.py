"""`checker pack consolidate`: the pack as in force on a day, as one file that reads back to the same rules."""

from __future__ import annotations

import click

from checker.cli import exits
from checker.cli.options import a_command, day
from checker.cli.printing import Printing, writing
from checker.pack.editions.finding import open_folder
from checker.pack.editions.publishing import as_yaml
from checker.pack.keeping.kept import pack_on
from checker.quantities.days import parse_day


@a_command(
    "Print a pack as in force on a day: the edition with its bulletins, as one file.",
    "checker pack consolidate rulepacks/dunlin --on 2026-07-20",
    "checker pack consolidate rulepacks/dunlin --on 2026-07-20 --output dunlin-in-july.yaml",
)
@click.argument("path", metavar="PATH")
@click.option("--on", callback=day, required=True, metavar="DATE", help="The day whose text is wanted.")
@writing("yaml")
def command(path: str, on: str, printing: Printing) -> int:
    """Print the rules of PATH as in force on a day, as YAML that reads back to the same rules.

    Comments tell what a bulletin changed, since when, and what stood there before; everything else is the edition's.
    """
    printing.refuse_overwriting(path)
    asked = parse_day(on)
    printing.text(as_yaml(pack_on(open_folder(path), asked), asked))
    return exits.COMPLIES
