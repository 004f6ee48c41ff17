"""The count of `at_least_of` and `at_most_of`: reading it, and comparing it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from checker.kinds.comparing.changes import compare_bounds
from checker.kinds.judging.bounds import BoundExpression
from checker.kinds.judging.check import Comparison
from checker.quantities.formula.compiling import constant_number

if TYPE_CHECKING:
    from checker.kinds.reading.reader import CheckReader


def read_count(reader: CheckReader, key: str) -> int | None:
    """The count under `key`, a whole number of 0 or more; None when it is none (the problem is noted)."""
    given = reader.get(key)
    hint = f"{key}: {{count: 2, of: [first check, second check]}}"
    if not isinstance(given, dict):
        reader.problem(501, f"`{key}` needs `count` and `of`", key, hint=hint)
        return None
    for extra in given:
        if extra not in ("count", "of"):
            reader.key_problem(101, f"'{extra}' is not a key of `{key}`", key, extra, hint=hint)
            return None
    if "count" not in given or "of" not in given:
        reader.problem(501, f"`{key}` needs `count` and `of`", key, hint=hint)
        return None
    count = given["count"]
    if isinstance(count, bool) or not isinstance(count, int) or count < 0:
        reader.problem(302, "`count` is a whole number of 0 or more", key, "count")
        return None
    return count


def compare_counts(older: int, newer: int, sense: str) -> list[Comparison]:
    """A count of branches that rose or fell."""
    old, new = constant_number(older), constant_number(newer)
    return compare_bounds([BoundExpression(sense, old)], [BoundExpression(sense, new)])
