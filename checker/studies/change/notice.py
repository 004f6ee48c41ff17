"""A bulletin as members are to be told of it: what it changes, from when, why, and what was said before."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import timedelta

from checker.pack.editions.beside import read_beside
from checker.pack.editions.bulletins import Bulletin, read_bulletin
from checker.pack.editions.finding import PackFolder
from checker.pack.editions.loading import read_pack_document
from checker.pack.keeping.kept import pack_on
from checker.pack.lint.left_in_texts import contradictions_by_clause
from checker.pack.model import Interpretation, Pack
from checker.quantities.folding import fold
from checker.reading.quick_dataclasses import dataclass, field
from checker.studies.change.comparison import RuleChange, compare


@dataclass(frozen=True, slots=True)
class BulletinNotice:
    """One bulletin, and the rules without and with it."""

    bulletin: Bulletin
    before: Pack
    """As in force on the day before."""
    after: Pack
    """As in force on its first day."""
    changes: tuple[RuleChange, ...]
    settles: tuple[Interpretation, ...] = ()
    """Questions and answers that it writes into the rules."""
    contradicting: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    """By the number of a clause: what its wording says and its check does not, as lint tells it."""


def notice(folder: PackFolder, name: str) -> BulletinNotice:
    """The notice of a bulletin.

    Raises:
        InputError: A file cannot be read, or nothing is in force on the day before.
        KeyError: The folder has no such bulletin.
    """
    for file in folder.bulletins:
        bulletin = read_bulletin(read_pack_document(file))
        if fold(bulletin.name) == fold(name):
            before = pack_on(folder, bulletin.first_day - timedelta(days=1))
            after = pack_on(folder, bulletin.first_day)
            answers = read_beside(folder).interpretations
            settles = tuple(one for one in answers if fold(one.settled_by) == fold(name))
            return BulletinNotice(
                bulletin, before, after, compare(before, after), settles, contradictions_by_clause(after)
            )
    raise KeyError(name)
