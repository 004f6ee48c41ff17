"""How two limits differ, and which way a limit goes when something beneath it moves."""

from __future__ import annotations

from checker.kinds.comparing.changes import compare_bounds, compare_formulas, compare_moving, compare_text
from checker.kinds.comparing.comparison import SAME, Comparison, together
from checker.kinds.comparing.meaning import same_meaning
from checker.kinds.comparing.monotonic import NOT_AT_ALL, Way, both, difference
from checker.kinds.contract.check import Depends
from checker.kinds.limiting.limited import Limited
from checker.quantities.formula.expression import Expression
from checker.quantities.sense import WRITTEN, Sense


def compare_limits(older: Limited, newer: Limited) -> Comparison:
    """What came of a limit: its quantity, bounds, tolerance, rounding and what counts of several values."""
    rounded = same_meaning(_step(older), _step(newer)) and _mode(older) == _mode(newer)
    return together(
        [
            compare_formulas("what is limited", older.limit, newer.limit),
            *compare_bounds(older.bounds, newer.bounds),
            _tolerances(older.tolerance, newer.tolerance),
            SAME if rounded else compare_text("rounding", _rounding_text(older), _rounding_text(newer)),
            compare_text("of several", older.of_several, newer.of_several),
        ]
    )


def _tolerances(older: Expression | None, newer: Expression | None) -> Comparison:
    """A tolerance that grew relaxes; none is as one of nothing."""
    given = [one for one in (older, newer) if one is not None]
    if all(one.constant and one.value == 0 for one in given):
        return SAME
    if older is None or newer is None:
        gone = newer is None
        words = f"tolerance {given[0].text} is {'gone' if gone else 'new'}"
        return Comparison("tightened" if gone else "relaxed", (words,))
    return compare_moving(
        f"tolerance {older.text} becomes {newer.text}", older, newer, rising_is_tighter=False
    )


def _step(check: Limited) -> Expression | None:
    return None if check.rounding is None else check.rounding[0]


def _mode(check: Limited) -> str:
    return "" if check.rounding is None else check.rounding[1]


def _rounding_text(check: Limited) -> str:
    return "" if check.rounding is None else f"{check.rounding[1]} to {check.rounding[0].text}"


def moves_with(limited: Limited, depends: Depends) -> Way | None:
    """How the margin moves as something beneath rises; None where it cannot be told."""
    limit = depends(limited.limit)
    found: Way | None = Way(NOT_AT_ALL)
    for role, expression in limited.expressions():
        bound = depends(expression)
        if expression is limited.limit or (bound == Way(NOT_AT_ALL) and limit == Way(NOT_AT_ALL)):
            continue
        sense = Sense(role) if role in WRITTEN else None
        if bound is None or limit is None or sense is None or not (sense.is_lower or sense.is_upper):
            return None
        apart = difference(limit, bound) if sense.is_lower else difference(bound, limit)
        found = both(found, apart)
    return found
