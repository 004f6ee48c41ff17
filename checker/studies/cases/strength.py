"""How strong a pack's cases are: would they notice a slip of the pen anywhere in the rules?"""

from __future__ import annotations

from collections.abc import Sequence

from checker.pack.editions.edition import Edition
from checker.pack.editions.loading import clauses_of
from checker.pack.model import Clause, Pack
from checker.reading.problems import InputError, Span
from checker.reading.quick_dataclasses import dataclass, field, replace
from checker.studies.cases.mutations import Mutation, mutations_of
from checker.studies.cases.other_slips import other_slips
from checker.studies.cases.running import Run, difference, judge


@dataclass(slots=True)
class Strength:
    """What became of every mutation that still makes a pack."""

    noticed: dict[tuple[str, Span], bool] = field(default_factory=dict)
    """By what was changed and where."""

    @property
    def total(self) -> int:
        return len(self.noticed)

    @property
    def count(self) -> int:
        """How many some case notices."""
        return sum(self.noticed.values())

    @property
    def unnoticed(self) -> list[tuple[str, Span]]:
        """What was changed, and where, that no case notices; in the order of the rulebook."""
        return [key for key, seen in self.noticed.items() if not seen]


def strength_of(edition: Edition, runs: Sequence[Run]) -> Strength:
    """Change one thing after another and see whether a case that comes out notices.

    Args:
        edition: The edition; every part of its text on its first day counts.
        runs: Its cases, judged.
    """
    first = edition.pack_on(edition.head.first)
    groups: dict[int, list[Run]] = {id(first.document): []}
    packs = {id(first.document): first}
    for run in runs:
        if run.came_out and run.pack is not None:
            groups.setdefault(id(run.pack.document), []).append(run)
            packs.setdefault(id(run.pack.document), run.pack)
    strength = Strength()
    for key, group in groups.items():
        by_clause = _by_clause(group)
        for mutation in mutations_of(packs[key]):
            _try(strength, mutation, packs[key], by_clause)
    for words, span, noticed in other_slips(edition, runs):
        strength.noticed[words, span] = noticed
    return strength


def _by_clause(runs: Sequence[Run]) -> dict[str, list[Run]]:
    """The cases that look at each clause; those that look at least come first, for they were written for it."""
    found: dict[str, list[Run]] = {}
    for run in sorted(runs, key=lambda run: len(run.outcomes)):
        for number in run.outcomes:
            found.setdefault(number, []).append(run)
    return found


def _try(strength: Strength, mutation: Mutation, pack: Pack, by_clause: dict[str, list[Run]]) -> None:
    key = (mutation.words, mutation.span)
    if strength.noticed.get(key):
        return
    try:
        document = pack.document.edited(mutation.changes, "PK799")
        changed = clauses_of(pack, document, mutation.clauses)
    except InputError:
        return  # such a slip is found when the pack is read
    strength.noticed[key] = any(
        _notices(run, number, changed) for number in mutation.clauses for run in by_clause.get(number, ())
    )


def _notices(run: Run, number: str, changed: dict[str, Clause]) -> bool:
    assert run.pack is not None
    assert run.car is not None
    pack = replace(run.pack, clauses={**run.pack.clauses, **changed})
    outcome = judge(pack, run.car, run.case, number)
    expected = next(one for one in run.case.expectations if one.clause == number)
    return difference(run.case, expected, outcome, pack.vocabulary.currency) is not None
