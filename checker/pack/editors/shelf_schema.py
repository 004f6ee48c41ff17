"""The JSON Schema of a shelf's file: what may be done to cars of a pack, as `planning` of a declaration."""

from __future__ import annotations

from checker.pack.editors.declaration_schema import DeclarationParts
from checker.pack.editors.planning_schema import planning_schema
from checker.pack.editors.schema_parts import DIALECT, Schema
from checker.pack.model import Pack


def shelf_schema(pack: Pack) -> Schema:
    """The schema of a shelf's file for that pack. Draft 2020-12."""
    parts = DeclarationParts(pack)
    planning = planning_schema(parts)
    about = f"What may be done to cars of {pack.title}, edition {pack.edition}"
    return {"$schema": DIALECT, "$comment": about, **planning, "$defs": parts.defs}
