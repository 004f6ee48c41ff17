"""Schemas that stand beside a pack for editors, and no longer fit it."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator
from contextlib import suppress
from pathlib import Path

from checker.pack.editors.declaration_schema import declaration_schema
from checker.pack.editors.pack_schema import pack_schema
from checker.pack.editors.shelf_schema import shelf_schema
from checker.pack.model import Pack
from checker.reading.problems import Problem, Span


def stale_schemas(place: Path, packs: Iterable[Pack]) -> Iterator[Problem]:
    """Each schema in a pack's folder that is none of today's (710, a warning).

    Args:
        place: The folder.
        packs: Its editions; a schema of declarations or shelves may be that of any.
    """
    files = sorted(place.glob("*.schema.json"))
    if not files:
        return
    fitting = [pack_schema()]
    for pack in packs:
        fitting += (declaration_schema(pack), shelf_schema(pack))
    for file in files:
        with suppress(OSError, ValueError):  # what cannot be read is told with the folder's files
            written = json.loads(file.read_text(encoding="utf-8"))
            if written not in fitting:
                yield _stale(file, place, written)


def _stale(file: Path, place: Path, written: object) -> Problem:
    keys, parts = (
        written.get(key, {}) if isinstance(written, dict) else {} for key in ("properties", "$defs")
    )
    which = " --for pack" if "edition" in parts else " --for shelf" if "may_come_off" in keys else ""
    hint = f"checker pack schema {place}{which} --output {file}"
    span = Span(str(file), 1, 1, 1, 2, "{")
    return Problem("PK710", f"{file.name} no longer fits the pack", span, hint=hint, warning=True)
