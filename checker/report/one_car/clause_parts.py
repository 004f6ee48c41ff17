"""Which parts of a clause a report lists: each limit, word or truth, with the entry it is about.

A check may combine others and go through a list. A reader wants the single things to put right, so the check and
what came of it are walked side by side, down to what has no parts of its own.
"""

from __future__ import annotations

from collections.abc import Iterator

from checker.kinds.contract.check import Check
from checker.kinds.frame.frame import ORDER
from checker.kinds.frame.framed import Framed
from checker.kinds.judging.assessment import Assessment
from checker.quantities.formula.expression import Expression
from checker.reading.quick_dataclasses import dataclass
from checker.report.one_car.identity import CONCERNING


@dataclass(frozen=True, slots=True)
class JudgedPart:
    """One check without parts, and what came of it."""

    item: str
    """The entry it is about; "" where it is about the car."""
    check: Check
    assessment: Assessment
    frame: tuple[tuple[str, Expression], ...] = ()
    """Formulas of all that stands round it: guards, choices, and names made for it; each with its key."""


def parts(check: Check, assessment: Assessment) -> Iterator[JudgedPart]:
    """Everything that a check looked at, one by one, in the order written."""
    return _leaves(JudgedPart("", check, assessment), concerning_only=False)


def concerning(check: Check, assessment: Assessment) -> Iterator[JudgedPart]:
    """The parts that keep a clause from being met.

    What is met has no say, and nor has a branch that is not met of a check that is met as a whole.
    """
    if assessment.outcome not in CONCERNING:
        return iter(())
    return _leaves(JudgedPart("", check, assessment), concerning_only=True)


def _leaves(part: JudgedPart, *, concerning_only: bool) -> Iterator[JudgedPart]:
    below = list(_below(part))
    if concerning_only:
        below = [one for one in below if one.assessment.outcome in CONCERNING]
    if not below:
        yield part
    for one in below:
        yield from _leaves(one, concerning_only=concerning_only)


def _below(part: JudgedPart) -> Iterator[JudgedPart]:
    """The checks that a check is made of, each with its own assessment."""
    check, found = part.check, part.assessment
    if isinstance(check, Framed):
        frame = (*part.frame, *((role, one) for role, one in check.expressions() if role != ORDER))
        if check.many is None:
            yield JudgedPart(part.item, check.check, found, frame)
        else:
            yield from (JudgedPart(branch.item, check.check, branch, frame) for branch in found.branches)
    elif not check.turns_margin and len(check.branches()) == len(found.branches):
        pairs = zip(check.branches(), found.branches, strict=True)
        yield from (JudgedPart(part.item, branch, its, part.frame) for branch, its in pairs)
