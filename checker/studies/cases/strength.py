"""How strong a pack's cases are: would they notice a slip of the pen anywhere in the rules?"""

from __future__ import annotations

from collections.abc import Sequence

from checker.pack.editions.edition import Edition
from checker.pack.editions.loading import read_again
from checker.pack.model import Pack
from checker.reading.problems import InputError
from checker.reading.quick_dataclasses import replace
from checker.studies.cases.coverage import Count, CoverageItem
from checker.studies.cases.mutations import Mutation, mutations_of
from checker.studies.cases.noticing import CaseAsked, Question, is_noticed, questions
from checker.studies.cases.other_slips import other_slips
from checker.studies.cases.running import Run


def strength_of(edition: Edition, runs: Sequence[Run]) -> Count:
    """Change one thing after another and see whether a case that comes out notices: of every change that still makes a
    pack.

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
    strength = Count()
    for key, group in groups.items():
        by_clause = _by_clause(group)
        for mutation in mutations_of(packs[key]):
            _try(strength, mutation, packs[key], by_clause)
    for words, span, noticed in other_slips(edition, runs):
        strength.every[CoverageItem(words, span)] = noticed
    return strength


def _by_clause(runs: Sequence[Run]) -> dict[str, list[Question]]:
    """What is asked of each clause, those nearest to its limit first; of the others those that ask least come first,
    for they were written for it."""
    found: dict[str, list[Question]] = {}
    for run in sorted(runs, key=lambda run: len(run.outcomes)):
        for question in questions(run):
            found.setdefault(question.expected.clause, []).append(question)
    return {number: sorted(asked, key=lambda one: one.distance) for number, asked in found.items()}


def _try(strength: Count, mutation: Mutation, pack: Pack, by_clause: dict[str, list[Question]]) -> None:
    key = CoverageItem(mutation.words, mutation.span)
    if strength.every.get(key):
        return
    try:
        document = pack.document.edited(mutation.changes, "PK799")
        clauses, scope = read_again(pack, document, mutation.clauses)
    except InputError:
        return  # such a slip is found when the pack is read
    changed: dict[int, Pack] = {}

    def slipped(sound: Pack) -> Pack:
        """The pack of a case with the slip in it; cases of the same day have the same."""
        if id(sound) not in changed:
            changed[id(sound)] = replace(sound, clauses={**sound.clauses, **clauses}, scope=scope)
        return changed[id(sound)]

    strength.every[key] = is_noticed(
        CaseAsked(question, slipped(question.run.pack))
        for number in mutation.clauses
        for question in by_clause.get(number, ())
        if question.run.pack is not None
    )
