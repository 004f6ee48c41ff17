"""`checker pack schema`: the JSON Schema of packs, or of one pack's declarations, for editors."""

from __future__ import annotations

import click

from checker.cli import exits
from checker.cli.editions import edition_for
from checker.cli.options import IN_FORCE, a_command
from checker.cli.printing import Printing, writing
from checker.pack.editions.finding import open_folder
from checker.pack.editors.companion_schemas import shelf_schema
from checker.pack.editors.declaration_schema import declaration_schema
from checker.pack.editors.new_pack import as_text
from checker.pack.editors.pack_schema import pack_schema


@a_command(
    "Print the JSON Schema of a pack's declarations, or of packs, for editors.",
    "checker pack schema rulepacks/dunlin --output declaration.schema.json",
    """checker pack schema rulepacks/dunlin --for pack

An editor that knows YAML completes and checks by it when the file begins with:
  # yaml-language-server: $schema=declaration.schema.json""",
)
@click.argument("path", metavar="PATH")
@click.option(
    "--for",
    "what",
    type=click.Choice(["declaration", "shelf", "pack", "procedure", "gear", "mapping", "season"]),
    default="declaration",
    show_default=True,
    help="What it describes: declarations or shelves for this pack, the files of any pack, or what stands beside it.",
)
@IN_FORCE
@writing("json")
def command(path: str, what: str, on: str | None, printing: Printing) -> int:
    """Print the JSON Schema (draft 2020-12) of declarations for the pack at PATH.

    It holds the pack's facts and lists with help, units and allowed words.
    """
    printing.refuse_overwriting(path)
    pack = edition_for(open_folder(path), on)
    of_this = {"declaration": declaration_schema, "shelf": shelf_schema}
    schema = of_this[what](pack) if what in of_this else _of_any_pack(what)
    printing.published(as_text(schema))
    return exits.COMPLIES


def _of_any_pack(what: str) -> dict[str, object]:
    from checker.meeting.session.procedure_schema import procedure_schema
    from checker.meeting.tables.mapping_schema import mapping_schema
    from checker.pack.editors.gear_schema import gear_file_schema
    from checker.studies.one_car.season_schema import season_schema

    made = {
        "pack": pack_schema,
        "procedure": procedure_schema,
        "gear": gear_file_schema,
        "mapping": mapping_schema,
        "season": season_schema,
    }
    return made[what]()
