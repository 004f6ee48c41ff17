"""Which clause of one pack is which clause of another: by number, and by what it says it was `formerly`."""

from __future__ import annotations

from collections.abc import Mapping

from checker.pack.model import Pack
from checker.reading.quick_dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Pair:
    """One clause in the older and the newer pack, by its number in each; None: not in that pack."""

    old: str | None
    new: str | None

    @property
    def number(self) -> str:
        """The number to call it by: the newer one where it has one."""
        return self.new if self.new is not None else str(self.old)


def paired(old: Pack, new: Pack) -> tuple[Pair, ...]:
    """Every clause of both packs, in the order of the newer; those withdrawn come last.

    Of two editions the later one says in `formerly` what its clauses were called in the earlier; it does not matter
    which of them is asked about as the older. Within an edition a number stays what it is, unless a bulletin gave the
    clause another.
    """
    before = _numbers_before(old, new)
    pairs = [Pair(before.get(number), number) for number in new.clauses]
    kept = {pair.old for pair in pairs}
    return (*pairs, *(Pair(number, None) for number in old.clauses if number not in kept))


def _numbers_before(old: Pack, new: Pack) -> Mapping[str, str]:
    """For each clause of the newer pack that stands in the older one too, its number there."""
    if old.edition == new.edition:
        return {before: number for number, before in _matches(old, new).items()} | _matches(new, old)
    if new.first_day < old.first_day:
        return {before: number for number, before in _matches(old, new).items()}
    return _matches(new, old)


def _matches(later: Pack, earlier: Pack) -> dict[str, str]:
    """Numbers of the later pack with those that its clauses have in the earlier one, each at most once."""
    within = later.edition == earlier.edition
    found: dict[str, str] = {}
    for number, clause in later.clauses.items():
        before = clause.formerly
        if before not in earlier.clauses or before in found.values():
            continue
        if not within or (number not in earlier.clauses and before not in later.clauses):
            found[number] = before
    taken = set(found.values())
    kept = [n for n in later.clauses if n in earlier.clauses and n not in found and n not in taken]
    return found | {number: number for number in kept}
