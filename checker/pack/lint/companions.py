"""What stands beside editions and would be missed, or stand in its own way, when the day comes."""

from __future__ import annotations

import json
from collections.abc import Collection, Iterable, Iterator
from contextlib import suppress
from pathlib import Path

from checker.pack.editions.bulletins import amends
from checker.pack.editions.finding import PackFolder
from checker.pack.editions.loading import read_pack_document
from checker.pack.editions.procedures import editions_of, for_edition
from checker.pack.editors.companion_schemas import shelf_schema
from checker.pack.editors.declaration_schema import declaration_schema
from checker.pack.editors.pack_schema import pack_schema
from checker.pack.model import Pack
from checker.reading.problems import InputError, Problem, Span


def missed_below(folder: PackFolder, packs: Collection[Pack]) -> Iterator[Problem]:
    """Bulletins for an edition of the folder that lie in a folder below, where they do not count (614, a warning)."""
    for file in folder.below:
        with suppress(InputError):
            bulletin = read_pack_document(file)
            if any(amends(bulletin, pack.name, pack.edition) for pack in packs):
                name = bulletin.get(("bulletin",))
                message = f"bulletin {name} lies in a folder below the pack's, so it does not count"
                hint = "move it beside its edition, unless it is no longer to speak"
                yield Problem("PK614", message, bulletin.key_span(("bulletin",)), hint=hint, warning=True)


def procedures_at_odds(folder: PackFolder, packs: Collection[Pack]) -> Iterator[Problem]:
    """Two procedures for one edition (612), and none for the last one where there are some (a warning)."""
    procedures = [read_pack_document(file) for file in folder.procedures]
    told: set[tuple[str, str]] = set()
    for pack in packs:
        its = for_edition(procedures, pack.edition)
        for one in its[1:]:
            if (its[0].name, one.name) not in told:
                told.add((its[0].name, one.name))
                span, other = (
                    p.key_span(("editions" if editions_of(p) else "procedure",)) for p in (one, its[0])
                )
                message = f"two procedures are for edition {pack.edition}, so no meeting can be opened by it"
                hint = "state in each which it is for, editions: [...], or move one to a folder below"
                yield Problem("PK612", message, span, hint=hint, related=(("the other", other),))
    last = max(packs, key=lambda pack: pack.first_day, default=None)
    if procedures and last is not None and not for_edition(procedures, last.edition):
        span = procedures[-1].key_span(("editions",))
        message = (
            f"no procedure here is for edition {last.edition}, so a meeting by it names one with --procedure"
        )
        hint = f'name it here, as in editions: ["{last.edition}"], or give it a procedure of its own'
        yield Problem("PK612", message, span, hint=hint, warning=True)


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
