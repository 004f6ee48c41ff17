"""What stands beside editions and would be missed, or stand in its own way, when the day comes."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from contextlib import suppress

from checker.pack.editions.bulletins import amends
from checker.pack.editions.finding import PackFolder
from checker.pack.editions.loading import read_pack_document
from checker.pack.editions.procedures import editions_of, for_edition
from checker.pack.model import Pack
from checker.reading.problems import InputError, Problem


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
