"""How two combinations differ: their branches, in whatever order, and their counts."""

from __future__ import annotations

from collections.abc import Sequence

from checker.kinds.comparing.changes import compare_bounds
from checker.kinds.comparing.comparison import Comparison, together
from checker.kinds.comparing.meaning import meaning
from checker.kinds.contract.check import Check
from checker.kinds.frame.framed import compare_checks
from checker.kinds.judging.bounds import BoundExpression
from checker.quantities.formula.compiling import constant_number
from checker.quantities.sense import Sense


def compare_branches(older: Sequence[Check], newer: Sequence[Check], more_is_tighter: bool) -> Comparison:
    """Branches in whatever order: each against its like, then what came or went."""
    gone, extra = list(older), list(newer)
    found: list[Comparison] = []
    for alike in (_same, _same_subject, _same_kind):
        for new in list(extra):
            old = next((one for one in gone if alike(one, new)), None)
            if old is not None:
                gone.remove(old)
                extra.remove(new)
                found.append(compare_checks(new, old))
    more, less = ("tightened", "relaxed") if more_is_tighter else ("relaxed", "tightened")
    found.extend(Comparison(more, (f"{one.sentence()} is new",)) for one in extra)
    found.extend(Comparison(less, (f"{one.sentence()} is gone",)) for one in gone)
    return together(found)


def _same(older: Check, newer: Check) -> bool:
    return older.kind == newer.kind and compare_checks(newer, older).change == "same"


def _same_subject(older: Check, newer: Check) -> bool:
    """Whether both speak of the same thing."""
    subjects = ([meaning(one) for one in check.subject()] for check in (older, newer))
    return older.kind == newer.kind and next(subjects) == next(subjects)


def _same_kind(older: Check, newer: Check) -> bool:
    return older.kind == newer.kind


def compare_counts(older: int, newer: int, sense: Sense) -> list[Comparison]:
    """A count of branches that rose or fell."""
    old, new = constant_number(older), constant_number(newer)
    return compare_bounds([BoundExpression(sense, old)], [BoundExpression(sense, new)])


def reversed_comparison(comparison: Comparison) -> Comparison:
    """What makes a branch easier to meet makes it harder to meet none: the other way round, for the whole."""
    swap = {"tightened": "relaxed", "relaxed": "tightened"}
    return Comparison(swap.get(comparison.change, comparison.change), comparison.words, comparison.by)
