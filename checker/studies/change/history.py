"""One clause through all editions and bulletins of a pack: its wording and what it checks, with days and reasons."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date

from checker.pack.editions.beside import read_beside
from checker.pack.editions.finding import PackFolder
from checker.pack.editions.in_force import days_of_change
from checker.pack.editions.interpretations import belongs
from checker.pack.model import Interpretation, Pack
from checker.reading.quick_dataclasses import dataclass, replace
from checker.studies.change.comparison import RuleChange, compare, in_words
from checker.studies.change.pairing import paired
from checker.studies.change.turning_days import texts_from


@dataclass(frozen=True, slots=True)
class Version:
    """A clause as it stood from one day on."""

    first_day: date
    pack: Pack
    number: str
    """Its number in that edition; "" where it did not stand there."""
    changes: tuple[RuleChange, ...] = ()
    """What was new in it."""
    reasons: tuple[str, ...] = ()
    """Why, as the bulletins say that changed it then."""
    interpretations: tuple[Interpretation, ...] = ()
    """Questions about it that were answered, or asked and are open, while it stood so."""

    @property
    def rule(self) -> str:
        """Its check in words."""
        return in_words(self.pack.clauses[self.number]) if self.number else ""

    @property
    def text(self) -> str:
        return self.pack.clauses[self.number].text if self.number else ""


def history(folder: PackFolder, number: str) -> tuple[Version, ...]:
    """Every version of a clause, the newest first, followed back through its earlier numbers.

    Args:
        folder: Of the pack, with all its editions and bulletins.
        number: As in the newest text that has it.

    Raises:
        InputError: A text cannot be read.
        KeyError: No text in force on any day has such a clause.
    """
    texts = list(texts_from(folder, days_of_change(folder)))
    while texts and number not in texts[-1][1].clauses:
        texts.pop()
    if not texts:
        raise KeyError(number)
    return tuple(_with_interpretations(list(_back(texts, number)), read_beside(folder).interpretations))


def _with_interpretations(versions: list[Version], listed: Sequence[Interpretation]) -> Iterator[Version]:
    """Each version with the questions of its days."""
    until: date | None = None
    for version in versions:
        pack = version.pack
        mine = tuple(
            one
            for one in listed
            if version.number in one.clauses
            and version.first_day <= one.first_day
            and (until is None or one.first_day < until)
            and belongs(one, pack.first_day, pack.last_day)
        )
        yield replace(version, interpretations=mine)
        until = version.first_day


def _back(texts: list[tuple[date, Pack]], number: str) -> Iterator[Version]:
    while texts:
        day, pack = texts.pop()
        before = texts[-1][1] if texts else None
        if before is None:
            yield Version(day, pack, number)
            return
        pair = next(pair for pair in paired(before, pack) if pair.new == number)
        changes = tuple(change for change in compare(before, pack) if change.clause == number)
        if changes or pair.old is None:
            yield Version(day, pack, number, changes, _reasons(pack, number, day))
        if pair.old is None:
            yield Version(texts[-1][0], before, "")
            return
        number = pair.old


def _reasons(pack: Pack, number: str, day: date) -> tuple[str, ...]:
    told = {
        f"{origin.bulletin}: {origin.reason}"
        for origin in pack.origins
        if origin.path[:2] == ("clauses", number) and origin.first_day == day and origin.reason
    }
    return tuple(sorted(told))
