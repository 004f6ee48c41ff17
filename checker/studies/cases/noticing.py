"""Whether a pack's cases would notice that something in it is otherwise: the first that says otherwise settles it.

Of a clause that is judged in many conditions floats that know their own error are asked first, and the exact engine for
what they leave open and for margins. Of any other the engine is asked alone: what floats save there is less than what
it costs to write a function for each slip.
"""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction
from typing import NamedTuple

from checker.car.described.vocabulary import ENTRANT
from checker.pack.model import Pack
from checker.reading.quick_dataclasses import dataclass
from checker.studies.cases.casebook import Expectation
from checker.studies.cases.running import Run, difference, judge
from checker.verdict.filtered import cleared


@dataclass(frozen=True, slots=True)
class Question:
    """One clause of one case that came out, to be asked by another pack."""

    run: Run
    expected: Expectation

    def differs(self, pack: Pack) -> bool | None:
        """Whether a pack says otherwise, as far as floats tell; None: they are not asked, or do not tell."""
        car, number = self.run.car, self.expected.clause
        if car is None:
            return False
        if number not in pack.clauses:
            return True
        if not any(check.conditions for check in pack.clauses[number].checks):
            return None
        told = cleared(pack, car, self.run.case.on, ENTRANT, exact=True, only=(number,)).get(number)
        if told is not None and told != self.expected.outcome:
            return True
        return None if told is None or self.expected.margin is not None else False

    def differs_exactly(self, pack: Pack) -> bool:
        """Whether a pack says otherwise."""
        assert self.run.car is not None, "floats tell of a case without a car"
        outcome = judge(pack, self.run.car, self.run.case, self.expected.clause)
        return difference(self.run.case, self.expected, outcome, pack.vocabulary.currency) is not None

    @property
    def distance(self) -> tuple[int, Fraction]:
        """How near the case is to the limit, the nearest first; those without a margin come last."""
        margin = self.run.outcomes[self.expected.clause].assessment.margin
        return (1, Fraction(0)) if margin is None else (0, abs(margin.value))


class CaseAsked(NamedTuple):
    """A question and the pack that it is asked by."""

    question: Question
    pack: Pack


def questions(run: Run) -> list[Question]:
    """What a case asks."""
    return [Question(run, expected) for expected in run.case.expectations if expected.clause in run.outcomes]


def is_noticed(asked: Iterable[CaseAsked]) -> bool:
    """Whether any of these is answered otherwise than expected."""
    left: list[CaseAsked] = []
    for question, pack in asked:
        differs = question.differs(pack)
        if differs:
            return True
        if differs is None:
            left.append(CaseAsked(question, pack))
    return any(question.differs_exactly(pack) for question, pack in left)
