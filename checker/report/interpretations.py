"""Members' questions about clauses and the club's answers, as data and in words."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from checker.pack.model import Clause, Interpretation, Pack
from checker.report.amounts import Data


def interpretation_data(one: Interpretation) -> Data:
    """A question about a clause and its answer; null where there is none yet."""
    return {
        "number": one.number,
        "question": one.question,
        "asked": one.asked.isoformat(),
        "answer": one.answer or None,
        "decided": None if one.decided is None else one.decided.isoformat(),
        "by": one.by or None,
    }


def interpretation_lines(listed: Iterable[Data]) -> Iterator[tuple[str, str]]:
    """Answers, and questions that are open, each with its label."""
    for one in listed:
        if one["answer"] is None:
            yield "open", f"{one['number']}, asked {one['asked']}: {one['question']}"
        else:
            yield "note", f"{one['number']}, {one['by']}, {one['decided']}: {one['answer']}"


def lines_of(clause: Clause) -> Iterator[tuple[str, str]]:
    """The same for a clause of a pack."""
    yield from interpretation_lines(map(interpretation_data, clause.interpretations))


def open_questions(pack: Pack) -> list[Interpretation]:
    """Every question that is open on the pack's day, in the order of their numbers' clauses."""
    found = {
        one.number: one
        for clause in pack.clauses.values()
        for one in clause.interpretations
        if one.decided is None
    }
    return list(found.values())
