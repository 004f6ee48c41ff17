"""`checker declare`: a blank declaration to fill in."""

from __future__ import annotations

import os

import click

from checker.cli import exits, output
from checker.cli.editions import edition_for
from checker.cli.options import IN_FORCE, a_command
from checker.cli.printing import Printing, writing
from checker.pack.editions.finding import find_pack, open_folder
from checker.reading.patterns import pattern
from checker.report.one_car.blank import blank_declaration

_UNSAFE = pattern(r"[^A-Za-z0-9._-]+")


@a_command(
    "Write a blank declaration for a pack, to fill in.",
    "checker declare --formula dunlin --output my-car.yaml",
    "checker declare --pack rulepacks/dunlin/2026.1.yaml > my-car.yaml",
)
@click.option("--pack", metavar="PATH", help="The rule pack: a file, a folder of editions, or its name.")
@click.option("--formula", metavar="NAME", help="Or the formula, whose pack is looked for as for inspect.")
@IN_FORCE
@writing("yaml")
def command(pack: str | None, formula: str | None, on: str | None, printing: Printing) -> int:
    """Write a blank declaration for a pack: all that it asks for, in its order, with units, allowed words and how each
    thing is measured.

    With --output the schema of declarations is written beside it, as FORMULA.schema.json, and the blank names it, so
    that an editor that knows YAML completes and checks while you type.
    """
    if (pack is None) == (formula is None):
        raise click.UsageError("give either --pack PATH or --formula NAME")
    printing.refuse_overwriting(pack)
    folder = open_folder(pack) if pack is not None else find_pack(formula or "")
    edition = edition_for(folder, on)
    blank = blank_declaration(edition, on)
    if printing.file is None or (os.path.exists(printing.file) and not os.path.isfile(printing.file)):
        printing.text(blank)
        return exits.COMPLIES
    from checker.pack.editors.declaration_schema import declaration_schema
    from checker.pack.editors.new_pack import as_text

    schema = f"{_UNSAFE.sub('-', edition.name)}.schema.json"
    output.deliver(as_text(declaration_schema(edition)), os.path.join(os.path.dirname(printing.file), schema))
    printing.text(f"# yaml-language-server: $schema={schema}\n{blank}")
    return exits.COMPLIES
